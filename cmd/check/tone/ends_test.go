package tone

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// tone of hz from 0.1 s on, let go 0.8 s later and then falling by 60 dB in t60.
func let(hz, t60, level float64) []float64 {
	x := make([]float64, 2*Rate)
	for i := range x {
		t := float64(i)/Rate - 0.1
		if t < 0 {
			continue
		}
		x[i] = level * math.Sin(2*math.Pi*hz*t)
		if after := t - heldSeconds; after > 0 {
			x[i] *= math.Pow(10, -3*after/t60)
		}
	}
	return x
}

func TestEndsCompareBeginAndRelease(t *testing.T) {
	slow, fast, high := endsOf(let(440, 1.2, 0.5)), endsOf(let(440, 0.2, 0.1)), endsOf(let(3000, 1.2, 0.5))
	assert.InDelta(t, 0, slow.pluckBeside(fast), 0.01, "the level is taken out, and the begin is the same")
	assert.Greater(t, slow.pluckBeside(high), 5.0, "another tone begins otherwise")
	assert.InDelta(t, 0, slow.releaseBeside(endsOf(let(440, 1.2, 0.05))), 0.01)
	assert.Greater(t, slow.releaseBeside(fast), 0.2, "what is damped sooner differs, in the few bands of a plain tone")
	// 60 dB in 1.2 s: the fade weighs the first 75 ms, about 2 dB down on the whole.
	assert.InDelta(t, 1.9, slow.Fall.Ours, 0.4)
	assert.Greater(t, fast.Fall.Ours, 5.0)
}
