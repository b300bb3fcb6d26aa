package perf

import (
	"sort"

	"agremens/realize/music"
)

// TempoChange is a tempo from an onset on, in quarters a minute.
type TempoChange struct {
	Onset             music.Frac
	QuartersPerMinute float64
}

// TempoMap turns quarters into seconds. Changes are sorted by onset; the
// first also governs what comes before it. The zero value runs at 60.
type TempoMap struct {
	Changes []TempoChange
}

// Steady returns a map with one tempo.
func Steady(quartersPerMinute float64) TempoMap {
	return TempoMap{[]TempoChange{{QuartersPerMinute: quartersPerMinute}}}
}

// Scaled returns the map at factor times the speed; 0.5 is half tempo.
func (t TempoMap) Scaled(factor float64) TempoMap {
	if len(t.Changes) == 0 {
		return Steady(60 * factor)
	}
	changes := make([]TempoChange, len(t.Changes))
	for i, c := range t.Changes {
		changes[i] = TempoChange{c.Onset, c.QuartersPerMinute * factor}
	}
	return TempoMap{changes}
}

// At returns the tempo in force at onset, in quarters a minute.
func (t TempoMap) At(onset music.Frac) float64 {
	if len(t.Changes) == 0 {
		return 60
	}
	i := sort.Search(len(t.Changes), func(i int) bool { return onset.Less(t.Changes[i].Onset) })
	return t.Changes[max(0, i-1)].QuartersPerMinute
}

// Seconds returns the time of onset; 0 is the start of the passage. Earlier
// onsets are negative.
func (t TempoMap) Seconds(onset music.Frac) float64 {
	if onset.Sign() < 0 {
		return -t.span(onset, music.Frac{})
	}
	return t.span(music.Frac{}, onset)
}

// span returns how long it takes from one onset to a later one.
func (t TempoMap) span(from, to music.Frac) float64 {
	if len(t.Changes) == 0 {
		return to.Sub(from).Float()
	}
	seconds := 0.0
	for i, c := range t.Changes {
		start, end := from, to
		if i > 0 {
			start = start.Max(c.Onset)
		}
		if i < len(t.Changes)-1 {
			end = end.Min(t.Changes[i+1].Onset)
		}
		if start.Less(end) {
			seconds += end.Sub(start).Float() * 60 / c.QuartersPerMinute
		}
	}
	return seconds
}

// Quarters returns the onset that sounds at a time, as a float: positions
// between notes need not be exact.
func (t TempoMap) Quarters(seconds float64) float64 {
	if len(t.Changes) == 0 {
		return seconds
	}
	// The last change that has sounded by then is where to count from; before
	// the second change the first one's tempo runs backwards without end.
	from, at, rate := 0.0, 0.0, t.Changes[0].QuartersPerMinute/60
	for i, c := range t.Changes[1:] {
		if i == 0 {
			from, at = c.Onset.Float(), t.Seconds(c.Onset)
		} else {
			at += (c.Onset.Float() - from) / rate
			from = c.Onset.Float()
		}
		if seconds < at {
			break
		}
		rate = c.QuartersPerMinute / 60
	}
	return from + (seconds-at)*rate
}
