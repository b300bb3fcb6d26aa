package kern_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec/kern"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/score"
)

// editions are movements that stand in the reference data twice, encoded by
// different people from different editions: the notes of each that the other
// does not have at the same place.
var editions = []struct {
	kern, xml         string
	onlyKern, onlyXML int
	why               string
}{
	{"mozart-piano-sonatas/sonata01-1.krn", "second/scores/kv279_1.musicxml", 27, 14, "bars 10, 12: sixteenths for a small note and an eighth"},
	{"mozart-piano-sonatas/sonata03-3.krn", "second/scores/kv281_3.musicxml", 64, 28, "bar 72: an eighth for a small note and a quarter; bar 43, the cadenza, is measured otherwise"},
	{"mozart-piano-sonatas/sonata05-1.krn", "second/scores/kv283_1.musicxml", 23, 12, "small notes written out"},
	{"mozart-piano-sonatas/sonata10-2.krn", "second/scores/kv330_2.musicxml", 27, 11, "small notes written out"},
	{"beethoven-piano-sonatas/sonata08-3.krn", "scores/Beethoven-8-3.musicxml", 9, 6, "bar 109: B flat in one, B in the other; bar 200: sevenths rounded to divisions in MusicXML"},
}

// TestEditions compares the same movement in two formats, note by note: key
// and onset within its measure, measure by measure.
func TestEditions(t *testing.T) {
	files := references(t)
	for _, e := range editions {
		r, err := kern.Decode(files[e.kern], kern.Options{})
		require.NoError(t, err)
		data, err := os.ReadFile(filepath.Join(referenceDir(), e.xml))
		require.NoError(t, err)
		x, err := musicxml.Decode(data, nil)
		require.NoError(t, err)
		assert.Equal(t, len(x.Passage.Measures), len(r.Passage.Measures), e.kern)
		a, b := apart(struck(r.Passage), struck(x.Passage))
		assert.Equal(t, e.onlyKern, len(a), "%s, only in kern (known: %s): %v", e.kern, e.why, a[:min(len(a), 40)])
		assert.Equal(t, e.onlyXML, len(b), "%s, only in MusicXML: %v", e.kern, b[:min(len(b), 40)])
	}
}

// The MusicXML of Beethoven's opus 2 no. 2, first movement, has no first
// ending: what is left of both editions is compared by the time since the
// beginning.
func TestEditionWithoutAnEnding(t *testing.T) {
	r, err := kern.Decode(references(t)["beethoven-piano-sonatas/sonata02-1.krn"], kern.Options{})
	require.NoError(t, err)
	data, err := os.ReadFile(filepath.Join(referenceDir(), "scores", "Beethoven-2-1.musicxml"))
	require.NoError(t, err)
	x, err := musicxml.Decode(data, nil)
	require.NoError(t, err)
	a, b := apart(onTheWay(r.Passage), onTheWay(x.Passage))
	// Slips of a step or an accidental on either side, as C for C sharp at 112
	// quarters; a repeated note of a broken chord (E flat or G) from 274.75 on;
	// the left hand from 652.5 to 656, which MusicXML lacks.
	assert.Equal(t, 45, len(a), "only in kern: %v", a[:min(len(a), 60)])
	assert.Equal(t, 40, len(b), "only in MusicXML: %v", b[:min(len(b), 60)])
}

// onTheWay counts full-size notes by the time since the beginning, each measure
// played once and under its last ending.
func onTheWay(p *score.Passage) map[string]int {
	starts, now := map[int]music.Frac{}, music.Frac{}
	for _, step := range p.Road(score.RoadOptions{}) {
		starts[step.Measure] = now
		now = now.Add(p.Measures[step.Measure].Length)
	}
	all := map[string]int{}
	for i := range p.Chords {
		c := &p.Chords[i]
		start, played := starts[c.Measure]
		if c.Grace != nil || !played {
			continue
		}
		for _, n := range c.Notes {
			all[fmt.Sprintf("%8.3f %v", start.Add(c.Onset.Sub(p.Measures[c.Measure].Onset)).Float(), n.Pitch)]++
		}
	}
	return all
}

// apart lists what each of two counts has more often than the other.
func apart(mine, theirs map[string]int) (a, b []string) {
	for key, n := range mine {
		for ; n > theirs[key]; n-- {
			a = append(a, key)
		}
	}
	for key, n := range theirs {
		for ; n > mine[key]; n-- {
			b = append(b, key)
		}
	}
	slices.Sort(a)
	slices.Sort(b)
	return a, b
}

// struck counts full-size notes by onset and key.
func struck(p *score.Passage) map[string]int {
	all := map[string]int{}
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Grace != nil {
			continue
		}
		for _, n := range c.Notes {
			all[fmt.Sprintf("%s %v %.3f", p.Measures[c.Measure].Number, n.Pitch, c.Onset.Sub(p.Measures[c.Measure].Onset).Float())]++
		}
	}
	return all
}
