package perf_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"agremens/realize/music"
	"agremens/realize/perf"
)

// tempoMaps draws a map of sorted changes; some start late, some repeat an
// onset, some lie before the passage.
func tempoMaps(t *rapid.T) perf.TempoMap {
	var m perf.TempoMap
	at := music.F(rapid.Int64Range(-8, 8).Draw(t, "first"), 2)
	for range rapid.IntRange(0, 5).Draw(t, "changes") {
		m.Changes = append(m.Changes, perf.TempoChange{Onset: at, QuartersPerMinute: rapid.Float64Range(20, 300).Draw(t, "tempo")})
		at = at.Add(music.F(rapid.Int64Range(0, 12).Draw(t, "distance"), 3))
	}
	return m
}

// Quarters undoes Seconds.
func TestTempoMapInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := tempoMaps(t)
		onset := music.F(rapid.Int64Range(-40, 400).Draw(t, "onset"), rapid.Int64Range(1, 12).Draw(t, "den"))
		if back := m.Quarters(m.Seconds(onset)); math.Abs(back-onset.Float()) > 1e-9*(1+math.Abs(onset.Float())) {
			t.Fatalf("%v: %v quarters come back as %v", m, onset, back)
		}
	})
}

// Later onsets sound later, the start is at 0, and half the speed takes twice
// the time.
func TestTempoMapOrderAndScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := tempoMaps(t)
		if s := m.Seconds(music.Frac{}); math.Abs(s) > 1e-12 {
			t.Fatalf("%v: the start is at %v", m, s)
		}
		a := music.F(rapid.Int64Range(-40, 400).Draw(t, "a"), 4)
		b := a.Add(music.F(rapid.Int64Range(1, 40).Draw(t, "distance"), 8))
		if m.Seconds(a) >= m.Seconds(b) {
			t.Fatalf("%v: %v is not before %v", m, a, b)
		}
		half := m.Scaled(0.5)
		if math.Abs(half.Seconds(b)-2*m.Seconds(b)) > 1e-9*(1+math.Abs(m.Seconds(b))) {
			t.Fatalf("%v: at half speed %v comes at %v", m, b, half.Seconds(b))
		}
	})
}

func TestTempoMapExamples(t *testing.T) {
	// Worked by hand: two quarters at 60, then at 120.
	m := perf.TempoMap{Changes: []perf.TempoChange{
		{QuartersPerMinute: 60}, {Onset: music.Int(2), QuartersPerMinute: 120},
	}}
	for _, tc := range []struct {
		onset   music.Frac
		seconds float64
		tempo   float64
	}{
		{music.Int(-1), -1, 60}, {music.Int(0), 0, 60}, {music.Int(2), 2, 120}, {music.Int(4), 3, 120}, {music.F(5, 2), 2.25, 120},
	} {
		assert.InDelta(t, tc.seconds, m.Seconds(tc.onset), 1e-12, tc.onset)
		assert.Equal(t, tc.tempo, m.At(tc.onset), tc.onset)
	}
	// The first tempo also governs what comes before it.
	late := perf.TempoMap{Changes: []perf.TempoChange{{Onset: music.Int(4), QuartersPerMinute: 30}}}
	assert.InDelta(t, 8, late.Seconds(music.Int(4)), 1e-12)
	assert.Equal(t, 30.0, late.At(music.Int(0)))
	// The zero value runs at 60.
	var zero perf.TempoMap
	assert.Equal(t, 3.0, zero.Seconds(music.Int(3)))
	assert.Equal(t, 3.0, zero.Quarters(3))
	assert.Equal(t, 60.0, zero.At(music.Int(3)))
	assert.InDelta(t, 6, zero.Scaled(0.5).Seconds(music.Int(3)), 1e-12)
}
