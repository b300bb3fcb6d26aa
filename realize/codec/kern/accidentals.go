package kern

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// printAccidentals finds which accidentals a print shows: those that differ
// from the key and from what the bar says of the same line or space, and those
// the file forces. Chords are sorted.
func printAccidentals(p *score.Passage, how map[score.ID]*note) {
	type place struct{ staff, diatonic int }
	inForce := map[place]int{}
	measure := -1
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Measure != measure {
			measure = c.Measure
			clear(inForce)
		}
		var key music.Key
		keyed := false
		for j := range c.Notes {
			n := &c.Notes[j]
			w := how[n.ID]
			at := place{n.Staff, n.Pitch.Diatonic()}
			now, said := inForce[at]
			if !said {
				if !keyed {
					key, keyed = p.KeyAt(c.Onset), true
				}
				now = key.Alter(n.Pitch.Step)
			}
			alter := int(n.Pitch.Alter)
			switch {
			case n.TieStop && (w == nil || !w.forced):
				// A tied note repeats no accidental, and the bar does not know it.
				continue
			case w != nil && w.unprinted:
			case alter != now || w != nil && w.forced:
				n.Accidental = accidentalWord(alter)
			}
			if alter != now {
				inForce[at] = alter
			}
		}
	}
}
