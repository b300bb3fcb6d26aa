package tone

import "math"

// attackAt is where a sound begins: the first sample whose 1 ms level is within
// 30 dB of the loudest within the first second.
func attackAt(x []float64) int {
	env := levels(x[:min(len(x), Rate)], Rate/1000)
	top := 0.0
	for _, e := range env {
		top = max(top, e)
	}
	for i, e := range env {
		if e > top/31.6 {
			return i * (Rate / 1000)
		}
	}
	return 0
}

// levels are the root mean squares of successive stretches of n samples.
func levels(x []float64, n int) []float64 {
	var out []float64
	for at := 0; at+n <= len(x); at += n {
		sum := 0.0
		for _, s := range x[at : at+n] {
			sum += s * s
		}
		out = append(out, math.Sqrt(sum/float64(n)))
	}
	return out
}

// Fallen is the seconds after which a sound's 50 ms level has gone 20 dB below
// its loudest for good.
func Fallen(x []float64) float64 {
	const hop = Rate / 200
	fine := levels(x, hop)
	var env []float64
	for i := 0; i+10 <= len(fine); i++ {
		sum := 0.0
		for _, l := range fine[i : i+10] {
			sum += l * l
		}
		env = append(env, math.Sqrt(sum/10))
	}
	top := 0.0
	for _, e := range env {
		top = max(top, e)
	}
	last := 0
	for i, e := range env {
		if e > top/10 {
			last = i
		}
	}
	return float64(last) * hop / Rate
}

// Centroid is the mean frequency of the first second, weighed by amplitude
// squared.
func Centroid(x []float64) float64 {
	buf := make([]complex128, 1<<16)
	spectrum(buf, x[:min(len(x), Rate)], -(len(buf)-Rate)/2)
	sum, weight := 0.0, 0.0
	for i, p := range buf[:len(buf)/2] {
		e := real(p)*real(p) + imag(p)*imag(p)
		sum += e * float64(i) * Rate / float64(len(buf))
		weight += e
	}
	return sum / weight
}
