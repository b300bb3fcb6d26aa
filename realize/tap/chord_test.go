package tap_test

import (
	"testing"

	"agremens/realize/perf"
	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
)

// chords are three-note chords, one a beat, on keys.
func chords() []tap.Want {
	var want []tap.Want
	for beat := range 8 {
		for _, key := range []int{60, 64, 67} {
			want = append(want, tap.Want{At: 1000 + 600*float64(beat), Onset: q(int64(beat), 1), Key: key, Measured: true})
		}
	}
	return want
}

func TestChords(t *testing.T) {
	want := chords()
	cases := []struct {
		name  string
		taps  func(w tap.Want, n int) []tap.Tap
		extra int
		keys  int // on others than planned
	}{
		{"one tap for each chord", func(w tap.Want, n int) []tap.Tap {
			if n == 0 {
				return []tap.Tap{{At: w.At}}
			}
			return nil
		}, 0, 0},
		{"all keys, 15 ms apart", func(w tap.Want, n int) []tap.Tap {
			return []tap.Tap{{At: w.At + 15*float64(n), Key: w.Key}}
		}, 0, 0},
		{"a fourth key in each", func(w tap.Want, n int) []tap.Tap {
			taps := []tap.Tap{{At: w.At + 2*float64(n), Key: w.Key}}
			if n == 2 {
				taps = append(taps, tap.Tap{At: w.At + 100, Key: 71})
			}
			return taps
		}, 8, 0},
		{"one key a step too high", func(w tap.Want, n int) []tap.Tap {
			return []tap.Tap{{At: w.At + 10*float64(n), Key: w.Key + n/2}}
		}, 0, 8},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var taps []tap.Tap
			for i, w := range want {
				taps = append(taps, c.taps(w, i%3)...)
			}
			r := tap.Judge(want, taps, tap.Options{BeatMS: 600})
			assert.Equal(t, 8, r.Hit)
			assert.Zero(t, r.Missed)
			assert.Equal(t, c.extra, r.Extra)
			assert.Equal(t, c.keys, r.WrongKeys)
		})
	}
}

// A bouncing switch makes no extra tap.
func TestBounce(t *testing.T) {
	want := study(700, shortTrill, 3)
	var taps []tap.Tap
	for _, x := range exact(want, 0) {
		taps = append(taps, x, tap.Tap{At: x.At + 8, Hand: x.Hand})
	}
	r := tap.Judge(want, taps, tap.Options{BeatMS: 700})
	assert.Equal(t, len(want), r.Hit)
	assert.Zero(t, r.Extra)
	assert.InDelta(t, 0, r.MeanMS, 1e-9)
}

func TestHandsTogether(t *testing.T) {
	want := study(700, mordent, 4)
	r := tap.Judge(want, delayed(want, func(w tap.Want) (float64, bool) {
		return 60 * b2f(w.Hand == perf.Right), true
	}), tap.Options{BeatMS: 700})
	assert.InDelta(t, 60, r.Together.MeanMS, 1e-6)
	assert.GreaterOrEqual(t, r.Together.N, 6)
	assert.Equal(t, tap.CodeHandsApart, r.Findings[0].Code)
}

// An appoggiatura let go long before the main note sounds.
func TestRelease(t *testing.T) {
	want := study(800, leaning, 4)
	for i := range want {
		if want[i].Ornament != "" {
			want[i].Until = want[i].At + 400
		}
	}
	play := func(held float64) tap.Result {
		taps := exact(want, 0)
		for i := range taps {
			taps[i].Until = taps[i].At + held
		}
		return tap.Judge(want, taps, tap.Options{BeatMS: 800})
	}
	assert.Equal(t, tap.CodeClean, play(390).Findings[0].Code)
	r := play(200)
	assert.Equal(t, tap.CodeLetsGo, r.Findings[0].Code)
	assert.InDelta(t, -200, r.Ornaments[0].Release.V, 1e-6)
}
