package tuning_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/synth/tuning"
)

// Cents from C, in the order C C# D Eb E F F# G G# A Bb B.
func TestPublishedTables(t *testing.T) {
	tests := []struct {
		name   string
		source string
		cents  [12]float64
	}{
		{"equal", "definition",
			[12]float64{0, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100}},
		{"meantone", "Aaron 1523, eleven fifths by 1/4 syntonic comma, Eb to G#; meanquar.scl of the Scala archive: 76.049, 193.15686, 310.26471, 5/4, 503.42157, 579.47057, 696.57843, 25/16, 889.73529, 1006.84314, 1082.89214",
			[12]float64{0, 76.05, 193.16, 310.26, 386.31, 503.42, 579.47, 696.58, 772.63, 889.74, 1006.84, 1082.89}},
		{"werckmeister3", "Werckmeister 1691; werck3.scl of the Scala archive: 192.18, 390.225, 696.09, 888.27, 1092.18 and the ratios 256/243, 32/27, 4/3, 1024/729, 128/81, 16/9",
			[12]float64{0, 90.22, 192.18, 294.13, 390.22, 498.04, 588.27, 696.09, 792.18, 888.27, 996.09, 1092.18}},
		{"kirnberger3", "letter to Forkel, about 1779; kirnberger.scl of the Scala archive, reported",
			[12]float64{0, 90.22, 193.16, 294.13, 386.31, 498.04, 590.22, 696.58, 792.18, 889.74, 996.09, 1088.27}},
		{"vallotti", "six fifths F to B by 1/6 Pythagorean comma, published",
			[12]float64{0, 94.13, 196.09, 298.04, 392.18, 501.96, 592.18, 698.04, 796.09, 894.13, 1000, 1090.22}},
		{"young", "Young 1799, second temperament: Vallotti's fifths begun on C, reported to 0.001 cent in a public table",
			[12]float64{0, 90.22, 196.09, 294.13, 392.18, 498.04, 588.27, 698.04, 792.18, 894.13, 996.09, 1090.22}},
		{"neidhardt", "neidhardt1.scl of the Scala archive (Neidhardt I, 1724), reported; it has 94.14",
			[12]float64{0, 94.13, 196.09, 296.09, 392.18, 498.04, 592.18, 698.04, 796.09, 894.13, 996.09, 1092.18}},
	}
	require.Len(t, tests, len(tuning.All()), "every temperament has its table")
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := tuning.Named(tt.name)
			require.True(t, ok)
			for class, want := range tt.cents {
				cents := 1200 * math.Log2(got.Hz(60+class, 0)/got.Hz(60, 0))
				assert.InDelta(t, want, cents, 0.011, "%s, pitch class %d (%s)", tt.name, class, tt.source)
			}
		})
	}
}

// Cents by which the widest and the best thirds exceed a pure 5/4; computed
// from the same definitions by another hand.
func TestThirds(t *testing.T) {
	tests := []struct {
		name string
		root int
		wide float64
	}{
		{"werckmeister3", 60, 3.9}, {"werckmeister3", 65, 3.9},
		{"werckmeister3", 61, 21.5}, {"werckmeister3", 66, 21.5}, {"werckmeister3", 68, 21.5},
		{"kirnberger3", 60, 0},
		{"vallotti", 60, 5.9}, {"vallotti", 65, 5.9}, {"vallotti", 67, 5.9},
		{"meantone", 60, 0}, {"meantone", 61, 41.1}, {"meantone", 71, 41.1},
	}
	for _, tt := range tests {
		got, ok := tuning.Named(tt.name)
		require.True(t, ok)
		third := 1200 * math.Log2(got.Hz(tt.root+4, 0)/got.Hz(tt.root, 0)/1.25)
		assert.InDelta(t, tt.wide, third, 0.06, "%s on key %d", tt.name, tt.root)
	}
}

func TestPitch(t *testing.T) {
	for _, temperament := range tuning.All() {
		for _, pitch := range tuning.Pitches() {
			at := temperament.At(pitch.A)
			assert.InDelta(t, pitch.A, at.Hz(69, 0), 1e-9, temperament.Name)
			assert.InDelta(t, pitch.A/4, at.Hz(45, 0), 1e-9, "octaves are pure")
			assert.InDelta(t, pitch.A*math.Exp2(5.0/1200), at.Hz(69, 5), 1e-9, "cents on top")
		}
	}
	assert.InDelta(t, 440, tuning.Tuning{}.Hz(69, 0), 1e-9, "the zero value")
	_, ok := tuning.Named("no such")
	assert.False(t, ok)
}
