package realize_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"agremens/cmd/agremens/po"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/score"
)

// benchPassage has seven ornaments in each pair of bars.
func benchPassage(b *testing.B, pairs int) *score.Passage {
	text := "X:1\nM:4/4\nL:1/8\nQ:1/4=80\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:D\n" +
		strings.Repeat("[V:R] (a Tg2) f Pe2 M^d2 | {f}e2 !turn!d2 {/g}f2 {ef}g2 |\n[V:L] D,A,F,A, C,A,E,A, | B,,F,D,F, A,,E,C,E, |\n", pairs)
	p, _, err := abc.Decode(text)
	if err != nil {
		b.Fatal(err)
	}
	return p
}

// BenchmarkRead reads passages of growing length: the time for one ornament
// stays as it is.
func BenchmarkRead(b *testing.B) {
	for _, bars := range []int{50, 100, 200, 400, 800} {
		b.Run(strconv.Itoa(bars)+"bars", func(b *testing.B) {
			p := benchPassage(b, bars/2)
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				n = len(realize.Read(p, realize.Taste{}).Ornaments)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/ornament")
			b.ReportMetric(float64(n), "ornaments")
		})
	}
}

// BenchmarkReadGerman is the same in German: what translating costs.
func BenchmarkReadGerman(b *testing.B) {
	german, err := po.Catalogue("de")
	if err != nil {
		b.Fatal(err)
	}
	p := benchPassage(b, 25)
	b.ReportAllocs()
	for b.Loop() {
		realize.Read(p, realize.Taste{Words: german})
	}
}

// BenchmarkPerform turns the same readings into what sounds.
func BenchmarkPerform(b *testing.B) {
	for _, bars := range []int{50, 100, 200, 400, 800} {
		b.Run(strconv.Itoa(bars)+"bars", func(b *testing.B) {
			r := realize.Read(benchPassage(b, bars/2), realize.Taste{})
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				n = len(realize.Perform(r, realize.PerformOptions{}).Notes)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/note")
		})
	}
}

// BenchmarkMovement opens, reads and realizes a whole sonata movement, where
// there is one.
func BenchmarkMovement(b *testing.B) {
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = "../../shared/reference"
	}
	data, err := os.ReadFile(filepath.Join(root, "scores", "Beethoven-21-1.musicxml"))
	if err != nil {
		b.Skipf("no reference scores at %s", root)
	}
	res, err := musicxml.Decode(data, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("open", func(b *testing.B) {
		b.ReportAllocs()
		b.SetBytes(int64(len(data)))
		for b.Loop() {
			if _, err := musicxml.Decode(data, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("realize", func(b *testing.B) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			r := realize.Read(res.Passage, realize.Taste{})
			realize.Perform(r, realize.PerformOptions{})
			n = len(r.Ornaments)
		}
		b.ReportMetric(float64(n), "ornaments")
		b.ReportMetric(float64(len(res.Passage.Chords)), "chords")
	})
}
