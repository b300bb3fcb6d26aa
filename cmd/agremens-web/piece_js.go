package main

import (
	"strconv"
	"strings"

	"agremens/game/class"
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
	Class() *class.Class
	NextTask(letters string) bool
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
		p.tasks()
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
	count := p.words.Count(len(lines), "{n} sign, {decided} decided.", "{n} signs, {decided} decided.", "{decided}", strconv.Itoa(decided))
	if bars := d.Bars(); bars != "" {
		count = p.words.Say("Bars {bars} are chosen.", "{bars}", strings.ReplaceAll(bars, "-", "–")) + " " + count
	}
	dom.SetText("piece-signs-count", count)
	dom.SetLines("piece-signs-table", []string{p.words.Say("Bar"), p.words.Say("Sign"), p.words.Say("Played"), p.words.Say("Decided")}, lines)
}

// tasks lists what students were given from the piece.
func (p *pieceSigns) tasks() {
	all := p.host.Class().Assigned(p.host.OnDesk().Passage.Title)
	var cards []dom.Card
	for i, a := range all {
		card := dom.Card{Key: strconv.Itoa(i), Title: a.Heading(p.words), Lines: a.Lines(p.words)}
		if a.Work.Letters != "" {
			card.Buttons = []dom.Button{{Key: "open", Label: p.words.Say("Open")}}
		}
		cards = append(cards, card)
	}
	dom.SetHidden("piece-tasks-name", len(cards) == 0)
	dom.SetCards("piece-tasks", cards, func(key, _ string) {
		dom.CloseSheet("piece-signs")
		p.host.NextTask(all[whole(key)].Work.Letters)
	})
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
