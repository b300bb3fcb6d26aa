package main

import (
	"math"

	"agremens/cmd/check/tone"
	"agremens/synth"
)

// corrections is how often decays and brightness are brought inside what the
// recordings measure; the pictures alone leave some at its edge.
const corrections = 6

// bring corrects the registers by how far keys, also ones between registers, lie
// outside what the recordings measure.
func bring(m *model, bank tone.Bank, seen []tone.Source, keys []int) error {
	falls, brights := map[[2]int]*span{}, map[[2]int]*span{}
	for _, s := range seen {
		if err := bank.Make(s, keys); err != nil {
			return err
		}
	}
	for _, key := range keys {
		for i, strength := range tone.Strengths {
			at := [2]int{key, i}
			falls[at], brights[at] = &span{}, &span{}
			for _, s := range seen {
				x, err := bank.Note(s, key, strength)
				if err != nil {
					return err
				}
				falls[at].take(tone.Fallen(x))
				brights[at].take(tone.Centroid(x))
			}
		}
	}
	for range corrections {
		g := m.tables()
		var longer, brighter, weight [synth.Registers]float64
		for _, key := range keys {
			row, share := (key-36)/6, float64((key-36)%6)/6
			for i, strength := range tone.Strengths {
				x := mono(synth.RenderGrand(tone.Rate, g, key, strength, tone.Rate*4))
				l := falls[[2]int{key, i}].outside(tone.Fallen(x))
				b := brights[[2]int{key, i}].outside(tone.Centroid(x))
				give := func(r int, w float64) {
					longer[r] += w * l
					brighter[r] += w * b
					weight[r] += w
				}
				give(row, 1-share)
				if share > 0 {
					give(row+1, share)
				}
			}
		}
		for r := range synth.Registers {
			m.correct(r, 1.3*longer[r]/weight[r], 1.3*brighter[r]/weight[r])
		}
	}
	return nil
}

// between adds the keys of the table that lie between the registers.
func between(keys []int) []int {
	out := append([]int(nil), keys...)
	for _, key := range tone.Keys {
		if (key-36)%6 != 0 {
			out = append(out, key)
		}
	}
	return out
}

// span is what recordings measure, least and most.
type span struct{ low, high float64 }

func (s *span) take(x float64) {
	if s.low == 0 || x < s.low {
		s.low = x
	}
	s.high = math.Max(s.high, x)
}

// outside is by how many octaves x must move to lie within the span, and a
// little off its edges.
func (s span) outside(x float64) float64 {
	low, high := math.Log2(s.low), math.Log2(s.high)
	edge := math.Min(0.12, (high-low)/4)
	return clamp(math.Log2(x), low+edge, high-edge) - math.Log2(x)
}
