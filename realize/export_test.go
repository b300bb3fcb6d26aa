package realize

import (
	"math"

	"agremens/realize/music"
	"agremens/realize/score"
)

// KeyShares is the sounding time at each distance from the tonic, by mode.
type KeyShares [2][18]float64

// CountKeyShares adds up a passage's sounding time around the tonics that
// experts have marked; keyAt says whether one is.
func CountKeyShares(p *score.Passage, keyAt func(measure int, onset music.Frac) (music.Key, bool)) (shares KeyShares) {
	beats, _, _ := keyBeats(p)
	total := 0.0
	for i := range beats {
		key, marked := keyAt(p.MeasureAt(beats[i].onset), beats[i].onset)
		if !marked {
			continue
		}
		st := keyState{fifths: int(key.Fifths)}
		if key.Mode == music.Minor {
			st.minor = 1
		}
		for _, n := range beats[i].notes {
			shares[st.minor][profilePlace(n.fifth-st.tonic())] += float64(n.weight)
			total += float64(n.weight)
		}
	}
	for mode := range shares {
		for d := range shares[mode] {
			shares[mode][d] /= max(1, total)
		}
	}
	return shares
}

// ProfilesOf makes key profiles of several movements that weigh the same.
func ProfilesOf(movements []KeyShares) *[2]keyProfile {
	var out [2]keyProfile
	for mode := range out {
		var share [18]float64
		sum := 0.0
		for _, m := range movements {
			for d := range share {
				share[d] += m[mode][d]
				sum += m[mode][d]
			}
		}
		for d := range share {
			out[mode][d] = int(math.Round(100 * math.Log(12*max(share[d]/sum, .002))))
		}
	}
	return &out
}

// KeyProfiles are the ones in use.
func KeyProfiles() *[2]keyProfile { return &keyProfiles }

// KeysBy returns the local key at an onset by some profiles.
func KeysBy(p *score.Passage, profiles *[2]keyProfile) func(music.Frac) music.Key {
	return mapKeys(p, profiles).at
}

// Close is where an ornament's principal ends, and whether the rules that speak
// of a cadence take that for one.
type Close struct {
	End     music.Frac
	Cadence bool
}

// Closes reads a passage as [Read] does, for what closes where.
func Closes(p *score.Passage) []Close {
	r := newReader(p, Taste{}, &Reading{Passage: p})
	sites := gather(p, r.l)
	out := make([]Close, 0, len(sites))
	for i := range sites {
		pl := r.look(&sites[i])
		out = append(out, Close{pl.chord.Onset.Add(pl.room), pl.has(cadence)})
	}
	return out
}
