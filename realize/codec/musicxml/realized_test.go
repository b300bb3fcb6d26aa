package musicxml_test

import (
	"fmt"
	"slices"
	"testing"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/perf"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sounds lists what a performance plays, each key once at an onset.
func sounds(p *perf.Performance, start music.Frac) []string {
	var out []string
	for _, n := range p.Notes {
		out = append(out, fmt.Sprintf("%v %d for %v hand %d", n.Onset.Sub(start), n.Pitch.MIDI(), n.Dur, n.Hand))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// TestWrittenOut: a reading written out and opened again plays what the
// reading plays, and has no ornament left.
func TestWrittenOut(t *testing.T) {
	documents := map[string][]byte{}
	for name, data := range samples(t) {
		t.Run(name, func(t *testing.T) {
			r, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			reading := realize.Read(r.Passage, realize.Taste{})
			out := musicxml.WriteOut(reading)
			require.NoError(t, out.Check())
			for _, c := range out.Chords {
				require.Nil(t, c.Grace, "a small note is left")
				require.Empty(t, c.Signs, "a sign is left")
			}
			text, err := musicxml.EncodeRealized(reading)
			require.NoError(t, err)
			documents[name] = text
			again, err := musicxml.Decode(text, nil)
			require.NoError(t, err)
			want := sounds(realize.Perform(reading, realize.PerformOptions{}), r.Passage.Measures[0].Onset)
			lead := again.Passage.End().Sub(r.Passage.End())
			plain := realize.Read(again.Passage, realize.Taste{})
			assert.Empty(t, plain.Ornaments, "ornaments left")
			got := sounds(realize.Perform(plain, realize.PerformOptions{}), lead)
			require.NotEmpty(t, got)
			missing, added := difference(want, got)
			assert.Empty(t, missing, "not played any more")
			assert.Empty(t, added, "played in addition")
		})
	}
	validate(t, documents)
}

// difference returns what only a and what only b holds of two sorted lists.
func difference(a, b []string) (onlyA, onlyB []string) {
	for _, s := range a {
		if _, found := slices.BinarySearch(b, s); !found {
			onlyA = append(onlyA, s)
		}
	}
	for _, s := range b {
		if _, found := slices.BinarySearch(a, s); !found {
			onlyB = append(onlyB, s)
		}
	}
	return onlyA, onlyB
}
