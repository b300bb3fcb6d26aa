package hear

import "math"

// gauge measures what the microphone gives: level, noise, clipping, and
// makes numbers of what is none.
type gauge struct {
	silentInput bool // MIDI: there is no sound
	clean       []float32
	power       []float32 // of blocks, dB; the last minutes
	sum         float64
	count       int
	peak        float32
	atPeak      int // samples in runs of the same extreme value
	run         int
	lastSample  float32
	samples     int
}

const gaugeBlock = 2048

// take returns the samples with all that are no number, or absurdly large,
// set to silence.
func (g *gauge) take(x []float32) []float32 {
	g.clean = append(g.clean[:0], x...)
	for i, v := range g.clean {
		if !(v <= 64 && v >= -64) {
			v = 0
			g.clean[i] = 0
		}
		a := max(v, -v)
		if v == g.lastSample && a > 0.05 {
			g.run++
			if g.run >= 2 && a >= 0.98*g.peak {
				g.atPeak++
			}
		} else {
			g.run = 0
		}
		g.lastSample = v
		if a > g.peak*1.02 {
			g.peak, g.atPeak = a, 0
		}
		g.sum += float64(v) * float64(v)
		g.count++
		if g.count == gaugeBlock {
			g.power = append(g.power, float32(10*math.Log10(g.sum/gaugeBlock+1e-12)))
			if len(g.power) > 12000 {
				g.power = append(g.power[:0], g.power[6000:]...)
			}
			g.sum, g.count = 0, 0
		}
	}
	g.samples += len(x)
	return g.clean
}

// Signal is what the microphone gave.
type Signal struct {
	// SNR is the level of the playing above that of the quietest moments, dB,
	// 0 to 60.
	SNR float64
	// Peak is the largest sample, 1 is full scale; Clipped says that the sound
	// was cut at its peaks.
	Peak    float64
	Clipped bool
}

func (g *gauge) signal() Signal {
	s := Signal{Peak: float64(g.peak), Clipped: g.atPeak >= 12}
	if len(g.power) == 0 {
		return s
	}
	sorted := append([]float32(nil), g.power...)
	sortFloats(sorted)
	low, high := float64(sorted[len(sorted)/20]), float64(sorted[len(sorted)*3/4])
	s.SNR = math.Round(max(0, min(60, high-low)))
	return s
}

func sortFloats(x []float32) {
	// Shell's sort: short, and compiled once.
	for gap := len(x) / 2; gap > 0; gap /= 2 {
		for i := gap; i < len(x); i++ {
			for j := i; j >= gap && x[j] < x[j-gap]; j -= gap {
				x[j], x[j-gap] = x[j-gap], x[j]
			}
		}
	}
}
