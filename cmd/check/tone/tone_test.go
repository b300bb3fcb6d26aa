package tone

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// sine is so many seconds of a sinusoid that falls by so many dB a second.
func sine(hz, seconds, fall float64) []float64 {
	x := make([]float64, int(seconds*Rate))
	for i := range x {
		t := float64(i) / Rate
		x[i] = 0.5 * math.Sin(2*math.Pi*hz*t) * math.Pow(10, -fall*t/20)
	}
	return x
}

func TestApart(t *testing.T) {
	a := MelOf(sine(440, 3, 20))
	quiet := sine(440, 3, 20)
	for i := range quiet {
		quiet[i] /= 8
	}
	assert.InDelta(t, 0, Apart(a, MelOf(quiet)), 1e-9, "the level is left out")
	assert.Greater(t, Apart(a, MelOf(sine(440, 3, 40))), 0.5, "another decay")
	assert.Greater(t, Apart(a, MelOf(sine(880, 3, 20))), 1.0, "another octave")
}

// A sinusoid's energy falls where BandGains says.
func TestBandGains(t *testing.T) {
	for _, hz := range []float64{200, 1000, 5000} {
		row, gains := MelOf(sine(hz, 3, 0))[10], BandGains(hz)
		loudest, want := 0, 0
		for b := range row {
			if row[b] > row[loudest] {
				loudest = b
			}
			if gains[b] > gains[want] {
				want = b
			}
		}
		assert.Equal(t, want, loudest, "%g Hz", hz)
	}
}

func TestFallen(t *testing.T) {
	for _, fall := range []float64{10, 20, 40} {
		assert.InDelta(t, 20/fall, Fallen(sine(440, 4, fall)), 0.03, "%g dB a second", fall)
	}
}

func TestCentroid(t *testing.T) {
	assert.InDelta(t, 1000, Centroid(sine(1000, 2, 10)), 2)
	both := sine(1000, 2, 0)
	for i, s := range sine(3000, 2, 0) {
		both[i] += s
	}
	assert.InDelta(t, 2000, Centroid(both), 3, "two as loud: half-way")
}

func TestAttackAt(t *testing.T) {
	x := append(make([]float64, Rate/10), sine(440, 1, 10)...)
	assert.InDelta(t, Rate/10, attackAt(x), Rate/1000)
}

// A sine of 997 Hz at full scale in one channel measures -3.01 LUFS (ITU-R
// BS.1770-4); in both 3.01 more.
func TestLoudness(t *testing.T) {
	tone := func(left, right float64) []float32 {
		x := make([]float32, 2*4*Rate)
		for i := range len(x) / 2 {
			s := math.Sin(2 * math.Pi * 997 * float64(i) / Rate)
			x[2*i], x[2*i+1] = float32(left*s), float32(right*s)
		}
		return x
	}
	assert.InDelta(t, -3.01, Loudness(tone(1, 0)), 0.02)
	assert.InDelta(t, 0, Loudness(tone(1, 1)), 0.02)
	assert.InDelta(t, -23.01, Loudness(tone(0.1, 0)), 0.02)
}

// Two strokes with silence between: the second speaks at once.
func TestAgain(t *testing.T) {
	stroke := sine(440, 0.06, 100)
	x := make([]float64, 2*Rate)
	copy(x[Rate/10:], stroke)
	copy(x[Rate/5:], stroke)
	a := again(x, 0, 0.1)
	assert.Greater(t, a.Dip, 40.0)
	assert.LessOrEqual(t, a.Speak, 4.0)
}

func TestResampled(t *testing.T) {
	up := resampled(sine(440, 1, 0), math.Exp2(1.0/12))
	assert.InDelta(t, 466.16, Centroid(up), 1)
}

// Numbers of a MIDI file, from the examples of the standard (from memory).
func TestVariable(t *testing.T) {
	assert.Equal(t, []byte{0x7F}, variable(0x7F))
	assert.Equal(t, []byte{0x81, 0x00}, variable(0x80))
	assert.Equal(t, []byte{0xFF, 0x7F}, variable(0x3FFF))
	assert.Equal(t, []byte{0x81, 0x80, 0x00}, variable(0x4000))
}
