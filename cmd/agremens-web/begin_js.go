package main

import (
	"agremens/game/conduct"
	"agremens/game/place"
	"agremens/game/round"
	"agremens/realize/words"
	"agremens/web/dom"
)

// beginKey remembers in the browser's storage how far a first visit came.
const beginKey = "agremens.begun"

// begin tells on a first visit what to do first, in one line beside the one
// filled button.
type begin struct {
	words  *words.Catalogue
	rounds *conduct.Conductor
	at     place.Beginning
}

func newBegin(c *words.Catalogue, r *conduct.Conductor) *begin {
	kept, _, err := dom.Load(beginKey)
	b := &begin{c, r, place.Beginning(kept)}
	if err != nil { // nothing can be kept: it would be the first visit for ever
		b.at = place.Begun
	}
	return b
}

// finished goes on when something was heard or tapped.
func (b *begin) finished() {
	if next := b.at.After(b.rounds.State == round.Result); next != b.at {
		b.at = next
		_ = dom.Store(beginKey, string(next))
		b.show()
	}
}

func (b *begin) show() {
	line := ""
	switch b.at {
	case place.New:
		line = b.words.Say("Start here: press Listen.")
	case place.Heard:
		line = b.words.Say("Now press Tap and tap the notes you heard: any key, or the touchscreen.")
	}
	dom.SetText("begin", line)
	dom.SetData("begin", "step", string(b.at))
}
