package export_test

import (
	"fmt"
	"strings"
	"testing"

	"agremens/game/engrave"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"

	"github.com/stretchr/testify/require"
)

// BenchmarkLength does the long works on a movement, on one four times and on
// one sixteen times as long: the time for one bar must stay as it is. Each
// pair of bars holds seven ornaments.
func BenchmarkLength(b *testing.B) {
	for _, bars := range []int{40, 160, 640} {
		text := "X:1\nM:4/4\nL:1/8\nQ:1/4=80\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:D\n" +
			strings.Repeat("[V:R] (a Tg2) f Pe2 M^d2 | {f}e2 !turn!d2 {/g}f2 {ef}g2 |\n[V:L] D,A,F,A, C,A,E,A, | B,,F,D,F, A,,E,C,E, |\n", bars/2)
		passage, _, err := abc.Decode(text)
		require.NoError(b, err)
		file, err := musicxml.Encode(passage)
		require.NoError(b, err)
		reading := realize.Read(passage, realize.Taste{})
		for _, work := range []struct {
			name string
			do   func() error
		}{
			{"import", func() error { _, err := musicxml.Decode(file, nil); return err }},
			{"read", func() error { realize.Read(passage, realize.Taste{}); return nil }},
			{"perform", func() error { realize.Perform(reading, realize.PerformOptions{}); return nil }},
			{"engrave-page", func() error { engrave.Page(passage, reading, 125, engrave.Options{Played: true}); return nil }},
			{"engrave-run", func() error { engrave.Run(passage, reading, engrave.Options{Played: true}); return nil }},
		} {
			b.Run(fmt.Sprintf("%s/%dbars", work.name, bars), func(b *testing.B) {
				for b.Loop() {
					if err := work.do(); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(bars), "µs/bar")
			})
		}
	}
}
