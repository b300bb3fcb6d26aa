package realize_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/perf"
)

// timed is how long each note of a shake or of a short figure's quick notes was,
// in ms.
type timed struct {
	work string
	ms   []float64
}

// off is the mean onset error in ms of shares, begin and end being right.
func (x timed) off(shares []float64) float64 {
	whole, sum := 0.0, 0.0
	for i, ms := range x.ms {
		whole += ms
		sum += shares[i]
	}
	at, guess, miss := 0.0, 0.0, 0.0
	for i := range x.ms[:len(x.ms)-1] {
		at += x.ms[i]
		guess += shares[i] / sum * whole
		miss += math.Abs(at - guess)
	}
	return miss / float64(len(x.ms)-1)
}

func evenly(n int) []float64 { return slices.Repeat([]float64{1}, n) }

// timedNotes sorts what was played by rule of a shake and by short figure.
func timedNotes(t *testing.T) (shakes map[int][]timed, short map[string][]timed) {
	shakes, short = map[int][]timed{}, map[string][]timed{}
	eachCase(t, func(c *played) {
		if !c.usable() || !c.Contiguous || c.Dubious || c.Kind == "grace" || len(c.Played) < 3 {
			return
		}
		var ms []float64
		for i, n := range c.Played {
			next := c.Next
			if i+1 < len(c.Played) {
				next = c.Played[i+1][1].(float64)
			}
			ms = append(ms, next-n[1].(float64))
		}
		if slices.Min(ms) <= 5 {
			return
		}
		steps, x := c.steps(), timed{workOf(c.Piece), ms}
		switch {
		case c.Kind == "trill-mark" && len(steps) >= 4 && c.Placement == "on":
			rule := realize.InnerRule(steps, c.Composer)
			shakes[rule] = append(shakes[rule], x)
		case c.Kind == "mordent" && slices.Equal(steps, []int{0, -1, 0}):
			short["mordent"] = append(short["mordent"], timed{x.work, ms[:2]})
		}
	})
	return shakes, short
}

// meanByWork is a mean in which works weigh the same.
func meanByWork(all []timed, miss func(timed) float64) float64 {
	b := byWork{}
	for _, x := range all {
		b.add(x.work, miss(x))
	}
	return b.without("")
}

// fitted are the figures of a rule nearest to what was played, drawn 15 % towards
// evenness.
func fitted(rule int, all []timed) [5]float64 {
	even := [5]float64{1, 0, 1, 1, 1}
	f := even
	miss := func(f [5]float64) float64 {
		return meanByWork(all, func(x timed) float64 { return x.off(realize.InnerShares(rule, len(x.ms), f)) })
	}
	best := miss(f)
	for _, step := range []float64{0.4, 0.2, 0.1, 0.05} {
		for range 3 {
			for k := range f {
				for _, by := range []float64{step, -step} {
					g := f
					if g[k] += by; k == 1 && math.Abs(g[k]) > 0.6 || k != 1 && g[k] < 0.3 {
						continue
					}
					if m := miss(g); m < best-1e-9 {
						best, f = m, g
					}
				}
			}
		}
	}
	for k := range f {
		f[k] += 0.15 * (even[k] - f[k])
	}
	return f
}

// TestInnerTiming: rules of inner timing are nearer to what was played than even
// notes, on works they were not fitted to. With -v it prints the table.
func TestInnerTiming(t *testing.T) {
	if testing.Short() {
		t.Skip("fits to all performances, each work left out")
	}
	shakes, short := timedNotes(t)
	fmt.Println("\n| rule | performances | works | even, ms | works left out, ms | figures |\n|---|---|---|---|---|---|")
	row := func(name string, all []timed, left func(kept []timed) func(timed) float64, figures any) {
		var works []string
		for _, x := range all {
			if !slices.Contains(works, x.work) {
				works = append(works, x.work)
			}
		}
		even := meanByWork(all, func(x timed) float64 { return x.off(evenly(len(x.ms))) })
		b := byWork{}
		for _, w := range works {
			miss := left(slices.DeleteFunc(slices.Clone(all), func(x timed) bool { return x.work == w }))
			for _, x := range all {
				if x.work == w {
					b.add(w, miss(x))
				}
			}
		}
		fmt.Printf("| %s | %d | %d | %.1f | %.1f | %v |\n", name, len(all), len(works), even, b.without(""), figures)
		assert.Less(t, b.without(""), even, "%s: nearer than even notes on works it has not seen", name)
	}
	for rule := range realize.InnerRules() {
		row(fmt.Sprint("shake ", rule), shakes[rule], func(kept []timed) func(timed) float64 {
			f := fitted(rule, kept)
			return func(x timed) float64 { return x.off(realize.InnerShares(rule, len(x.ms), f)) }
		}, realize.InnerFigures(rule))
	}
	for name, steps := range map[string][]int{"mordent": {0, -1}} {
		row(name, short[name], func(kept []timed) func(timed) float64 {
			shares := make([]float64, len(steps))
			for i := range shares {
				shares[i] = meanByWork(kept, func(x timed) float64 {
					whole := 0.0
					for _, ms := range x.ms {
						whole += ms
					}
					return x.ms[i] / whole
				})
			}
			return func(x timed) float64 { return x.off(shares) }
		}, realize.InnerQuick(name, steps))
	}
}

// What is shaped keeps each ornament's first onset, its end, its keys and their
// order, and every plain note.
func TestShapedKeepsTheRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sign := rapid.SampledFrom([]string{"T", "M", "P", "!turn!", "~"}).Draw(t, "sign")
		value := rapid.SampledFrom([]string{"1", "2", "3", "4", "6", "8"}).Draw(t, "value")
		who := rapid.SampledFrom([]string{"J. S. Bach", "W. A. Mozart", "L. van Beethoven", "F. Schubert"}).Draw(t, "composer")
		tempo := rapid.IntRange(40, 160).Draw(t, "tempo")
		text := fmt.Sprintf("X:1\nC:%s\nM:4/4\nL:1/8\nQ:1/4=%d\nK:G\n%sB%s A2 | G4 |]\n", who, tempo, sign, value)
		p, _, err := abc.Decode(text)
		if err != nil {
			t.Fatal(err)
		}
		r := realize.Read(p, realize.Taste{})
		even := realize.Perform(r, realize.PerformOptions{})
		shaped := realize.Perform(r, realize.PerformOptions{Shaped: true})
		if len(even.Notes) != len(shaped.Notes) {
			t.Fatalf("%s: %d notes, %d shaped", text, len(even.Notes), len(shaped.Notes))
		}
		for i, n := range even.Notes {
			s := shaped.Notes[i]
			first := n.Ornament == "" || n.Index == 0
			last := i+1 == len(even.Notes) || even.Notes[i+1].Ornament != n.Ornament
			if s.Pitch != n.Pitch || first && s.Onset != n.Onset || last && s.End() != n.End() || s.Dur.Sign() <= 0 {
				t.Fatalf("%s: note %d was %v, is %v", text, i, n, s)
			}
			if n.Ornament == "" && s != n {
				t.Fatalf("%s: a plain note has moved: %v, %v", text, n, s)
			}
		}
	})
}

// A long closed trill of a Classical composer leans on its first note and lets
// its last one wait.
func TestShapedTrill(t *testing.T) {
	p, _, err := abc.Decode("X:1\nC:W. A. Mozart\nM:4/4\nL:1/4\nQ:1/4=60\nK:C\nTd4 | c4 |]\n")
	assert.NoError(t, err)
	r := realize.Read(p, realize.Taste{})
	lengths := func(shaped bool) (first, middle, last float64) {
		var trill []perf.Note
		for _, n := range realize.Perform(r, realize.PerformOptions{Shaped: shaped}).Notes {
			if n.Ornament != "" {
				trill = append(trill, n)
			}
		}
		return trill[0].Dur.Float(), trill[len(trill)/2].Dur.Float(), trill[len(trill)-1].Dur.Float()
	}
	first, middle, last := lengths(false)
	assert.InDelta(t, middle, first, 1e-6)
	assert.InDelta(t, middle, last, 1e-6)
	first, middle, last = lengths(true)
	assert.InDelta(t, 2.53, first/middle, 0.1)
	assert.InDelta(t, 2.19, last/middle, 0.1)
	assert.False(t, strings.Contains(r.Ornaments[0].Figure, "short"))
}
