package musicxml_test

import (
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"agremens/realize/codec/musicxml"
	"agremens/realize/score"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// referenceFolder returns a folder of the reference data; without them the
// test is skipped.
func referenceFolder(t testing.TB, name string) string {
	t.Helper()
	dir := os.Getenv("AGREMENS_REFERENCE")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "..", "shared", "reference")
	}
	dir = filepath.Join(dir, name)
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("no reference data at %s", dir)
	}
	return dir
}

// references returns the real scores to test against, by name.
func references(t testing.TB) map[string][]byte {
	t.Helper()
	dir := referenceFolder(t, "scores")
	paths, err := filepath.Glob(filepath.Join(dir, "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, paths, "the reference data hold no scores")
	files := map[string][]byte{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		files[strings.TrimSuffix(filepath.Base(path), ".musicxml")] = data
	}
	return files
}

// raw is what a test counts straight from the XML.
type raw struct {
	signs   map[string]int  // children of <ornaments>
	graces  int             // visible small notes
	visible map[string]bool // ids of notes with a pitch
	hidden  map[string]bool
}

func readRaw(t *testing.T, data []byte) raw {
	t.Helper()
	var doc struct {
		Notes []struct {
			ID          string    `xml:"id,attr"`
			PrintObject string    `xml:"print-object,attr"`
			Grace       *struct{} `xml:"grace"`
			Pitch       *struct{} `xml:"pitch"`
			Ornaments   []struct {
				Inner []struct{ XMLName xml.Name } `xml:",any"`
			} `xml:"notations>ornaments"`
		} `xml:"part>measure>note"`
	}
	require.NoError(t, xml.Unmarshal(data, &doc))
	r := raw{map[string]int{}, 0, map[string]bool{}, map[string]bool{}}
	for _, n := range doc.Notes {
		for _, o := range n.Ornaments {
			for _, e := range o.Inner {
				if e.XMLName.Local != "accidental-mark" {
					r.signs[e.XMLName.Local]++
				}
			}
		}
		switch {
		case n.Pitch == nil:
		case n.PrintObject == "no":
			r.hidden[n.ID] = true
		default:
			r.visible[n.ID] = true
			if n.Grace != nil {
				r.graces++
			}
		}
	}
	require.NotEmpty(t, r.visible)
	return r
}

// TestReferenceScores opens every score and compares it with what a second,
// plain reading of the XML finds.
func TestReferenceScores(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	for name, data := range references(t) {
		t.Run(name, func(t *testing.T) {
			r, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			p := r.Passage
			require.NoError(t, p.Check())
			assert.Equal(t, 2, p.Staves)

			want := readRaw(t, data)
			signs := map[string]int{}
			seen := map[string]bool{}
			graces := 0
			for _, c := range p.Chords {
				for _, s := range c.Signs {
					signs[string(s.Kind)]++
				}
				for _, n := range c.Notes {
					id := string(n.ID)
					seen[id] = true
					assert.Equal(t, want.hidden[id], c.Hidden || n.Head == "none", "note %s is hidden", id)
				}
				if c.Grace != nil {
					graces += len(c.Notes)
				}
			}
			assert.Equal(t, want.signs, signs, "every sign of the file, those on invisible notes too")
			for id := range want.visible {
				assert.True(t, seen[id], "note %s is missing", id)
			}
			// Printed cue notes that close a trill become small notes.
			assert.Equal(t, want.graces+closingNotes[name], graces, "small notes")
			overlaps(t, p)
		})
	}
}

// closingNotes: printed cue notes at the end of a written-out ornament,
// counted by hand in the XML.
var closingNotes = map[string]int{
	"Beethoven-8-1": 8, "Beethoven-11-2": 16, "Beethoven-14-3": 12, "Beethoven-21-1": 4,
	"Beethoven-21-1_no_repeat": 4, "Beethoven-26-3": 2, "Beethoven-26-3_no_repeat": 2,
}

// overlaps checks that each voice is a line: no chord starts before the one
// before it ends.
func overlaps(t *testing.T, p *score.Passage) {
	t.Helper()
	for voice, chords := range p.Voices() {
		end := p.Measures[0].Onset
		for _, i := range chords {
			c := &p.Chords[i]
			if c.Grace == nil {
				assert.False(t, c.Onset.Less(end), "voice %s overlaps at %v", voice, c.Onset)
				end = c.End()
			}
		}
	}
}
