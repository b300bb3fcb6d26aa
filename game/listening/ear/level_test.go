package ear

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// tone is a sound of seconds that begins after a while, beside noise.
func tone(loud, noise, silent, seconds float64) []float32 {
	x := make([]float32, int(48000*seconds))
	random := uint32(1)
	for i := range x {
		random = random*1664525 + 1013904223 // Numerical Recipes' generator, from memory
		v := noise * (float64(random>>8)/(1<<23) - 1)
		if float64(i) > silent*48000 {
			v += loud * math.Sin(float64(i)/20)
		}
		x[i] = float32(max(-1, min(1, v)))
	}
	return x
}

func TestLevel(t *testing.T) {
	for name, tt := range map[string]struct {
		sound []float32
		says  Level
		after float64 // s, at the latest
	}{
		"well":                      {tone(0.3, 0.005, 1, 7), LevelFine, 7},
		"soft but near":             {tone(0.03, 0.001, 1, 7), LevelFine, 7},
		"clipped":                   {tone(1.5, 0.005, 1, 7), LevelClipped, 1.2},
		"far away":                  {tone(0.004, 0.001, 1, 7), LevelFaint, 5.1},
		"silence":                   {make([]float32, 7*48000), LevelFaint, 5.1},
		"as loud as the noise":      {tone(0.1, 0.1, 1, 7), LevelNoisy, 5.1},
		"noise alone":               {tone(0, 0.2, 1, 7), LevelNoisy, 5.1},
		"broken numbers":            {[]float32{float32(math.NaN()), float32(math.Inf(1))}, LevelFine, 1},
		"stopped before it is sure": {tone(0, 0.2, 1, 4), LevelFine, 4},
	} {
		t.Run(name, func(t *testing.T) {
			l, said, at := level{rate: 48000}, LevelFine, 0.0
			for i := 0; i < len(tt.sound); i += 4096 {
				if s := l.feed(tt.sound[i:min(len(tt.sound), i+4096)]); s != LevelFine {
					assert.Equal(t, LevelFine, said, "said once")
					said, at = s, float64(i+4096)/48000
				}
			}
			assert.Equal(t, tt.says, said)
			assert.LessOrEqual(t, at, tt.after+0.1)
		})
	}
}
