package takedown

import "math"

// What was only heard has to be likely as well: strings sound that nobody
// struck, an octave or a twelfth from those that were, and an ornament is one
// voice. Weights are logarithms of odds, fitted to recordings by our own
// synthesis, no source.
const (
	likely     = 1.5 // for a key that ornaments here have, against it for others
	overtone   = 2.0 // against a partial of a string that is struck with it and more surely
	again      = 2.0 // against a key that was the last one too
	shaken     = 3.0 // besides, where a string struck just then may have shaken it
	stronger   = 6.0 // by so much that one has to be surer
	plainly    = 4.5 // odds from which usual keys are believed however close they come
	needed     = 0.5
	oneStrike  = 0.025 // s between strikes of which only one is believed
	withString = 0.05  // s between a string and its partials
)

// partials are the distances of a string's partials, semitones.
var partials = [...]int{12, 19, 24, 28, 31, 34, 36}

// believed leaves of strikes, given by their indexes, those that are likely to
// be meant.
func (p Place) believed(s []Strike, own []int) []int {
	usual := map[int]bool{}
	for _, k := range p.Likely {
		usual[k] = true
	}
	belief := func(i int) float64 {
		x := &s[i]
		if x.Odds >= Certain {
			return x.Odds
		}
		b := x.Odds - likely
		if usual[x.Key] {
			b = x.Odds + likely
		}
		for j := range s {
			if j == i || math.Abs(s[j].At-x.At) > withString || s[j].Odds < x.Odds {
				continue
			}
			for _, d := range partials {
				if x.Key-s[j].Key == d || s[j].Key-x.Key == 12 {
					b -= overtone
					break
				}
			}
		}
		return b
	}
	var kept []int
	var beliefs []float64
	for _, i := range own {
		b := belief(i)
		if n := len(kept); n > 0 && s[kept[n-1]].Key == s[i].Key && s[i].Odds < Certain {
			b -= again
			if beneath(s, i) {
				b -= shaken
			}
		}
		if b < needed {
			continue
		}
		if p.Spread && s[i].Odds < Certain && struckBefore(s, kept, s[i].Key) {
			continue // a chord that is rolled has each key once
		}
		if n := len(kept); n > 0 && !p.Spread && s[i].Odds < Certain && s[i].At-s[kept[n-1]].At < oneStrike {
			last := s[kept[n-1]]
			if quick := usual[s[i].Key] && usual[last.Key] && min(s[i].Odds, last.Odds) >= plainly; !quick {
				if b > beliefs[n-1] {
					kept[n-1], beliefs[n-1] = i, b
				}
				continue
			}
		}
		kept, beliefs = append(kept, i), append(beliefs, b)
	}
	return kept
}

// beneath reports whether another key is struck with one, and far more surely.
func beneath(s []Strike, i int) bool {
	for j := range s {
		if j != i && math.Abs(s[j].At-s[i].At) < oneStrike && s[j].Odds > s[i].Odds+stronger {
			return true
		}
	}
	return false
}

func struckBefore(s []Strike, kept []int, key int) bool {
	for _, i := range kept {
		if s[i].Key == key {
			return true
		}
	}
	return false
}
