package tap

import (
	"math"
	"slices"
)

func mean(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// deviation returns the sample standard deviation; 0 for fewer than two values.
func deviation(x []float64) float64 {
	if len(x) < 2 {
		return 0
	}
	m, sum := mean(x), 0.0
	for _, v := range x {
		sum += (v - m) * (v - m)
	}
	return math.Sqrt(sum / float64(len(x)-1))
}

func median(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	s := slices.Sorted(slices.Values(x))
	n := len(s)
	return (s[(n-1)/2] + s[n/2]) / 2
}

// midMean returns the mean of the middle half: as robust as one needs
// against a few strays, and steadier than the median.
func midMean(x []float64) float64 {
	s := slices.Sorted(slices.Values(x))
	cut := len(s) / 4
	return mean(s[cut : len(s)-cut])
}

// slopeError returns the standard error of a fitted slope over x for a given
// scatter of y; infinity where x does not vary.
func slopeError(x []float64, scatter float64) float64 {
	m, sum := mean(x), 0.0
	for _, v := range x {
		sum += (v - m) * (v - m)
	}
	return scatter / math.Sqrt(sum)
}

// medianSlope returns the median slope of all pairs; one stray does not move it.
func medianSlope(x, y []float64) float64 {
	var slopes []float64
	for i := range x {
		for k := i + 1; k < len(x); k++ {
			if d := x[k] - x[i]; d > 0 {
				slopes = append(slopes, (y[k]-y[i])/d)
			}
		}
	}
	return median(slopes)
}

// halfSlope returns the median slope between points half the list apart: what
// medianSlope does for short lists, in linear time.
func halfSlope(x, y []float64) float64 {
	var slopes []float64
	half := len(x) / 2
	for i := 0; i+half < len(x); i++ {
		if d := x[i+half] - x[i]; d > 0 {
			slopes = append(slopes, (y[i+half]-y[i])/d)
		}
	}
	return median(slopes)
}
