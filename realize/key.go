package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// fifths places a spelled pitch on the line of fifths: F is -1, C 0, G 1, F# 6.
func fifths(p music.Pitch) int {
	return [7]int{0, 2, 4, -1, 1, 3, 5}[p.Step] + 7*int(p.Alter)
}

// scaleWeight says how well a note fits a key, from its distance to the tonic
// on the line of fifths. Common practice: the scale's own notes speak for a
// key, tonic, fifth and leading note most; foreign notes against it.
func scaleWeight(distance int, minor bool) float64 {
	if minor {
		switch distance {
		case 0:
			return 1.3
		case 1, -3:
			return 1.1
		case 5: // raised seventh
			return .9
		case -4: // lowered sixth
			return .9
		case 2, -1:
			return .8
		case 3: // raised sixth
			return .2
		case -2: // lowered seventh
			return .3
		}
		return -1.2
	}
	switch distance {
	case 0:
		return 1.3
	case 1, 4:
		return 1.1
	case 5, -1:
		return .9
	case 2, 3:
		return .8
	}
	return -1.2
}

// localKey names the key that the bars around an onset are in, by the notes
// of both hands: the bar itself counts most, the next more than the last. The
// signature's own two keys have a start, so that one passing note alters
// nothing.
func (r *reader) localKey(onset music.Frac) music.Key {
	p := r.p
	m := p.MeasureAt(onset)
	if key, known := r.keys[m]; known {
		return key
	}
	var weight [64]float64 // by place on the line of fifths, +32
	for k := max(0, m-1); k <= min(m+1, len(p.Measures)-1); k++ {
		scale := 1.0
		switch {
		case k < m:
			scale = .5
		case k > m:
			scale = .7
		}
		end := p.Measures[k].End()
		for i := p.FirstAt(p.Measures[k].Onset); i < len(p.Chords) && p.Chords[i].Onset.Less(end); i++ {
			c := &p.Chords[i]
			d := c.Dur.Min(music.Int(2)).Float()
			if c.Grace != nil {
				d = .1
			}
			for j := range c.Notes {
				if f := fifths(c.Notes[j].Pitch) + 32; f >= 0 && f < 64 {
					weight[f] += d * scale
				}
			}
		}
	}
	written := p.KeyAt(onset)
	key := bestKey(&weight, written)
	r.keys[m] = key
	return key
}

func bestKey(weight *[64]float64, written music.Key) music.Key {
	sig := int(written.Fifths)
	best, bestScore := written, -1e9
	total, different := 0.0, 0
	for _, w := range weight {
		total += w
		if w > 0 {
			different++
		}
	}
	if different < 5 {
		return written // too few notes to tell
	}
	for _, minor := range []bool{false, true} {
		for tonic := sig - 6; tonic <= sig+9; tonic++ {
			sum := 0.0
			for f, w := range weight {
				if w > 0 {
					sum += w * scaleWeight(f-32-tonic, minor)
				}
			}
			own := tonic
			mode := music.Major
			if minor {
				own, mode = tonic-3, music.Minor
			}
			if own < -7 || own > 7 {
				continue
			}
			// Near keys are likelier than far ones.
			away := own - sig
			if away < 0 {
				away = -away
			}
			sum -= float64(away) * .06 * total
			if away == 0 {
				sum += .06 * total
				if written.Mode != music.UnknownMode && written.Mode == mode {
					sum += .03 * total
				}
			}
			if sum > bestScore+1e-9 {
				best, bestScore = music.Key{Fifths: int8(own), Mode: mode}, sum
			}
		}
	}
	return best
}

// signAlter is the alteration a printed accidental asks for.
func signAlter(a score.AccidentalMark) (int, bool) { return score.Alter(a.Value) }
