package main

import (
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/realize"
	"agremens/realize/words"
	"agremens/web/dom"
)

// How fast an ornament is heard by itself, per cent of the goal tempo.
const (
	atTempo = 100
	slowly  = 50
)

// fewWays is how many ways to play a sign are offered at first.
const fewWays = 3

// panelHost is what the words around the staff ask of the program.
type panelHost interface {
	OnDesk() *desk.Desk
	OnTask() bool
	MayChoose() bool
	Decided()
	Selected()
	Reveal()
	Hush()
	Hear(percent float64)
}

// panel is the title, the chosen sign and its choices.
type panel struct {
	words *words.Catalogue
	staff *staff
	host  panelHost

	// Pictures of the chosen sign and its choices, drawn once.
	reading  *realize.Reading
	ornament string
	choices  []*dom.Picture
	all      bool // every way to play it is offered
}

func newPanel(c *words.Catalogue, s *staff, h panelHost) *panel {
	p := &panel{words: c, staff: s, host: h}
	dom.OnClick("message-close", h.Hush)
	dom.OnClick("prev-sign", func() { p.step(-1) })
	dom.OnClick("next-sign", func() { p.step(1) })
	dom.OnClick("hear", func() { h.Hear(atTempo) })
	dom.OnClick("hear-slowly", func() { h.Hear(slowly) })
	return p
}

func (p *panel) step(n int) {
	p.host.OnDesk().Step(n)
	p.host.Reveal()
	p.host.Selected()
}

// forget forgets the pictures of another passage.
func (p *panel) forget() { p.reading, p.ornament, p.choices = nil, "", nil }

func (p *panel) show() {
	d := p.host.OnDesk()
	dom.SetText("title-text", orElse(d.Passage.Title, p.words.Say("Untitled")))
	if !p.host.OnTask() { // the student's page says other things there
		dom.SetText("composer-text", p.byline())
	}
	w, ok := d.Sign()
	none := len(d.Inside()) == 0
	dom.SetDisabled("prev-sign", none)
	dom.SetDisabled("next-sign", none)
	if ok {
		p.showSign(w)
	} else {
		p.showNone()
	}
	dom.SetText("sign-more", p.more(len(d.Reading.Questions)))
	dom.SetText("staff-text", d.InWords())
}

// more names the button that tells the rest.
func (p *panel) more(questions int) string {
	if questions > 0 {
		return p.words.Count(questions, "{n} question, why, fingers", "{n} questions, why, fingers")
	}
	return p.words.Say("Why, fingers, names")
}

func (p *panel) byline() string {
	passage := p.host.OnDesk().Passage
	var parts []string
	if passage.Composer != "" {
		parts = append(parts, passage.Composer)
	}
	if passage.Year != 0 {
		parts = append(parts, strconv.Itoa(passage.Year))
	}
	for _, t := range realize.Traditions() {
		if t.Key == p.host.OnDesk().Reading.Tradition {
			parts = append(parts, p.words.Say("read as {tradition}", "{tradition}", p.words.Say(t.Name)))
		}
	}
	return strings.Join(parts, " · ")
}

func (p *panel) showNone() {
	name := p.words.Say("No ornament in these bars")
	if note := p.host.OnDesk().NoteWords(); note != "" {
		name = p.words.Say("{note}: no sign", "{note}", note)
	}
	dom.SetText("sign-name", name)
	for _, id := range []string{"sign-notes", "sign-fingers", "sign-why", "sign-because", "sign-sources"} {
		dom.SetText(id, "")
	}
	dom.SetPicture("sign-picture", nil)
	p.forget()
	dom.SetButtons("choices", nil, nil)
}

func (p *panel) showSign(w desk.SignWords) {
	d := p.host.OnDesk()
	dom.SetText("sign-name", w.Heading)
	dom.SetText("sign-notes", w.Notes)
	fingers := ""
	if f := d.Fingers(); f != "" && !p.staff.look.NoFingers {
		fingers = p.words.Say("Fingers {fingers}", "{fingers}", f)
		if d.TaughtFingers() {
			fingers = p.words.Say("Your teacher's fingers: {fingers}", "{fingers}", f)
		}
	}
	dom.SetText("sign-fingers", fingers)
	p.draw()
	first, rest := desk.FirstSentence(w.Why)
	for _, notice := range w.Notices {
		rest += " " + p.words.Say("Note: {notice}", "{notice}", notice)
	}
	dom.SetText("sign-why", first)
	dom.SetText("sign-because", rest)
	dom.SetText("sign-sources", strings.Join(w.Sources, "; "))
	p.showWays(w.Choices)
}

// moreWays is the key of the button that offers every way.
const moreWays = "more"

// showWays offers the first few ways to play the sign, the chosen one among
// them, and the rest behind one button.
func (p *panel) showWays(ways []desk.ChoiceWords) {
	var offered []int
	for i, c := range ways {
		if c.Chosen || p.host.MayChoose() {
			offered = append(offered, i)
		}
	}
	more := 0
	if few := desk.FewWays(ways, fewWays); !p.all && len(few) < len(offered) {
		more = len(offered) - len(few)
		offered = few
	}
	var buttons []dom.Button
	for _, i := range offered {
		c := &ways[i]
		buttons = append(buttons, dom.Button{Key: strconv.Itoa(i), Label: c.Label, Detail: c.Detail, Pressed: c.Chosen, Picture: p.choice(i)})
	}
	if more > 0 {
		buttons = append(buttons, dom.Button{Key: moreWays, Label: p.words.Count(more, "{n} more …", "{n} more …")})
	}
	dom.SetButtons("choices", buttons, p.take)
}

// take takes a way to play the sign, and lets it be heard.
func (p *panel) take(key string) {
	if key == moreWays {
		p.all = true
		p.show()
		return
	}
	i, err := strconv.Atoi(key)
	if err != nil {
		return
	}
	if o, ok := p.host.OnDesk().Ornament(); !ok || o.Chosen != i {
		p.host.OnDesk().Choose(i)
		p.host.Decided()
	}
	p.host.Hear(atTempo)
}

// draw draws the chosen sign as it is printed.
func (p *panel) draw() {
	d := p.host.OnDesk()
	o, _ := d.Ornament()
	if p.reading == d.Reading && p.ornament == o.ID {
		return
	}
	if p.ornament != o.ID {
		p.all = false
	}
	p.reading, p.ornament, p.choices = d.Reading, o.ID, make([]*dom.Picture, len(o.Choices))
	dom.SetPicture("sign-picture", picture(engrave.Printed(d.Passage, d.Reading, o.ID)))
}

// choice draws one way to play the chosen sign.
func (p *panel) choice(i int) *dom.Picture {
	if p.choices[i] == nil {
		p.choices[i] = picture(engrave.Preview(p.host.OnDesk().Passage, p.reading, p.ornament, i))
	}
	return p.choices[i]
}
