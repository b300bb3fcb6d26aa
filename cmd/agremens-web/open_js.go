package main

import (
	"runtime/debug"
	"strings"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/shelf"
	"agremens/game/studio"
	"agremens/realize/codec"
	"agremens/realize/words"
	"agremens/web/dom"
)

// scoresHost is what the menu of passages asks of the program.
type scoresHost interface {
	OnDesk() *desk.Desk
	Open(id string)
	OpenFiles(files []studio.File)
	OpenPart(part string)
	OnShelf() []shelf.Item
	Read() (about string, warnings, notDrawn []string, parts []codec.Choice)
	Say(string)
}

// mostInMenu is how many kept passages stand in the menu.
const mostInMenu = 24

// scores is what brings a passage: the menu, files and the parts of one.
type scores struct {
	words *words.Catalogue
	host  scoresHost
}

func newScores(c *words.Catalogue, h scoresHost, recording func([]dom.File) bool) *scores {
	s := &scores{c, h}
	dom.OnChange("passages", func() {
		dom.CloseSheet("bring")
		h.Open(dom.Value("passages"))
	})
	open := func(files []dom.File) {
		dom.CloseSheet("bring")
		var all []studio.File
		for _, f := range files {
			all = append(all, studio.File{Name: f.Name, Data: f.Data, Err: f.Err})
		}
		sparing(func() { h.OpenFiles(all) })
	}
	dom.OnFiles("open", open)
	dom.OnDrop(func(files []dom.File) {
		if !recording(files) {
			open(files)
		}
	})
	dom.OnChange("part", func() { dom.CloseSheet("bring"); sparing(func() { h.OpenPart(dom.Value("part")) }) })
	return s
}

// sparing opens a file. The program's memory never shrinks again: what 20 MB
// need for a moment is kept small, for a few per cent of the time.
func sparing(open func()) {
	defer debug.SetGCPercent(debug.SetGCPercent(50))
	open()
}

func (s *scores) show() {
	var passages []dom.Option
	for _, e := range assets.Passages() {
		passages = append(passages, dom.Option{Key: e.ID, Label: s.words.Say(e.Title)})
	}
	kept := s.host.OnShelf()
	kept = kept[max(len(kept)-mostInMenu, 0):] // the others are found by their words
	for i := range kept {
		it := &kept[len(kept)-1-i]
		passages = append(passages, dom.Option{Key: it.ID, Label: s.name(it), Group: s.words.Say("Your version")})
	}
	dom.SetOptions("passages", passages, s.host.OnDesk().ID)
	about, warnings, notDrawn, parts := s.host.Read()
	dom.SetText("about", about)
	dom.SetHidden("about", about == "")
	dom.SetHidden("warnings-title", len(warnings) == 0)
	dom.SetList("warnings", warnings)
	dom.SetHidden("not-drawn", len(notDrawn) == 0)
	dom.SetList("not-drawn-list", notDrawn)
	s.showParts(parts)
}

// name is how a kept passage is called in the menu.
func (s *scores) name(it *shelf.Item) string {
	if title, ok := strings.CutPrefix(it.Name, studio.TaskPrefix); ok && it.Kind == shelf.Task {
		return s.words.Say("Task: {title}", "{title}", orElse(title, s.words.Say("untitled")))
	}
	return it.Name
}

// showParts offers the parts of a file that has several, and which of them are
// the two hands.
func (s *scores) showParts(parts []codec.Choice) {
	dom.SetHidden("part-field", len(parts) < 2)
	var options []dom.Option
	chosen := ""
	for _, p := range parts {
		options = append(options, dom.Option{Key: p.ID, Label: p.Label})
		if p.Chosen {
			chosen = p.ID
		}
	}
	dom.SetOptions("part", options, chosen)
}
