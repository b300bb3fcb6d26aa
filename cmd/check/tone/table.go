package tone

import (
	"fmt"
	"io"
	"math"
)

// Row is one key of an instrument at one strength beside the recordings.
type Row struct {
	Key      int
	Strength float64
	// Theirs is the mean difference between recordings, Ours the mean from ours
	// to them, in dB.
	Theirs, Ours float64
	Fall, Bright Span
}

// Span is what recordings measure at most and at least, and what ours does.
type Span struct{ Low, High, Ours float64 }

// Inside reports whether ours lies between the recordings.
func (s Span) Inside() bool { return s.Low <= s.Ours && s.Ours <= s.High }

func spanOf(ours float64, theirs []float64) Span {
	s := Span{Low: math.Inf(1), High: math.Inf(-1), Ours: ours}
	for _, x := range theirs {
		s.Low, s.High = min(s.Low, x), max(s.High, x)
	}
	return s
}

// Compare sets a key of ours beside recordings of it.
func (b Bank) Compare(instrument string, sources []Source, key int, strength float64) (Row, error) {
	r := Row{Key: key, Strength: strength}
	x := held(instrument, key, strength)
	ours := MelOf(x)
	var pictures []Mel
	var fall, bright []float64
	for _, s := range sources {
		y, err := b.Note(s, key, strength)
		if err != nil {
			return r, err
		}
		m := MelOf(y)
		for _, other := range pictures {
			r.Theirs += Apart(m, other)
		}
		pictures = append(pictures, m)
		r.Ours += Apart(ours, m)
		fall, bright = append(fall, Fallen(y)), append(bright, Centroid(y))
	}
	n := float64(len(sources))
	r.Ours /= n
	r.Theirs /= max(1, n*(n-1)/2)
	r.Fall, r.Bright = spanOf(Fallen(x), fall), spanOf(Centroid(x), bright)
	return r, nil
}

// Print writes the table of an instrument and its summary.
func Print(w io.Writer, title string, rows []Row) {
	fmt.Fprintf(w, "\n%s\n%4s %8s %8s %6s   %-18s %-18s\n", title, "key", "strength", "theirs", "ours", "to -20 dB, s", "centroid, Hz")
	theirs, ours, near, fall, bright := 0.0, 0.0, 0, 0, 0
	mark := func(s Span) string {
		if s.Inside() || s.Low == s.High {
			return " "
		}
		return "*"
	}
	for _, r := range rows {
		fmt.Fprintf(w, "%4d %8.1f %8.1f %6.1f   %4.2f–%4.2f %5.2f%s   %4.0f–%4.0f %6.0f%s\n", r.Key, r.Strength, r.Theirs, r.Ours,
			r.Fall.Low, r.Fall.High, r.Fall.Ours, mark(r.Fall), r.Bright.Low, r.Bright.High, r.Bright.Ours, mark(r.Bright))
		theirs += r.Theirs
		ours += r.Ours
		near += count(r.Ours <= r.Theirs)
		fall += count(r.Fall.Inside())
		bright += count(r.Bright.Inside())
	}
	n := float64(len(rows))
	if theirs == 0 {
		fmt.Fprintf(w, "mean: ours to the recording %.1f dB\n", ours/n)
		return
	}
	fmt.Fprintf(w, "mean: between the recordings %.1f dB, ours to them %.1f; ours as near as they are at %d of %d, decay inside theirs at %d, centroid at %d\n",
		theirs/n, ours/n, near, len(rows), fall, bright)
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
