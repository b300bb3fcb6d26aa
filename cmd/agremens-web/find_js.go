package main

import (
	"slices"
	"strconv"
	"strings"

	"agremens/assets"
	"agremens/game/class"
	"agremens/game/shelf"
	"agremens/realize/words"
	"agremens/web/dom"
)

// findHost is what looking for a piece asks of the program.
type findHost interface {
	OnShelf() []shelf.Item
	Class() *class.Class
	Worked(id string) (bars string, decided int)
	Open(id string)
}

// How many pieces are offered at once, before a word stands there and after.
const (
	mostLast  = 4
	mostFound = 12
)

// find offers, as one types, the pieces of which title, composer, file name or
// students match, the one used last first; before a word stands there, those
// used last.
type find struct {
	words *words.Catalogue
	host  findHost
	name  func(*shelf.Item) string // how a kept one is called
}

func newFind(c *words.Catalogue, h findHost, name func(*shelf.Item) string) {
	f := &find{c, h, name}
	dom.OnInput("piece-find", f.show)
	for _, id := range []string{"open-piece", "open-other"} {
		dom.OnClick(id, func() {
			dom.SetValue("piece-find", "")
			f.show()
		})
	}
}

func (f *find) show() {
	wanted, most := dom.Value("piece-find"), mostFound
	if wanted == "" {
		most = mostLast
	}
	var all []dom.Button
	students := f.host.Class().Students
	for _, it := range slices.Backward(f.host.OnShelf()) {
		label, of := f.name(&it), given(students, it.ID)
		if len(all) < most && (wanted == "" || shelf.Matches(wanted, label, it.Title, it.Composer, of)) {
			all = append(all, dom.Button{Key: it.ID, Label: label, Detail: f.about(&it, of)})
		}
	}
	for _, e := range assets.Passages() {
		if title := f.words.Say(e.Title); len(all) < most && shelf.Matches(wanted, title) {
			all = append(all, dom.Button{Key: e.ID, Label: title})
		}
	}
	dom.SetButtons("piece-found", all, func(id string) {
		dom.CloseSheet("bring")
		f.host.Open(id)
	})
}

// about says what is known of a kept piece: its music, for whom it is, what was
// done at it and when.
func (f *find) about(it *shelf.Item, of string) string {
	var parts []string
	if it.Kind == shelf.File && it.Title != it.Name {
		parts = append(parts, it.Title)
	}
	parts = append(parts, it.Composer, of)
	if bars, decided := f.host.Worked(it.ID); decided > 0 {
		parts = append(parts, f.words.Say("bars {bars}", "{bars}", strings.ReplaceAll(bars, "-", "–")), f.words.Say("{n} decided", "{n}", strconv.Itoa(decided)))
	}
	if it.Used > 0 {
		parts = append(parts, class.Used(it.Used, f.words))
	}
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), ", ")
}

// given names the students who were given the task that is kept under an id.
func given(students []*class.Student, id string) string {
	task, ok := strings.CutPrefix(id, class.TaskPrefix)
	if !ok {
		return ""
	}
	var names []string
	for _, s := range students {
		if s.Work(task) != nil && s.Name != "" {
			names = append(names, s.Name)
		}
	}
	return strings.Join(names, ", ")
}
