package tone

import (
	"fmt"
	"io"
	"math"

	"agremens/synth"
)

// How a note begins and how it ends is compared apart, for it is over before the
// table of whole notes weighs it: the pluck (or the pipe's speech) in the first
// 30 ms, and what sounds in the 100 ms after the key is let go.
const (
	pluckSeconds   = 0.03
	releaseSeconds = 0.1
	heldSeconds    = 0.8
	endSeconds     = 1.6 // from one key to the next
	endStrength    = 0.6
)

// Ends is a key's begin and end beside recordings of it. Differences are means
// over the bands in dB: of the pluck with its level taken out, of the release with
// the level just before it taken out, so that how fast the note is damped counts.
type Ends struct {
	Key                        int
	PluckTheirs, PluckOurs     float64
	ReleaseTheirs, ReleaseOurs float64
	Fall                       Span // dB from the 100 ms before to the 100 ms after
	pluck, before, after       []float64
}

// endsOf measures sound in which a key is struck at 0.1 s and let go
// heldSeconds later.
func endsOf(x []float64) Ends {
	up := int((0.1 + heldSeconds) * Rate)
	n := int(releaseSeconds * Rate)
	at := attackAt(x)
	e := Ends{
		pluck:  bandsOf(x[at : at+int(pluckSeconds*Rate)]),
		before: bandsOf(x[up-n : up]),
		after:  bandsOf(x[up : up+n]),
	}
	e.Fall.Ours = total(e.before) - total(e.after)
	return e
}

// total is the level of all bands together in dB.
func total(levels []float64) float64 {
	sum := 0.0
	for _, l := range levels {
		sum += math.Pow(10, l/10)
	}
	return 10 * math.Log10(sum)
}

// bandsOf gives the levels in dB of a stretch of sound in the bands of [Mel],
// faded out over its second half so that its end is no click.
func bandsOf(x []float64) []float64 {
	n := 1 << 13
	buf := make([]complex128, n)
	for i, s := range x {
		g := 1.0
		if half := len(x) / 2; i > half {
			g = 0.5 + 0.5*math.Cos(math.Pi*float64(i-half)/float64(len(x)-half))
		}
		buf[i] = complex(s*g, 0)
	}
	fft(buf)
	out := make([]float64, bands)
	for i := range buf[:n/2] {
		p := real(buf[i])*real(buf[i]) + imag(buf[i])*imag(buf[i])
		for b, g := range BandGains(float64(i) * Rate / float64(n)) {
			out[b] += g * p
		}
	}
	for b, sum := range out {
		out[b] = 10 * math.Log10(sum+1e-20)
	}
	return out
}

// beside is the mean difference of two spectra once each is measured against its
// own level; what lies more than floor below it does not count as different.
func beside(a []float64, aLevel float64, b []float64, bLevel float64) float64 {
	sum := 0.0
	for i := range a {
		sum += math.Abs(max(a[i]-aLevel, -floor) - max(b[i]-bLevel, -floor))
	}
	return sum / float64(len(a))
}

func (e Ends) pluckBeside(o Ends) float64 {
	return beside(e.pluck, total(e.pluck), o.pluck, total(o.pluck))
}

func (e Ends) releaseBeside(o Ends) float64 {
	return beside(e.after, total(e.before), o.after, total(o.before))
}

// ends sets the keys of an instrument of ours beside recordings of them.
func (b Bank) ends(instrument string, sources []Source) ([]Ends, error) {
	theirs := make([][]Ends, len(sources))
	for i, s := range sources {
		var notes []Struck
		for k, key := range Keys {
			at := 0.1 + endSeconds*float64(k)
			notes = append(notes, Struck{key, velocity(endStrength), at, at + heldSeconds})
		}
		x, err := b.Played(s, notes, endSeconds*float64(len(Keys)))
		if err != nil {
			return nil, err
		}
		for k := range Keys {
			theirs[i] = append(theirs[i], endsOf(x[int(endSeconds*float64(k)*Rate):]))
		}
	}
	var out []Ends
	for k, key := range Keys {
		e := endsOf(sounded(instrument, synth.Sequence{
			Notes:  []synth.Note{{Start: Rate / 10, End: int64((0.1 + heldSeconds) * Rate), Key: key, Strength: endStrength}},
			Length: int64(endSeconds * Rate),
		}))
		e.Key = key
		var falls []float64
		pairs := 0.0
		for i := range theirs {
			e.PluckOurs += e.pluckBeside(theirs[i][k]) / float64(len(theirs))
			e.ReleaseOurs += e.releaseBeside(theirs[i][k]) / float64(len(theirs))
			falls = append(falls, theirs[i][k].Fall.Ours)
			for j := range i {
				e.PluckTheirs += theirs[i][k].pluckBeside(theirs[j][k])
				e.ReleaseTheirs += theirs[i][k].releaseBeside(theirs[j][k])
				pairs++
			}
		}
		e.PluckTheirs /= max(1, pairs)
		e.ReleaseTheirs /= max(1, pairs)
		e.Fall = spanOf(e.Fall.Ours, falls)
		out = append(out, e)
	}
	return out, nil
}

// printEnds writes the table of begins and ends and its summary.
func printEnds(w io.Writer, title string, rows []Ends) {
	fmt.Fprintf(w, "\n%s: first 30 ms, and 100 ms after the key is let go\n%4s %8s %6s %10s %6s   %s\n", title, "key", "theirs", "ours", "theirs", "ours", "falls by, dB")
	var sum [4]float64
	inside := 0
	for _, e := range rows {
		mark := "*"
		if e.Fall.Inside() {
			mark = " "
			inside++
		}
		fmt.Fprintf(w, "%4d %8.1f %6.1f %10.1f %6.1f   %4.1f–%4.1f %5.1f%s\n", e.Key, e.PluckTheirs, e.PluckOurs, e.ReleaseTheirs, e.ReleaseOurs, e.Fall.Low, e.Fall.High, e.Fall.Ours, mark)
		for i, x := range [...]float64{e.PluckTheirs, e.PluckOurs, e.ReleaseTheirs, e.ReleaseOurs} {
			sum[i] += x / float64(len(rows))
		}
	}
	fmt.Fprintf(w, "mean: first 30 ms %.1f dB between the recordings, ours to them %.1f; let go %.1f and %.1f; falls as theirs at %d of %d\n", sum[0], sum[1], sum[2], sum[3], inside, len(rows))
}
