package studio

import (
	"strings"

	"agremens/game/desk"
	"agremens/game/keep"
	"agremens/game/shelf"
)

// Keep keeps the desk, so that a reload at any moment finds it.
func (s *Studio) Keep() {
	if s.store.Save(keep.DeskKey, s.Desk.Save()) != nil || s.Passages.KeepDesk(s.Desk) != nil {
		s.Unkept()
	}
}

// Unkept says once that nothing more can be kept.
func (s *Studio) Unkept() {
	if !s.unkept {
		s.unkept = true
		s.page.Say(s.Words.Say("This browser can save nothing more for this page (its storage is full or switched off): your settings are lost when you close it. Save important work as a file, under Send."))
	}
}

// putAway keeps the desk of a passage that makes room for another.
func (s *Studio) putAway(d *desk.Desk) {
	if d != nil && s.Passages.KeepDesk(d) != nil {
		s.Unkept()
	}
}

// bringBack makes the desk of a passage what it was when it was put away.
func (s *Studio) bringBack(d *desk.Desk, yield func()) {
	if saved, ok := s.Passages.Away(d.ID); ok {
		s.restore(d, saved, yield)
	}
	s.Passages.Begin(d)
}

// restore brings a saved desk back. The notes a second are those of who plays
// now, where they are known and the task does not say.
func (s *Studio) restore(d *desk.Desk, saved string, yield func()) {
	rate := 0.0
	if p, ok := s.Log.Diary.Player(s.Log.Player); ok && s.Homework == nil {
		rate = p.Rate
	}
	d.RestoreFor(rate, saved, yield)
}

// keepPassage puts what a passage was made of on the shelf and returns its id.
// What there is no room for is said.
func (s *Studio) keepPassage(item shelf.Item, data []byte) string {
	kept := s.Passages.Keep(item, data, s.page.Breathe())
	if kept.NoRoom {
		s.page.Say(s.Words.Say("“{name}” is open, but this browser has no room to save it: after a reload you will have to open it again.", "{name}", item.Name))
		return kept.ID
	}
	if kept.Unlisted {
		s.Unkept()
	}
	if len(kept.Dropped) > 0 {
		var names []string
		for _, it := range kept.Dropped {
			names = append(names, s.Words.Say("“{name}”", "{name}", it.Name))
		}
		s.page.Say(s.Words.Say("To make room on this device these were removed: {names}.", "{names}", strings.Join(names, ", ")))
	}
	return kept.ID
}

// used notes that what lies on the desk was opened today, so that it is found
// by its music and by when.
func (s *Studio) used() {
	if d := s.Desk; d != nil {
		s.Passages.Use(d.ID, d.Passage.Title, d.Passage.Composer, s.Today.date())
	}
}

// Own returns the item of the shelf that lies on the desk, if it is of a kind,
// and what it holds, nil where that is lost.
func (s *Studio) Own(kind shelf.Kind) (it shelf.Item, data []byte, ok bool) {
	it, ok = s.Passages.Shelf.Find(s.Desk.ID)
	if !ok || it.Kind != kind {
		return shelf.Item{}, nil, false
	}
	data, _ = s.Passages.Data(it)
	return it, data, true
}

// OnShelf are the passages kept on the device, the one used longest ago first.
func (s *Studio) OnShelf() []shelf.Item { return s.Passages.Shelf.Items }

// Worked returns what was done at a kept passage: the bars that are chosen and
// how many signs are decided.
func (s *Studio) Worked(id string) (bars string, decided int) {
	saved, _ := s.Passages.Away(id)
	return desk.SavedWork(saved)
}

// Elsewhere takes over what another window of this device has kept under a
// key of the store.
func (s *Studio) Elsewhere(key string) {
	if key == keep.ShelfKey && s.Desk != nil {
		s.Passages.Reread()
		s.page.Show()
	}
}
