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
// first also governs what stands before it. The zero value runs at 60.
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
	if len(t.Changes) == 0 {
		return onset.Float()
	}
	seconds, from := 0.0, music.Frac{}
	for i, c := range t.Changes {
		last := i == len(t.Changes)-1
		if last || onset.Cmp(t.Changes[i+1].Onset) <= 0 {
			return seconds + onset.Sub(from).Float()*60/c.QuartersPerMinute
		}
		if until := t.Changes[i+1].Onset; from.Less(until) {
			seconds += until.Sub(from).Float() * 60 / c.QuartersPerMinute
			from = until
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
	at, from := 0.0, 0.0
	for i, c := range t.Changes {
		rate := c.QuartersPerMinute / 60
		if i < len(t.Changes)-1 {
			until := t.Changes[i+1].Onset.Float()
			if span := (until - from) / rate; until > from && seconds >= at+span {
				at, from = at+span, until
				continue
			} else if until <= from {
				continue
			}
		}
		return from + (seconds-at)*rate
	}
	return from
}
