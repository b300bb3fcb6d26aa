package realize_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/realize"
	"agremens/realize/codec/abc"
)

// What is made of every sign of the built-in passages, and of places that these
// do not have, is written down to be read: notes, borrowed time, fingers, words.
// AGREMENS_UPDATE=1 writes it anew; look at every line that changed.
func TestReadingsAreTheGoldenOnes(t *testing.T) {
	const golden = "testdata/readings.golden"
	var b strings.Builder
	for _, a := range assets.Passages() {
		p, _, err := abc.Decode(a.ABC)
		require.NoError(t, err)
		fmt.Fprintf(&b, "# %s\n", p.Title)
		writeReading(&b, realize.Read(p, realize.Taste{}))
	}
	for _, c := range readCases(t, "testdata/places.txt") {
		fmt.Fprintf(&b, "# %s (%s)\n", c.name, c.tradition)
		writeReading(&b, c.read(t))
	}
	if os.Getenv("AGREMENS_UPDATE") != "" {
		require.NoError(t, os.WriteFile(golden, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	assert.Equal(t, strings.Split(string(want), "\n"), strings.Split(b.String(), "\n"), "with AGREMENS_UPDATE=1 it is written anew")
}

func writeReading(b *strings.Builder, r *realize.Reading) {
	for i := range r.Ornaments {
		o := &r.Ornaments[i]
		fmt.Fprintf(b, "\nbar %s, staff %d, at %s: %s on %s, %s, between %s and %s\n",
			r.Passage.Measures[o.Measure].Number, o.Staff, o.Onset, o.Figure, o.Principal, o.Key, o.Lower, o.Upper)
		fmt.Fprintf(b, "  %s\n", o.Why(o.Chosen))
		for k := range o.Choices {
			c := &o.Choices[k]
			fmt.Fprintf(b, "  %-24s %s", c.Key, shown(*c))
			if f := strings.Join(c.Fingering, ""); f != "" {
				fmt.Fprintf(b, " | fingers %s", f)
			}
			for _, given := range c.Borrows {
				fmt.Fprintf(b, " | %s from the note %s", given.Amount, map[bool]string{false: "before", true: "after"}[given.After])
			}
			b.WriteString("\n")
			if k != o.Chosen {
				fmt.Fprintf(b, "    %s\n", c.Reason)
			}
			for _, w := range c.Warnings {
				fmt.Fprintf(b, "    ! %s\n", w)
			}
		}
	}
	for _, q := range r.Questions {
		fmt.Fprintf(b, "\n? %s\n", q.Text)
	}
	b.WriteString("\n")
}
