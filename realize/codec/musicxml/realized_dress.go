package musicxml

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// dressUp beams the voices that changed anew and prints the accidentals that
// their measures need.
func (w *writer) dressUp(touched map[touch]bool) {
	p := w.out
	shift := 0
	if w.first.Sign() > 0 {
		shift = 1
	}
	measures := map[int]bool{}
	for t := range touched {
		measures[t.measure+shift] = true
	}
	for m := range p.Measures {
		if !measures[m] {
			continue
		}
		voices := map[string][]int{}
		var order []string
		for i := p.FirstAt(p.Measures[m].Onset); i < len(p.Chords) && p.Chords[i].Measure <= m; i++ {
			c := &p.Chords[i]
			if c.Measure != m || c.Grace != nil || !touched[touch{m - shift, c.Voice}] {
				continue
			}
			if voices[c.Voice] == nil {
				order = append(order, c.Voice)
			}
			voices[c.Voice] = append(voices[c.Voice], i)
		}
		for _, v := range order {
			beam(p, &p.Measures[m], voices[v])
		}
		accidentals(p, m)
	}
}

// beam joins what lies within one beat: common practice, no source.
func beam(p *score.Passage, m *score.Measure, chords []int) {
	for _, i := range chords {
		p.Chords[i].Beams = nil
	}
	short := music.Frac{}
	if m.Implicit && m.Length.Less(m.Metre.Bar()) {
		short = m.Metre.Bar().Sub(m.Length) // an upbeat counts to its end
	}
	beatOf := func(i int) int64 {
		return p.Chords[i].Onset.Sub(m.Onset).Add(short).Div(m.Metre.Beat()).Floor()
	}
	for from := 0; from < len(chords); {
		to := from + 1
		for to < len(chords) && beamable(p, chords[from]) && beamable(p, chords[to]) &&
			p.Chords[chords[to-1]].End() == p.Chords[chords[to]].Onset && beatOf(chords[from]) == beatOf(chords[to]) {
			to++
		}
		if to-from > 1 {
			beamGroup(p, chords[from:to])
		}
		from = to
	}
}

func beamable(p *score.Passage, i int) bool {
	c := &p.Chords[i]
	return len(c.Notes) > 0 && c.Value.Flags() > 0
}

func beamGroup(p *score.Passage, group []int) {
	flags := func(k int) int {
		if k < 0 || k >= len(group) {
			return 0
		}
		return p.Chords[group[k]].Value.Flags()
	}
	for k, i := range group {
		for level := 1; level <= flags(k); level++ {
			left, right := flags(k-1) >= level, flags(k+1) >= level
			b := score.BeamBackwardHook
			switch {
			case left && right:
				b = score.BeamContinue
			case right:
				b = score.BeamBegin
			case left:
				b = score.BeamEnd
			case k == 0:
				b = score.BeamForwardHook
			}
			p.Chords[i].Beams = append(p.Chords[i].Beams, b)
		}
	}
}

var accidentalNames = map[int8]string{-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}

// accidentals prints what differs from the signature and from what stood
// before at the same place of the staff in the measure.
func accidentals(p *score.Passage, m int) {
	type line struct{ staff, step int }
	state := map[line]int8{}
	for i := p.FirstAt(p.Measures[m].Onset); i < len(p.Chords) && p.Chords[i].Measure <= m; i++ {
		c := &p.Chords[i]
		if c.Measure != m {
			continue
		}
		key := p.KeyAt(c.Onset)
		for j := range c.Notes {
			n := &c.Notes[j]
			at := line{n.Staff, n.Pitch.Diatonic()}
			now, known := state[at]
			if !known {
				now = int8(key.Alter(n.Pitch.Step))
			}
			if n.TieStop {
				continue
			}
			if n.Accidental == "" && n.Pitch.Alter != now {
				n.Accidental = accidentalNames[n.Pitch.Alter]
			}
			state[at] = n.Pitch.Alter
		}
	}
}
