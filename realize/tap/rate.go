package tap

import "slices"

// A player's rate is measured in short bursts with rests between them, and
// each burst ends at the first slowing: speed is never asked for longer than
// it comes by itself. Stop at any pain.
const (
	BurstSeconds     = 3.0
	BurstRestSeconds = 20.0
	burstLeast       = 6    // taps that make a burst
	fastest          = 20.0 // taps a second beyond which a switch bounces
	slowed           = 1.15 // latest intervals over the usual one
	slowWindow       = 5    // intervals looked at
)

// Bursts returns how many bursts are played.
func Bursts(underTwelve bool) int {
	if underTwelve {
		return 2
	}
	return 3
}

// BurstOver reports whether a burst ends with its latest tap: its time is up,
// or it slows. Taps are in order, ms.
func BurstOver(taps []float64) bool {
	if len(taps) > 0 && taps[len(taps)-1]-taps[0] >= BurstSeconds*second {
		return true
	}
	return slowing(taps)
}

// slowing compares the latest intervals with the usual one before them.
func slowing(taps []float64) bool {
	gaps := intervals(taps)
	if len(gaps) < 2*slowWindow {
		return false
	}
	cut := len(gaps) - slowWindow
	return mean(gaps[cut:]) > slowed*median(gaps[:cut])
}

// Rate is how fast a player alternates.
type Rate struct {
	PerSecond float64 // notes a second that the player can count on
	Bursts    []float64
	// Hint says that it was tapped on glass: no key returns there, and the
	// rate does not carry over to a keyboard.
	Hint bool
	// Certain says that there were two bursts at least and that they agree within a tenth.
	Certain bool
}

// RateOf measures bursts of taps, ms, each in order; glass says where. Bursts
// of fewer than six taps do not count. No burst gives the zero rate.
func RateOf(bursts [][]float64, glass bool) Rate {
	r := Rate{Hint: glass}
	for _, taps := range bursts {
		gaps := intervals(taps)
		if len(gaps)+1 < burstLeast {
			continue
		}
		// The slow end, if any, tells of tiredness and not of speed.
		if slowing(taps) {
			gaps = gaps[:len(gaps)-slowWindow]
		}
		r.Bursts = append(r.Bursts, second/median(gaps))
	}
	if len(r.Bursts) == 0 {
		return r
	}
	r.PerSecond = median(r.Bursts)
	r.Certain = len(r.Bursts) >= 2 && slices.Max(r.Bursts) <= 1.1*slices.Min(r.Bursts)
	return r
}

// intervals returns the distances between taps, leaving out bounces.
func intervals(taps []float64) []float64 {
	var gaps []float64
	for i, last := 1, 0; i < len(taps); i++ {
		if d := taps[i] - taps[last]; d >= second/fastest {
			gaps = append(gaps, d)
			last = i
		}
	}
	return gaps
}
