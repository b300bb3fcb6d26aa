package main

import (
	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/game/paper"
	"agremens/game/shelf"
	"agremens/realize"
	"agremens/realize/score"
	"agremens/web/dom"
)

// bindPaper connects the form of a place on paper.
func (a *app) bindPaper() {
	saved, _, _ := dom.Load(paperKey)
	a.paper = paper.Load(saved)
	dom.OnClick("bring-paper", a.openPaper)
	for _, f := range paper.Fields(a.look.Notes, a.words) {
		if f.Name != "sign" {
			dom.OnChange("paper-"+f.Name, func() { a.setPaper(f.Name, paperValue(f)) })
		}
	}
	// Enter takes what was typed; the sheet stays.
	for _, name := range []string{"tempo", "name"} {
		dom.OnEnter("paper-"+name, func() { a.setPaper(name, dom.Value("paper-"+name)) })
	}
	dom.OnClick("paper-higher", func() { a.movePaper(1) })
	dom.OnClick("paper-lower", func() { a.movePaper(-1) })
	dom.OnClick("paper-lay", func() { a.layPaper("") })
	dom.OnClick("paper-change", func() { a.layPaper(a.desk.ID) })
	dom.OnClick("paper-listen", func() {
		if a.layPaper("") {
			a.rounds.Listen()
		}
	})
}

// isSwitch reports whether a field is a box to tick.
func isSwitch(f paper.Field) bool { return len(f.Options) == 2 && f.Options[1].Key == "on" }

func paperValue(f paper.Field) string {
	id := "paper-" + f.Name
	switch {
	case !isSwitch(f):
		return dom.Value(id)
	case dom.Checked(id):
		return "on"
	}
	return ""
}

func (a *app) setPaper(name, value string) {
	a.paper.Set(name, value)
	a.changedPaper()
}

func (a *app) movePaper(by int) {
	a.paper.Move(by)
	a.changedPaper()
}

// changedPaper keeps the form and shows what comes of it.
func (a *app) changedPaper() {
	if dom.Store(paperKey, a.paper.Save()) != nil {
		a.unkept()
	}
	a.showPaper()
}

// openPaper opens the form as it was last, or as the place on the desk was
// made.
func (a *app) openPaper() {
	it, ok := a.shelf.Find(a.desk.ID)
	ok = ok && it.Kind == shelf.Paper
	if data, found := kept(it); ok && found {
		a.paper = paper.Load(string(data))
	}
	dom.SetHidden("paper-change", !ok)
	for _, f := range paper.Fields(a.look.Notes, a.words) {
		if len(f.Options) == 0 || isSwitch(f) || f.Name == "sign" {
			continue
		}
		var options []dom.Option
		for _, o := range f.Options {
			options = append(options, dom.Option{Key: o.Key, Label: o.Label, Group: o.Group})
		}
		dom.SetOptions("paper-"+f.Name, options, a.paper.Get(f.Name))
	}
	a.showPaper()
	dom.OpenSheet("paper-sheet")
	dom.Focus("paper-listen")
}

// showPaper brings the form up to date with what it holds.
func (a *app) showPaper() {
	for _, f := range paper.Fields(a.look.Notes, a.words) {
		switch id := "paper-" + f.Name; {
		case f.Name == "sign":
		case isSwitch(f):
			dom.SetChecked(id, a.paper.Get(f.Name) != "")
		default:
			dom.SetValue(id, a.paper.Get(f.Name))
		}
	}
	dom.SetAttr("paper-name", "placeholder", a.paper.Title())
	a.showSigns("paper-signs", []string{a.paper.Get("sign")}, func(key string) { a.setPaper("sign", key) })
	p, _, err := a.paper.Passage()
	dom.SetDisabled("paper-lay", err != nil)
	dom.SetDisabled("paper-listen", err != nil)
	dom.SetDisabled("paper-change", err != nil)
	if err != nil {
		dom.SetText("paper-said", sentence(a.words.Tell(err)))
		return
	}
	r := realize.Read(p, realize.Taste{Naming: a.look.Notes, Words: a.words})
	dom.SetPicture("paper-staff", staffPicture(p, r, 0, len(p.Measures)))
	said := ""
	if len(r.Ornaments) > 0 {
		c := r.Ornaments[0].Choices[r.Ornaments[0].Chosen]
		said = c.Name + ": " + desk.NotesInWords(&c)
	}
	dom.SetText("paper-said", said)
}

// staffPicture draws measures with the line as played.
func staffPicture(p *score.Passage, r *realize.Reading, from, to int) *dom.Picture {
	const width, unit = 76, 9 // staff spaces; pixels a space
	picture := picture(engrave.Page(p, r, width, engrave.Options{From: from, To: to, Played: true}))
	if picture != nil {
		picture.Unit = unit
	}
	return picture
}

// layPaper puts the place on the desk: as a new passage, or in place of the
// one with an id. It reports whether there was one to put there.
func (a *app) layPaper(id string) bool {
	p, note, err := a.paper.Passage()
	if err != nil {
		dom.SetText("paper-said", sentence(a.words.Tell(err)))
		return false
	}
	dom.CloseSheet("paper-sheet")
	a.hush()
	id = a.keepPassage(shelf.Item{ID: id, Kind: shelf.Paper, Name: p.Title}, []byte(a.paper.Save()))
	a.layAnew(id, p, nil)
	a.desk.SelectNote(note)
	a.changed()
	a.rounds.Ready()
	a.status(a.words.Say("{name} is open.", "{name}", p.Title))
	return true
}
