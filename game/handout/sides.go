package handout

import (
	"agremens/game/engrave"
	"agremens/realize/music"
	"agremens/realize/score"
)

const (
	// besideRows is how many staff spaces of music the sheet takes beside its
	// words, a little smaller.
	besideRows = 96.0
	// sideShape is the height of a side by its width: of Letter, which is
	// shorter than A4, less the margins of the print style.
	sideShape = 255.0 / 188
)

// sideHeight is how much of a layout as wide as this stands on a side, in
// staff spaces.
func sideHeight(l *engrave.Layout) float64 {
	const margin = 1 // around the picture
	return (l.Right-l.Left+2*margin)*sideShape - 2*margin - 0.5
}

// sides breaks a long page into sides of paper. They follow the sheet's own
// side, so the second, the fourth and so on are turned when both sides of the
// paper are printed: those end where a hand is free to turn, if that leaves
// them at least half full (common practice, no source).
func sides(l *engrave.Layout, p *score.Passage) (all []*engrave.Layout) {
	height := sideHeight(l)
	for from := 0; from < len(l.Systems); {
		to := from + 1
		for to < len(l.Systems) && l.Systems[to].Bottom-l.Systems[from].Top+countBelow <= height {
			to++
		}
		if turned := len(all)%2 == 1; turned && to < len(l.Systems) {
			for at := to; at > from && l.Systems[at-1].Bottom-l.Systems[from].Top >= height/2; at-- {
				if free(p, l.Systems[at-1].To) {
					to = at
					break
				}
			}
		}
		all = append(all, l.Part(from, to))
		from = to
	}
	return all
}

// free reports whether one hand has a beat or more to turn the page in where a
// measure begins.
func free(p *score.Passage, measure int) bool {
	if measure <= 0 || measure >= len(p.Measures) {
		return false
	}
	at, beat := p.Measures[measure].Onset, p.Measures[measure].Metre.Beat()
	last := p.Measures[len(p.Measures)-1]
	for staff := 1; staff <= p.Staves; staff++ {
		ends, begins, across := music.Frac{}, last.Onset.Add(last.Length), false
		for i := range p.Chords {
			c := &p.Chords[i]
			if c.Staff != staff || c.IsRest() || c.Hidden {
				continue
			}
			end := c.Onset.Add(c.Dur)
			switch {
			case c.Onset.Less(at) && at.Less(end):
				across = true
			case c.Onset.Less(at) && ends.Less(end):
				ends = end
			case !c.Onset.Less(at) && c.Onset.Less(begins):
				begins = c.Onset
			}
		}
		if !across && !begins.Sub(ends).Less(beat) {
			return true
		}
	}
	return false
}
