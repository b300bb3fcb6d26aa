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
		next := p.chordAt(from, to, i)
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

// chordAt returns the first ordinary chord of the voice of grace chord i that
// starts at its onset or later, -1 if none. The order in the file says
// nothing: the small notes may have come from another voice.
func (p *part) chordAt(from, to, i int) int {
	c, best := &p.chords[i], -1
	for k := from; k < to; k++ {
		n := &p.chords[k]
		if n.drop || n.Grace != nil || n.Voice != c.Voice || n.Onset.Less(c.Onset) {
			continue
		}
		if best < 0 || n.Onset.Less(p.chords[best].Onset) {
			best = k
		}
	}
	return best
}

// chordBefore returns the ordinary chord with notes that ends last among
// those of the voice of grace chord i that start before it, -1 if none.
func (p *part) chordBefore(from, i int) int {
	c, best := &p.chords[i], -1
	for k := from; k < len(p.chords) && p.chords[k].Measure == c.Measure; k++ {
		b := &p.chords[k]
		if k == i || b.drop || b.Grace != nil || b.Voice != c.Voice || len(b.Notes) == 0 || c.Onset.Less(b.End()) {
			continue
		}
		if best < 0 || p.chords[best].Onset.Less(b.Onset) {
			best = k
		}
	}
	return best
}
