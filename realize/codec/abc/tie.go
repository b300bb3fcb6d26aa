package abc

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// cutTies takes away ties between notes that do not touch: a voice may fall
// silent under an overlay that fills its bar.
func (b *builder) cutTies() {
	type spot struct {
		onset music.Frac
		pitch music.Pitch
	}
	starts, stops := map[spot]bool{}, map[spot]bool{}
	for i := range b.out.Chords {
		c := &b.out.Chords[i]
		for _, n := range c.Notes {
			if n.TieStart {
				starts[spot{c.End(), n.Pitch}] = true
			}
			if n.TieStop {
				stops[spot{c.Onset, n.Pitch}] = true
			}
		}
	}
	for i := range b.out.Chords {
		c := &b.out.Chords[i]
		for j := range c.Notes {
			n := &c.Notes[j]
			if n.TieStart && !stops[spot{c.End(), n.Pitch}] {
				n.TieStart = false
				b.warn(b.barPlace(c.Measure), "a tie across a gap was left out")
			}
			n.TieStop = n.TieStop && starts[spot{c.Onset, n.Pitch}]
		}
	}
}

// tieAcross leads the ties that have no second note in their own voice to a
// note of another voice, as keyboard music has them.
func (b *builder) tieAcross() {
	if len(b.loose) == 0 {
		return
	}
	type spot struct {
		onset music.Frac
		pitch music.Pitch
	}
	notes := map[spot]*score.Note{}
	for i := range b.out.Chords {
		c := &b.out.Chords[i]
		for j := range c.Notes {
			if n := &c.Notes[j]; c.Grace == nil && !n.TieStop {
				notes[spot{c.Onset, n.Pitch}] = n
			}
		}
	}
	for _, t := range b.loose {
		i, ok := b.index[t.from.last()]
		if !ok {
			continue
		}
		from := &b.out.Chords[i]
		at := spot{from.End(), t.pitch}
		if n := notes[at]; n != nil && from.Grace == nil {
			n.TieStop = true
			delete(notes, at)
			continue
		}
		b.warn(t.at, "a tie has no second note of the same pitch and was left out")
		for j := range from.Notes {
			if from.Notes[j].Pitch == t.pitch {
				from.Notes[j].TieStart = false
			}
		}
	}
}
