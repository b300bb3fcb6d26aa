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
	{"beethoven-piano-sonatas/sonata02-1.krn", "scores/Beethoven-2-1.musicxml", 0, 0, "?"},
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
		mine, theirs := struck(r.Passage), struck(x.Passage)
		all, a, b := 0, []string{}, []string{}
		for key, n := range mine {
			all += n
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
		assert.Len(t, r.Passage.Measures, len(x.Passage.Measures), e.kern)
		assert.Len(t, a, e.onlyKern, "%s, %d notes, only in kern (known: %s): %v", e.kern, all, e.why, a)
		assert.Len(t, b, e.onlyXML, "%s, only in MusicXML: %v", e.kern, b)
	}
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
