package musicxml_test

import (
	"fmt"
	"slices"
	"testing"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"

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
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
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

// TestWrittenOutBesideSmallPrint: a run in small print over a trilled note
// goes on sounding when the trill is written out beside it.
func TestWrittenOutBesideSmallPrint(t *testing.T) {
	note := func(voice string, onset, dur int64, id score.ID, pitch string, cue bool) score.Chord {
		types := map[int64]score.ValueType{1: score.Quarter, 2: score.Half, 4: score.Whole}
		return score.Chord{Voice: voice, Staff: 1, Onset: music.Int(onset), Dur: music.Int(dur), Cue: cue, Value: score.Value{Type: types[dur]},
			Notes: []score.Note{{ID: id, Pitch: music.MustPitch(pitch), Staff: 1}}}
	}
	trill := note("1", 0, 4, "t", "D5", false)
	trill.Signs = []score.Sign{{Kind: score.TrillMark}}
	p := &score.Passage{Part: "P1", Staves: 1,
		Measures: []score.Measure{{Number: "1", Length: music.Int(4), Metre: music.Metre{Beats: 4, Unit: 4}}},
		Clefs:    []score.Clef{{Staff: 1, Sign: "G", Line: 2}},
		Chords:   []score.Chord{trill, note("2", 2, 1, "a", "F4", true), note("2", 3, 1, "b", "G4", true)},
	}
	p.Sort()
	require.NoError(t, p.Check())
	reading := realize.Read(p, realize.Taste{Tempo: 60})
	want := sounds(realize.Perform(reading, realize.PerformOptions{}), music.Frac{})
	require.Contains(t, want, "2 65 for 1 hand 0")
	text, err := musicxml.EncodeRealized(reading)
	require.NoError(t, err)
	again, err := musicxml.Decode(text, nil)
	require.NoError(t, err)
	got := sounds(realize.Perform(realize.Read(again.Passage, realize.Taste{}), realize.PerformOptions{}), music.Frac{})
	assert.Equal(t, want, got)
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
