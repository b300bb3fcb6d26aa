package musicxml

import (
	"slices"

	"agremens/realize/codec/told"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// metreChange is a time signature inside a measure, at an onset relative to it.
type metreChange struct {
	onset music.Frac
	metre music.Metre
	place told.Place
}

// divide cuts measures at time signatures that stand inside them: a passage
// has one metre a measure. The rest of such a measure is not counted, and no
// bar line is drawn. Where a note sounds over the place the change counts from
// the next measure, as it does for what follows in any case.
func (d *decoder) divide(out *score.Passage, changes []at[metreChange]) {
	// From the last to the first, so that the indexes of the others stay.
	sorting.Stable(changes, func(a, b at[metreChange]) int {
		if a.measure != b.measure {
			return b.measure - a.measure
		}
		return b.item.onset.Cmp(a.item.onset)
	})
	for i, c := range changes {
		if i > 0 && changes[i-1].measure == c.measure && changes[i-1].item.onset == c.item.onset {
			continue // both hands' parts say so
		}
		if c.item.onset.Cmp(out.Measures[c.measure].Length) >= 0 {
			continue // at the end: it is the next measure's
		}
		if !divideAt(out, c.measure, c.item.onset, c.item.metre) {
			d.warnings.Add(c.item.place, "a time signature changes while a note sounds; it takes effect from the next bar")
		}
	}
}

// divideAt cuts measure i at an onset relative to it and reports whether
// nothing sounds over it there.
func divideAt(out *score.Passage, i int, onset music.Frac, metre music.Metre) bool {
	m := &out.Measures[i]
	cut := m.Onset.Add(onset)
	for k := range out.Chords {
		if c := &out.Chords[k]; c.Measure == i && !c.WholeRest && c.Onset.Less(cut) && cut.Less(c.End()) {
			return false
		}
	}
	rest := *m
	rest.Onset, rest.Length, rest.Metre = cut, m.Length.Sub(onset), metre
	rest.Implicit, rest.RepeatStart, rest.NewSystem = true, false, false
	rest.Key, rest.KeyChanges, rest.Jumps = m.Key, nil, nil
	rest.Endings = slices.Clone(m.Endings)
	var keys []score.KeyChange
	for _, c := range m.KeyChanges {
		switch c.Onset.Cmp(cut) {
		case -1:
			keys = append(keys, c)
			rest.Key = c.Key
		case 0:
			rest.Key = c.Key
		default:
			rest.KeyChanges = append(rest.KeyChanges, c)
		}
	}
	var jumps []string
	for _, j := range m.Jumps {
		if j == "segno" || j == "coda" {
			jumps = append(jumps, j)
		} else {
			rest.Jumps = append(rest.Jumps, j)
		}
	}
	m.Length, m.KeyChanges, m.Jumps = onset, keys, jumps
	m.RepeatEnd, m.Times, m.EndingStop, m.EndingOpen, m.Barline = false, 0, false, false, "none"
	out.Measures = slices.Insert(out.Measures, i+1, rest)
	for k := range out.Chords {
		c := &out.Chords[k]
		switch {
		case c.Measure > i, c.Measure == i && cut.Cmp(c.Onset) <= 0 && !(c.Grace != nil && c.Grace.After):
			c.Measure++
		case c.Measure == i && c.WholeRest && cut.Less(c.End()):
			second := *c
			second.Notes, second.RestPos = nil, nil
			second.Measure, second.Onset, second.Dur = i+1, cut, rest.Length
			c.Dur = onset
			out.Chords = append(out.Chords, second)
		}
	}
	return true
}
