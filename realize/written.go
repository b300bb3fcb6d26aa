package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// said is how much speaks for each alteration of a letter, from double flat to
// double sharp.
type said [5]int

func (s *said) add(alter, weight int) {
	if alter >= -2 && alter <= 2 {
		s[alter+2] += weight
	}
}

func (s *said) of(alter int8) int {
	if alter < -2 || alter > 2 {
		return 0
	}
	return s[alter+2]
}

// What speaks for a neighbour. What is written before it outweighs the local
// key, and that the signature; what comes later says little. Of 825 trills,
// short trills and turns whose upper step the editors of 68 movements state,
// these choose the editors' in 98 of 100; so do their neighbours, one up or
// down.
const (
	byKey        = 3
	bySignature  = 2
	inVoice      = 6 // the nearest before in the voice, in the same bar
	inVoiceBar   = 5 // in the bar before
	elsewhere    = 3 // the nearest before in other voices, in the same bar
	elsewhereBar = 4 // in the bar before
	together     = 7 // sounding in another voice
	laterInVoice = 2 // the next in the voice, in the same bar
	laterNear    = 2 // the next in other voices, within a quarter or a beat
	meanwhile    = 5 // the same, struck while a trill lasts
	afterTurn    = 5 // the next in the voice, before the next bar's end, for a turn that leads to it
	turnsTo      = 7 // the upper neighbour itself, where a turn goes straight on to it
	// doubtful is the weight from which what was not chosen is asked about.
	doubtful = 4
)

// writtenAround weighs how a letter is altered around the principal.
func (pl *place) writtenAround(letter music.Step, step int) (s said) {
	p, at := pl.r.p, pl.chord.Onset
	s.add(pl.scaleAlter(letter, step), byKey)
	s.add(p.KeyAt(at).Alter(letter), bySignature)
	m := &p.Measures[pl.chord.Measure]
	from, to := p.Measures[max(0, pl.chord.Measure-1)].Onset, m.End()
	leads := pl.figure == lateTurnFigure || pl.figure == lateInvertedTurn
	if leads {
		to = p.Measures[min(len(p.Measures)-1, pl.chord.Measure+1)].End()
	}
	near := m.Metre.Beat().Max(music.Int(1))
	over := at // the end of a trill
	if longTrill(pl.figure) {
		over = at.Add(pl.room)
		to, near = to.Max(over), near.Max(pl.room)
	}
	var last, first [2]*score.Note // by voice: 1 is the principal's own
	var lastHere [2]bool           // it stands in the principal's bar
	var begins music.Frac          // when the first in other voices is struck
	for i := p.FirstAt(from); i < len(p.Chords) && p.Chords[i].Onset.Less(to); i++ {
		c := &p.Chords[i]
		own := 0
		if c.Voice == pl.chord.Voice {
			own = 1
		}
		for j := range c.Notes {
			n := &c.Notes[j]
			switch {
			case n.Pitch.Step != letter:
			case c.Grace == nil && own == 0 && c.Onset.Cmp(at) <= 0 && at.Less(c.End()):
				s.add(int(n.Pitch.Alter), together)
			case c.Onset.Less(at):
				last[own], lastHere[own] = n, c.Measure == pl.chord.Measure
			case at.Less(c.Onset) && first[own] == nil && (own == 1 || c.Onset.Sub(at).Cmp(near) <= 0):
				first[own] = n
				if own == 0 {
					begins = c.Onset
				}
			}
		}
	}
	weigh := func(n *score.Note, weight int) {
		if n != nil {
			s.add(int(n.Pitch.Alter), weight)
		}
	}
	weigh(last[0], choose(lastHere[0], elsewhere, elsewhereBar))
	weigh(last[1], choose(lastHere[1], inVoice, inVoiceBar))
	weigh(first[0], choose(begins.Less(over), meanwhile, laterNear))
	weigh(first[1], choose(leads, afterTurn, laterInVoice))
	if pl.figure.turned() && step > 0 && pl.next != nil && pl.next.Diatonic() == pl.pitch.Diatonic()+1 {
		s.add(int(pl.next.Alter), turnsTo)
	}
	return s
}

func choose(first bool, a, b int) int {
	if first {
		return a
	}
	return b
}
