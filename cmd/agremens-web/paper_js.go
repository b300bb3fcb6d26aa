package main

import (
	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/game/keep"
	"agremens/game/paper"
	"agremens/game/shelf"
	"agremens/realize"
	"agremens/realize/score"
	"agremens/realize/words"
	"agremens/web/dom"
)

// papersHost is what the form of a place on paper asks of the program.
type papersHost interface {
	OnDesk() *desk.Desk
	Own(shelf.Kind) (shelf.Item, []byte, bool)
	LayPaper(f *paper.Form, id string) error
	Listen()
	Unkept()
}

// papers is the form of a place on paper.
type papers struct {
	words *words.Catalogue
	staff *staff
	host  papersHost
	form  *paper.Form
}

func newPaper(c *words.Catalogue, s *staff, h papersHost) {
	saved, _, _ := dom.Load(keep.PaperKey)
	p := &papers{c, s, h, paper.Load(saved)}
	dom.OnClick("bring-paper", p.open)
	for _, f := range p.fields() {
		if f.Name != "sign" {
			dom.OnChange("paper-"+f.Name, func() { p.set(f.Name, paperValue(f)) })
		}
	}
	// Enter takes what was typed; the sheet stays.
	for _, name := range []string{"tempo", "name"} {
		dom.OnEnter("paper-"+name, func() { p.set(name, dom.Value("paper-"+name)) })
	}
	dom.OnClick("paper-higher", func() { p.move(1) })
	dom.OnClick("paper-lower", func() { p.move(-1) })
	dom.OnClick("paper-lay", func() { p.lay("") })
	dom.OnClick("paper-change", func() { p.lay(h.OnDesk().ID) })
	dom.OnClick("paper-listen", func() {
		if p.lay("") {
			h.Listen()
		}
	})
}

func (p *papers) fields() []paper.Field { return paper.Fields(p.staff.look.Notes, p.words) }

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

func (p *papers) set(name, value string) {
	p.form.Set(name, value)
	p.changed()
}

func (p *papers) move(by int) {
	p.form.Move(by)
	p.changed()
}

// changed keeps the form and shows what comes of it.
func (p *papers) changed() {
	if dom.Store(keep.PaperKey, p.form.Save()) != nil {
		p.host.Unkept()
	}
	p.show()
}

// open opens the form as it was last, or as the place on the desk was
// made.
func (p *papers) open() {
	_, data, ok := p.host.Own(shelf.Paper)
	if data != nil {
		p.form = paper.Load(string(data))
	}
	dom.SetHidden("paper-change", !ok)
	for _, f := range p.fields() {
		if len(f.Options) == 0 || isSwitch(f) || f.Name == "sign" {
			continue
		}
		var options []dom.Option
		for _, o := range f.Options {
			options = append(options, dom.Option{Key: o.Key, Label: o.Label, Group: o.Group})
		}
		dom.SetOptions("paper-"+f.Name, options, p.form.Get(f.Name))
	}
	p.show()
	dom.CloseSheet("bring")
	dom.OpenSheet("paper-sheet")
	dom.Focus("paper-listen")
}

// show brings the form up to date with what it holds.
func (p *papers) show() {
	for _, f := range p.fields() {
		switch id := "paper-" + f.Name; {
		case f.Name == "sign":
		case isSwitch(f):
			dom.SetChecked(id, p.form.Get(f.Name) != "")
		default:
			dom.SetValue(id, p.form.Get(f.Name))
		}
	}
	dom.SetAttr("paper-name", "placeholder", p.form.Title())
	showSigns(p.words, "paper-signs", []string{p.form.Get("sign")}, func(key string) { p.set("sign", key) })
	place, _, err := p.form.Passage()
	dom.SetDisabled("paper-lay", err != nil)
	dom.SetDisabled("paper-listen", err != nil)
	dom.SetDisabled("paper-change", err != nil)
	if err != nil {
		dom.SetText("paper-said", words.Sentence(p.words.Tell(err)))
		return
	}
	r := realize.Read(place, realize.Taste{Naming: p.staff.look.Notes, Words: p.words})
	dom.SetPicture("paper-staff", staffPicture(place, r, 0, len(place.Measures)))
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

// lay puts the place on the desk: as a new passage, or in place of the one
// with an id. It reports whether there was one to put there.
func (p *papers) lay(id string) bool {
	if _, _, err := p.form.Passage(); err != nil {
		dom.SetText("paper-said", words.Sentence(p.words.Tell(err)))
		return false
	}
	dom.CloseSheet("paper-sheet")
	return p.host.LayPaper(p.form, id) == nil
}
