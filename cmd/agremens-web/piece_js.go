package main

import (
	"strconv"

	"agremens/game/desk"
	"agremens/game/glossary"
	"agremens/realize/words"
	"agremens/web/dom"
)

// pieceHost is what the list of a piece's signs asks of the program.
type pieceHost interface {
	OnDesk() *desk.Desk
	StopSound()
	Decided()
	Selected()
	Reveal()
}

// pieceSigns is the sheet with every sign of the piece, to be ticked as one
// decides.
type pieceSigns struct {
	words *words.Catalogue
	host  pieceHost
	read  func() // opens the place where a sign is read
}

func newPieceSigns(c *words.Catalogue, h pieceHost, read func()) {
	p := &pieceSigns{c, h, read}
	dom.OnClick("open-piece-signs", func() {
		h.StopSound()
		p.show()
		dom.OpenSheet("piece-signs")
	})
	dom.OnClick("piece-signs-close", func() { dom.CloseSheet("piece-signs") })
	dom.OnLine("piece-signs-table", p.open)
	dom.OnTick("piece-signs-table", p.tick)
}

// open goes to a sign.
func (p *pieceSigns) open(key string) {
	dom.CloseSheet("piece-signs")
	p.host.OnDesk().Select(whole(key))
	p.read()
	p.host.Reveal()
	p.host.Selected()
}

func (p *pieceSigns) show() {
	d := p.host.OnDesk()
	var lines []dom.Line
	decided := 0
	for i := range d.Reading.Ornaments {
		o := &d.Reading.Ornaments[i]
		if len(o.Choices) == 0 {
			continue
		}
		name := o.Choices[o.Chosen].Name
		if e, ok := glossary.Find(glossary.Of(o)); ok {
			name = e.Title(p.words)
		}
		tick := d.Decided(i)
		if tick {
			decided++
		}
		lines = append(lines, dom.Line{Key: strconv.Itoa(i), Cells: []dom.Cell{
			{Text: p.words.Say("bar {bar}", "{bar}", d.Passage.Measures[o.Measure].Number)},
			{Text: name}, {Text: o.Choices[o.Chosen].Name},
			{Text: p.words.Say("decided"), Tick: dom.TickOf(tick)}}})
	}
	dom.SetText("piece-signs-count", p.words.Count(len(lines), "{n} sign, {decided} decided.", "{n} signs, {decided} decided.", "{decided}", strconv.Itoa(decided)))
	dom.SetLines("piece-signs-table", []string{p.words.Say("Bar"), p.words.Say("Sign"), p.words.Say("Played"), p.words.Say("Decided")}, lines)
}

// tick decides for a sign what is played there, or takes that back.
func (p *pieceSigns) tick(key string, on bool) {
	if d := p.host.OnDesk(); on {
		d.Tick(whole(key))
	} else {
		d.Untick(whole(key))
	}
	p.host.Decided()
	p.show()
	dom.FocusTick("piece-signs-table", key)
}
