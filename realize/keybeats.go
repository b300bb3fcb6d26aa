package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// keyBeat is a beat as it speaks for a key: how long each place on the line of
// fifths sounds in it, in hundredths of a quarter.
type keyBeat struct {
	onset     music.Frac
	signature int
	notes     []struct{ fifth, weight int }
}

// profilePlace is the entry of a profile for a distance from the tonic.
func profilePlace(distance int) int { return min(max(distance-profileLow, 0), len(keyProfile{})-1) }

// speaksFor weighs a beat's notes for a key.
func (b *keyBeat) speaksFor(k keyState, profiles *[2]keyProfile) int {
	sum := 0
	for _, n := range b.notes {
		sum += n.weight * profiles[k.minor][profilePlace(n.fifth-k.tonic())]
	}
	return sum
}

func (b *keyBeat) add(c *score.Chord, weight int) {
	for j := range c.Notes {
		b.notes = append(b.notes, struct{ fifth, weight int }{fifths(c.Notes[j].Pitch), weight})
	}
}

// smallWeight is what a small note weighs, in hundredths of a quarter.
const smallWeight = 6

// mostBeats bounds the beats of one measure, however it is written.
const mostBeats = 32

// keyBeats cuts a passage into its beats. It also returns what a bar weighs on
// average, and how many different notes there are. Of a long note an eighth
// counts in each beat: it says little more than a short one.
func keyBeats(p *score.Passage) (beats []keyBeat, bar, different int) {
	first := make([]int, len(p.Measures)+1)
	for i := range p.Measures {
		m := &p.Measures[i]
		first[i] = len(beats)
		step := m.Metre.Beat().Max(m.Length.Div(music.Int(mostBeats)))
		for at := m.Onset; at == m.Onset || at.Less(m.End()); at = at.Add(step) {
			beats = append(beats, keyBeat{onset: at, signature: int(p.KeyAt(at).Fifths)})
		}
	}
	first[len(p.Measures)] = len(beats)
	seen := map[int]bool{}
	total := 0
	for i := range p.Chords {
		c := &p.Chords[i]
		for j := range c.Notes {
			seen[fifths(c.Notes[j].Pitch)] = true
		}
		within := beats[first[c.Measure]:first[c.Measure+1]]
		for k := range within {
			to := p.Measures[c.Measure].End()
			if k+1 < len(within) {
				to = within[k+1].onset
			}
			if c.Grace != nil {
				if c.Onset.Less(to) || k+1 == len(within) {
					within[k].add(c, smallWeight)
					total += smallWeight * len(c.Notes)
					break
				}
				continue
			}
			if long := c.End().Min(to).Sub(c.Onset.Max(within[k].onset)); long.Sign() > 0 {
				weight := int(long.Min(music.F(1, 2)).Mul(music.Int(100)).Floor())
				within[k].add(c, weight)
				total += weight * len(c.Notes)
			}
		}
	}
	return beats, total / max(1, len(p.Measures)), len(seen)
}
