package rate_test

import (
	"testing"

	"agremens/game/rate"

	"github.com/stretchr/testify/assert"
)

// burst taps evenly from a time on until the burst is over, and returns the
// time of the last tap.
func burst(t *rate.Test, from, perSecond float64, with string) float64 {
	at := from
	for t.State == rate.Ready || t.State == rate.Bursting {
		t.Tap(at, with, with == "glass")
		at += 1000 / perSecond
	}
	return at - 1000/perSecond
}

// Three bursts of three seconds with twenty seconds' rest, two under twelve
// (the issue's own numbers).
func TestBurstsAndRests(t *testing.T) {
	for _, c := range []struct {
		name   string
		young  bool
		bursts int
	}{{"three", false, 3}, {"two under twelve", true, 2}} {
		t.Run(c.name, func(t *testing.T) {
			m := rate.New(c.young)
			at := 1000.0
			for n := 1; n <= c.bursts; n++ {
				end := burst(m, at, 8, "midi")
				assert.InDelta(t, 3000, end-at, 130, "a burst lasts three seconds")
				if n == c.bursts {
					break
				}
				assert.Equal(t, rate.Resting, m.State)
				m.Tap(end+5000, "midi", false)
				assert.Equal(t, rate.Resting, m.State, "taps in a rest do nothing")
				assert.Equal(t, "Rest. Shake the hand out. 15 s", m.Line(end+5000, nil))
				m.Tick(end + 19_990)
				assert.Equal(t, rate.Resting, m.State)
				m.Tick(end + 20_000)
				assert.Equal(t, rate.Ready, m.State)
				at = end + 30_000
			}
			assert.Equal(t, rate.Measured, m.State)
			assert.InDelta(t, 8, m.Rate().PerSecond, 0.05)
			assert.Equal(t, 8.0, m.Notes())
			assert.Contains(t, m.Line(0, nil), "8.0 notes per second")
			assert.NotContains(t, m.Line(0, nil), "glass")
		})
	}
}

// The first slowing ends a burst, long before its time is up.
func TestSlowingEndsIt(t *testing.T) {
	m := rate.New(false)
	at := 0.0
	for i := 0; m.State != rate.Resting; i++ {
		m.Tap(at, "keys", false)
		gap := 100.0
		if i > 12 {
			gap = 130
		}
		at += gap
		assert.Less(t, at, 2900.0)
	}
	assert.InDelta(t, 10, m.Rate().PerSecond, 0.3, "the slow end does not count")
}

func TestGlassIsAHint(t *testing.T) {
	m := rate.New(true)
	m.Tick(burst(m, 0, 12, "glass") + 20_000)
	burst(m, 100_000, 12, "glass")
	assert.True(t, m.Rate().Hint)
	assert.Contains(t, m.Line(0, nil), "only a rough guide")
}

func TestWhatDoesNotCount(t *testing.T) {
	m := rate.New(false)
	m.Tap(0, "keys", false)
	m.Tap(100, "keys", false)
	assert.True(t, m.Tick(1400), "nothing more came")
	assert.Equal(t, rate.Resting, m.State)
	assert.Zero(t, m.Rate().PerSecond)
	m.Tick(21_400)
	assert.Contains(t, m.Line(21_400, nil), "Two adjacent keys", "it is tried again")

	m.Tick(burst(m, 30_000, 8, "keys") + 20_000)
	assert.Equal(t, "Burst 2 of 3, when you like.", m.Line(0, nil))
	m.Tap(60_000, "midi", false)
	assert.Contains(t, m.Line(0, nil), "Burst 1 of 3", "on another keyboard it begins anew")
	assert.Equal(t, "midi", m.With())
}
