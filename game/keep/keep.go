// Package keep knows what stays on a device: the passages with their desks, and
// under which names. It is pure; the store is handed in.
package keep

import (
	"agremens/game/desk"
	"agremens/game/shelf"
)

// Store is a place for texts that outlast the program.
type Store interface {
	// Load returns a text; ok is false where there is none, err where nothing
	// can be read at all.
	Load(key string) (text string, ok bool, err error)
	// Save keeps a text. Where there is no room, or nothing may be kept, it
	// fails and what was there stays.
	Save(key, text string) error
	Forget(key string) error
	// Keys returns the keys that begin with a prefix, in any order.
	Keys(prefix string) []string
}

// Names in the store.
const (
	DeskKey    = "agremens.desk"          // what lies on the desk
	pastKey    = "agremens.desk."         // with a passage's id: its desk, in whichever window
	ShelfKey   = "agremens.shelf"         // the list of kept passages
	keptKey    = "agremens.kept."         // with an id: what an item of the list holds
	PaperKey   = "agremens.paper"         // the form of a place on paper, as it was last
	TypedKey   = "agremens.typed"         // the text that is being typed
	KindKey    = "agremens.kind"          // the kind of round that is chosen
	DayKey     = "agremens.day"           // where the ten minutes stand
	PageKey    = "agremens.page"          // whose page was open last: "student" or "desk"
	DiaryKey   = "agremens.diary"         // the log of practice
	DamagedKey = "agremens.diary.damaged" // one that could not be read
	BeforeKey  = "agremens.before"        // how ornaments were tapped on earlier days
	PlayerKey  = "agremens.player"        // name, a line end, the day it was last said
	DurableKey = "agremens.durable"       // the browser was asked to leave the store alone
	WishKey    = "agremens.wish"          // the teacher's words for the last task
	WishKinds  = "agremens.wishkind"      // and its kinds of round
	ReportsKey = "agremens.reports"       // reports as an earlier version kept them, a line each
	namesKey   = "agremens.class"         // the students' keys as an earlier version kept them

	goneKey           = "agremens.erased"   // which students were erased, without their names
	studentKey        = "agremens.class."   // with a student's key: all there is of her
	damagedStudentKey = "agremens.damaged." // the same, where some could not be read
)

// Passages are the passages kept on a device. Make one with [Open].
type Passages struct {
	Shelf shelf.Shelf
	store Store
	// before is, for each passage, its desk as this window read or kept it last.
	before map[string]string
}

// Open returns what is kept in a store.
func Open(s Store) *Passages {
	p := &Passages{store: s, before: map[string]string{}}
	p.Reread()
	return p
}

// Reread takes the list as it is kept now: another window may have changed it.
func (p *Passages) Reread() {
	text, _, _ := p.store.Load(ShelfKey)
	p.Shelf = shelf.Parse(text)
}

// Kept is what came of keeping a passage.
type Kept struct {
	ID      string
	Dropped []shelf.Item // what was taken away to make room
	// NoRoom says that the passage itself was not kept, Unlisted that the list
	// was not.
	NoRoom, Unlisted bool
}

// Keep puts what a passage was made of on the shelf. A file that is there
// already keeps its id, and with it what was decided. Where there is no room
// the oldest make some. It calls breathe, if any, while it works.
func (p *Passages) Keep(item shelf.Item, data []byte, breathe func()) Kept {
	text := pack(data, breathe)
	p.Reread()
	item.Size = len(text)
	if item.Kind == shelf.File {
		item.ID = p.known(item, text)
	}
	next, item, dropped := p.Shelf.Put(item)
	p.Shelf = next
	for _, it := range dropped {
		p.forget(it)
	}
	kept := Kept{ID: item.ID, Dropped: dropped}
	for p.store.Save(keptKey+item.ID, text) != nil {
		next, oldest, ok := p.Shelf.DropOldest()
		if !ok {
			p.Shelf = p.Shelf.Without(item.ID)
			_ = p.store.Forget(keptKey + item.ID)
			kept.NoRoom = true
			break
		}
		p.Shelf = next
		p.forget(oldest)
		kept.Dropped = append(kept.Dropped, oldest)
	}
	kept.Unlisted = p.store.Save(ShelfKey, p.Shelf.Text()) != nil
	return kept
}

// known returns the id of a file that is on the shelf with the same contents,
// "" for none.
func (p *Passages) known(item shelf.Item, text string) string {
	for _, it := range p.Shelf.Items {
		if !it.Same(item) {
			continue
		}
		if old, _, _ := p.store.Load(keptKey + it.ID); old == text {
			return it.ID
		}
	}
	return ""
}

// Use notes that an item of the list was opened on a day, since 1970, and what
// music it is; where that cannot be kept it stays where it was.
func (p *Passages) Use(id, title, composer string, day int) {
	p.Reread()
	if it, ok := p.Shelf.Find(id); ok {
		it.Title, it.Composer, it.Used = title, composer, day
		p.Shelf, _, _ = p.Shelf.Put(it)
		_ = p.store.Save(ShelfKey, p.Shelf.Text())
	}
}

// Data returns what an item of the shelf holds.
func (p *Passages) Data(it shelf.Item) ([]byte, bool) {
	text, ok, err := p.store.Load(keptKey + it.ID)
	if !ok || err != nil {
		return nil, false
	}
	return unpack(text)
}

func (p *Passages) forget(it shelf.Item) {
	_ = p.store.Forget(keptKey + it.ID)
	p.ForgetDesk(it.ID)
}

// KeepDesk keeps the desk of a passage, joined with what another window has
// decided there meanwhile.
func (p *Passages) KeepDesk(d *desk.Desk) error {
	mine := d.Save()
	stored, _, _ := p.store.Load(pastKey + d.ID)
	err := p.store.Save(pastKey+d.ID, desk.Merge(p.before[d.ID], mine, stored))
	p.before[d.ID] = mine
	return err
}

// Begin notes what a desk is before anything is decided in this window.
func (p *Passages) Begin(d *desk.Desk) { p.before[d.ID] = d.Save() }

// Away returns the desk of a passage as it was kept last, in whichever window.
func (p *Passages) Away(id string) (saved string, ok bool) {
	saved, ok, _ = p.store.Load(pastKey + id)
	return saved, ok
}

// ForgetDesk forgets what was set at a passage.
func (p *Passages) ForgetDesk(id string) {
	_ = p.store.Forget(pastKey + id)
	delete(p.before, id)
}
