package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// thirdNotes fills a third: the two notes of a chord one after the other with
// the passing note between them, the first held, the passing note let go; or,
// before a next note a third away, the passing note late in the first.
// sh.from is 1 upward, -1 downward.
func (pl *place) thirdNotes(sh *shape, room figureRoom) ([]Note, []Borrow, bool) {
	quarter := room.length.Mul(music.F(1, 4))
	if len(pl.also) == 0 {
		if pl.next == nil || pl.next.Diatonic()-pl.pitch.Diatonic() != 2*sh.from {
			return nil, nil, false
		}
		tones := pl.tones([]int{0, sh.from}, false)
		return lay(room.from, tones, []music.Frac{room.length.Sub(quarter), quarter}, true), nil, true
	}
	low, high := pl.chord.Notes[pl.also[0]].Pitch, pl.pitch
	if high.MIDI() < low.MIDI() {
		low, high = high, low
	}
	first, last := low, high
	if sh.from < 0 {
		first, last = high, low
	}
	middle := pl.at(low.Diatonic() + 1 - pl.pitch.Diatonic())
	note := func(p music.Pitch, at, length music.Frac) Note {
		return Note{Pitch: p, Onset: room.from.Add(at), Dur: length, Degree: p.Diatonic() - pl.pitch.Diatonic(), Strength: 1, Measured: true}
	}
	half := quarter.Add(quarter)
	return []Note{
		note(first, music.Frac{}, room.length),
		note(middle, quarter, quarter),
		note(last, half, room.length.Sub(half)),
	}, nil, true
}

// thirdFrom returns the note of a chord that makes a third with one of its
// notes, -1 if none does.
func thirdFrom(c *score.Chord, note int) int {
	for j := range c.Notes {
		if d := c.Notes[j].Pitch.Diatonic() - c.Notes[note].Pitch.Diatonic(); d == 2 || d == -2 {
			return j
		}
	}
	return -1
}
