package abc_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/score"
)

// Real scores keep every note and every sign on their way through ABC.
func TestReferenceScores(t *testing.T) {
	folder := os.Getenv("AGREMENS_REFERENCE")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "..", "shared", "reference")
	}
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("no reference data at %s", folder)
	}
	files, err := filepath.Glob(filepath.Join(folder, "scores", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files, "the reference data hold no scores")
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			result, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			p := result.Passage
			q, _, err := abc.Decode(abc.Encode(p))
			require.NoError(t, err)
			want, got := sounding(p), sounding(q)
			require.NotEmpty(t, want)
			if missing, extra := difference(want, got); len(missing)+len(extra) > 0 {
				t.Errorf("%d notes lost, %d new:\n%v\n%v", len(missing), len(extra), first(missing), first(extra))
			}
			if missing, extra := difference(signsOf(p), signsOf(q)); len(missing)+len(extra) > 0 {
				t.Errorf("%d signs lost, %d new:\n%v\n%v", len(missing), len(extra), first(missing), first(extra))
			}
		})
	}
}

func first(list []string) []string { return list[:min(5, len(list))] }

// sounding lists the notes that are struck, with the time they are held.
func sounding(p *score.Passage) []string {
	var notes []string
	for i := range p.Chords {
		c := &p.Chords[i]
		for j, n := range c.Notes {
			if n.TieStop && c.Grace == nil {
				continue
			}
			dur := c.Dur
			for _, r := range p.TiedOn(score.Ref{Chord: i, Note: j})[1:] {
				dur = dur.Add(p.Chords[r.Chord].Dur)
			}
			// To a hundredth: files round tuplets to their divisions.
			notes = append(notes, fmt.Sprintf("%s at %.2f for %.2f, small %t", n.Pitch, c.Onset.Float(), dur.Float(), c.Grace != nil))
		}
	}
	slices.Sort(notes)
	return notes
}

func signsOf(p *score.Passage) []string {
	var signs []string
	for i := range p.Chords {
		for _, s := range p.Chords[i].Signs {
			if s.Kind != score.WavyLine && s.Kind != score.Tremolo {
				signs = append(signs, fmt.Sprintf("%s at %s", s.Kind, p.Chords[i].Onset))
			}
		}
	}
	slices.Sort(signs)
	return signs
}

// difference returns what only one of two sorted lists holds.
func difference(a, b []string) (onlyA, onlyB []string) {
	for len(a) > 0 || len(b) > 0 {
		switch {
		case len(b) == 0 || len(a) > 0 && a[0] < b[0]:
			onlyA, a = append(onlyA, a[0]), a[1:]
		case len(a) == 0 || b[0] < a[0]:
			onlyB, b = append(onlyB, b[0]), b[1:]
		default:
			a, b = a[1:], b[1:]
		}
	}
	return onlyA, onlyB
}
