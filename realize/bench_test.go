package realize_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
)

// BenchmarkGrowth shows that time grows with the length of the passage.
func BenchmarkGrowth(b *testing.B) {
	for _, pairs := range []int{25, 100, 400} {
		b.Run(strconv.Itoa(2*pairs)+"bars", func(b *testing.B) {
			text := "X:1\nM:4/4\nL:1/8\nQ:1/4=80\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:D\n" +
				strings.Repeat("[V:R] (a Tg2) f Pe2 M^d2 | {f}e2 !turn!d2 {/g}f2 {ef}g2 |\n[V:L] D,A,F,A, C,A,E,A, | B,,F,D,F, A,,E,C,E, |\n", pairs)
			p, _, err := abc.Decode(text)
			if err != nil {
				b.Fatal(err)
			}
			n := 0
			for b.Loop() {
				n = len(realize.Read(p, realize.Taste{}).Ornaments)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/ornament")
		})
	}
}

// BenchmarkSonata reads and realizes a whole movement, where there is one.
func BenchmarkSonata(b *testing.B) {
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = "../../shared/reference"
	}
	data, err := os.ReadFile(filepath.Join(root, "scores", "Beethoven-21-1.musicxml"))
	if err != nil {
		b.Skip("no reference scores")
	}
	res, err := musicxml.Decode(data, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		realize.Perform(realize.Read(res.Passage, realize.Taste{}), realize.PerformOptions{})
	}
}
