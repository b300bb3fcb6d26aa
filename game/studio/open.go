package studio

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/keep"
	"agremens/game/paper"
	"agremens/game/practice"
	"agremens/game/shelf"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/score"
)

// maxPacketFile bounds how much of a file is searched for tasks and reports.
const maxPacketFile = 256 << 10

// Scores opens passages and lays them on the desk.
type Scores struct{ studio *Studio }

// First opens the passage or task that the address names, else the one that
// lay on the desk last, else the first built-in one. It calls yield while it
// reads a long one.
func (o *Scores) First(query map[string]string, fragment string, yield func()) {
	saved, _, _ := o.studio.store.Load(keep.DeskKey)
	kind, _, _ := o.studio.store.Load(keep.KindKey)
	id := desk.SavedPassage(saved)
	asked, ok := query["passage"]
	if ok {
		id = asked
	}
	o.studio.page.Who()
	o.studio.page.Day()
	o.studio.offerKinds(nil)
	task := o.studio.OpenPackets(fragment) && o.studio.Desk != nil
	if !task && !o.open(id, yield) {
		if ok {
			o.studio.page.Say(o.studio.Words.Say("There is no passage “{name}”; this is the first built-in passage.", "{name}", asked))
		}
		o.openBuiltIn(assets.Passages()[0])
	}
	if saved != "" && desk.SavedPassage(saved) == o.studio.Desk.ID {
		decided, _ := o.studio.Passages.Away(o.studio.Desk.ID)
		o.studio.restore(o.studio.Desk, desk.WithDecisions(saved, decided), nil)
		o.studio.Passages.Begin(o.studio.Desk)
	}
	for _, said := range o.studio.Desk.Apply(query, Instruments()) {
		o.studio.page.Say(said)
	}
	o.takeKind(query, kind)
	o.studio.Changed()
	o.studio.Rounds.Ready()
}

// takeKind takes the kind of round that the address names, else the one kept;
// an address that asks for a round without naming a kind means the first.
func (o *Scores) takeKind(query map[string]string, kept string) {
	key, asked := query["kind"]
	if _, known := practice.Find(key); asked && !known {
		o.studio.page.Say(o.studio.Words.Say("There is no exercise “{name}”; the basic round was chosen.", "{name}", key))
	}
	if !asked && len(query) == 0 {
		key = kept
	}
	if slices.ContainsFunc(o.studio.offered, func(k practice.Kind) bool { return k.Key == key }) {
		o.studio.Rounds.Choose(key)
	}
}

// Open opens a built-in passage or one that is kept on the device, and says so
// where it is not.
func (o *Scores) Open(id string) {
	if id == o.studio.Desk.ID {
		return
	}
	o.studio.page.Hush()
	ok := o.open(id, o.studio.page.Breathe())
	o.studio.used()
	if !ok {
		o.studio.page.Say(o.studio.Words.Say("The browser no longer has this passage: please open it again."))
		o.studio.page.Show()
		return
	}
	o.studio.Rounds.Ready()
}

// open reports whether there was such a passage.
func (o *Scores) open(id string, yield func()) bool {
	for _, e := range assets.Passages() {
		if e.ID == id {
			return o.openBuiltIn(e)
		}
	}
	it, ok := o.studio.Passages.Shelf.Find(id)
	if !ok {
		return false
	}
	data, ok := o.studio.Passages.Data(it)
	if !ok {
		return false
	}
	switch it.Kind {
	case shelf.Task:
		return o.studio.openKeptTask(string(data))
	case shelf.Paper:
		p, _, err := paper.Load(string(data)).Passage()
		if err != nil {
			return false
		}
		o.lay(it.ID, p, nil, nil)
		return true
	case shelf.Typed:
		p, warnings, err := ReadTyped(string(data))
		if err != nil {
			return false
		}
		o.layScore(it.ID, it.Name, &codec.Score{Passage: p, Warnings: o.inLines(warnings)}, nil)
		return true
	}
	score, err := codec.OpenIn(o.studio.Words, data, it.Part, o.progress(it.Name, yield))
	if err != nil {
		return false
	}
	o.layFile(it.ID, it.Name, score, yield)
	o.studio.page.Status("")
	return true
}

func (o *Scores) openBuiltIn(e assets.Entry) bool {
	score, err := codec.Open([]byte(e.ABC), "", nil)
	if err != nil {
		o.studio.page.Say(codec.WordsIn(o.studio.Words, err))
		return false
	}
	score.Passage.Title = o.studio.Words.Say(e.Title)
	o.layScore(e.ID, score.Passage.Title, score, nil)
	return true
}

// OpenFile reads a file that the user chose: a score, of which part names the
// part that is wanted, or tasks and reports. On an error the passage on the
// desk stays.
func (o *Scores) OpenFile(name string, data []byte, part string) {
	o.studio.page.Hush()
	o.studio.page.Status(o.studio.Words.Say("Opening {name} …", "{name}", name))
	o.studio.page.Turn()
	if o.studio.OpenPackets(string(data[:min(len(data), maxPacketFile)])) {
		o.studio.page.Status("")
		return
	}
	breathe := o.studio.page.Breathe()
	score, err := codec.OpenIn(o.studio.Words, data, part, o.progress(name, breathe))
	if err != nil {
		o.studio.page.Status("")
		o.studio.page.Say(o.studio.Words.Say("“{name}” could not be opened.", "{name}", name) + codec.WordsIn(o.studio.Words, err))
		return
	}
	o.layFile(o.studio.keepPassage(shelf.Item{Kind: shelf.File, Name: name, Part: part}, data), name, score, breathe)
	o.studio.used()
	o.studio.Rounds.Ready()
	o.studio.page.Status(o.studio.Words.Say("{name} is open.", "{name}", name))
}

// OpenPart opens another part of the file on the desk.
func (o *Scores) OpenPart(part string) {
	it, data, ok := o.studio.Own(shelf.File)
	if !ok {
		return
	}
	if data == nil {
		o.studio.page.Say(o.studio.Words.Say("The browser no longer has this file: please open it again."))
		return
	}
	o.OpenFile(it.Name, data, part)
}

// Read is what was found in the file on the desk, what was said while it was
// read, and its parts, where it has several.
func (o *Scores) Read() (about string, warnings, notDrawn []string, parts []codec.Choice) {
	return o.studio.About, o.studio.Warnings, o.studio.NotDrawn, o.studio.Parts
}

// progress says how much of a score is read, and yields. Every tenth is enough
// for whoever hears the words.
func (o *Scores) progress(name string, yield func()) func(done float64) {
	said := 0
	return func(done float64) {
		if tenth := int(10 * done); tenth > said {
			said = tenth
			o.studio.page.Status(o.studio.Words.Say("Opening {name} … {n} %", "{name}", name, "{n}", strconv.Itoa(10*tenth)))
		}
		yield()
	}
}

// layScore puts an opened score on the desk, under its name where it has no
// title.
func (o *Scores) layScore(id, name string, score *codec.Score, yield func()) {
	if score.Passage.Title == "" {
		score.Passage.Title = strings.TrimSuffix(name, filepath.Ext(name))
	}
	o.lay(id, score.Passage, score.Warnings, yield)
	o.studio.Parts = score.Choices(o.studio.Words)
	for _, n := range score.NotDrawn {
		o.studio.NotDrawn = append(o.studio.NotDrawn, n.In(o.studio.Words))
	}
	o.studio.page.Show()
}

// layFile is layScore for a file, of which it says what was found.
func (o *Scores) layFile(id, name string, score *codec.Score, yield func()) {
	o.layScore(id, name, score, yield)
	o.studio.About = codec.About(o.studio.Words, score, o.studio.Desk.Reading)
	o.studio.page.Show()
}

// lay puts a passage on the desk; what was sounding stops.
func (o *Scores) lay(id string, p *score.Passage, warnings []string, yield func()) {
	if o.studio.Homework != nil {
		o.studio.LeaveTask()
	}
	opened := desk.Open(id, p, realize.Taste{Rate: o.studio.Log.Rate(), Naming: o.studio.Naming, Words: o.studio.Words}, yield)
	o.studio.bringBack(opened, yield)
	o.studio.Rounds.Stop()
	before := o.studio.Desk
	if before != nil && before.ID != id {
		o.studio.putAway(before)
	}
	o.studio.put(opened)
	o.studio.Desk.TuneLike(before)
	o.studio.About, o.studio.Warnings, o.studio.NotDrawn, o.studio.Parts = "", warnings, nil, nil
	o.studio.page.Laid()
	o.studio.changed(yield)
}
