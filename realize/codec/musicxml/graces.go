package musicxml

// leanGraces gives grace chords the onset of the chord they lean on: the next
// one of their voice in the measure. Where none follows, or a rest, they
// close the chord before.
func (p *part) leanGraces(from, to int) {
	for i := to - 1; i >= from; i-- {
		c := &p.chords[i]
		if c.drop || c.Grace == nil {
			continue
		}
		next := -1
		for k := i + 1; k < to; k++ {
			n := &p.chords[k]
			if !n.drop && n.Grace == nil && n.Voice == c.Voice && !n.Onset.Less(c.Onset) {
				next = k
				break
			}
		}
		before := p.chordBefore(from, i)
		if next >= 0 && (len(p.chords[next].Notes) > 0 || before < 0) {
			c.Onset = p.chords[next].Onset
			c.Grace.After = false
			continue
		}
		c.Grace.After = true
		if before >= 0 {
			c.Onset = p.chords[before].End()
		}
	}
}

// chordBefore returns the ordinary chord with notes that ends last among
// those of the voice of grace chord i that start before it, -1 if none.
func (p *part) chordBefore(from, i int) int {
	c, best := &p.chords[i], -1
	for k := from; k < len(p.chords) && p.chords[k].Measure == c.Measure; k++ {
		b := &p.chords[k]
		if b.drop || b.Grace != nil || b.Voice != c.Voice || len(b.Notes) == 0 || c.Onset.Less(b.End()) {
			continue
		}
		if best < 0 || p.chords[best].Onset.Less(b.Onset) {
			best = k
		}
	}
	return best
}
