package main

import (
	"encoding/xml"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// referenceScores returns real scores to read, or skips.
func referenceScores(t *testing.T) []string {
	folder := os.Getenv("AGREMENS_REFERENCE")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "shared", "reference")
	}
	folder = filepath.Join(folder, "scores")
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("no reference scores at %s", folder)
	}
	files, err := filepath.Glob(filepath.Join(folder, "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}

// The types below read just enough of a score to count its ornaments without
// the program's own reader.

type xmlScore struct {
	Parts []struct {
		Measures []struct {
			Number string    `xml:"number,attr"`
			Notes  []xmlNote `xml:"note"`
		} `xml:"measure"`
	} `xml:"part"`
}

type xmlNote struct {
	ID    string    `xml:"id,attr"`
	Print string    `xml:"print-object,attr"`
	Pitch xmlPitch  `xml:"pitch"`
	Grace *struct{} `xml:"grace"`
	Chord *struct{} `xml:"chord"`
	Rest  *struct{} `xml:"rest"`
	Voice string    `xml:"voice"`
	Notes []struct {
		Ornaments []struct {
			Signs []struct {
				XMLName xml.Name
				Type    string `xml:"type,attr"`
			} `xml:",any"`
		} `xml:"ornaments"`
		Arpeggiate *struct{} `xml:"arpeggiate"`
	} `xml:"notations"`
}

type xmlPitch struct {
	Step   string `xml:"step"`
	Octave int    `xml:"octave"`
}

// near reports whether two pitches are at most a step apart.
func (p xmlPitch) near(q xmlPitch) bool {
	place := func(p xmlPitch) int { return p.Octave*7 + strings.Index("CDEFGAB", p.Step) }
	d := place(p) - place(q)
	return -1 <= d && d <= 1
}

// figure is what the XML holds for one place: signs on a chord, or a group of
// small notes, with the notes it may belong to.
type figure struct {
	where string
	signs []string
	notes []string // ids, one of which must be the principal
}

// chord is what is struck together in one voice.
type chord struct {
	ids, signs   []string
	rest, rolled bool
	hidden       []xmlPitch // of notes that sound but are not printed
}

// group is a run of small notes between two chords of its voice.
type group struct {
	where         string
	before, after *chord
}

// figures lists what is in a score.
func figures(t *testing.T, data []byte) (signs, graces, arpeggios []figure) {
	var s xmlScore
	require.NoError(t, xml.Unmarshal(data, &s))
	for _, part := range s.Parts {
		last := map[string]*chord{} // by voice
		waiting := map[string]*group{}
		var groups []*group
		for _, m := range part.Measures {
			where := "measure " + m.Number
			var all []*chord
			var open *chord // that <chord/> notes join; nil among small notes
			for _, n := range m.Notes {
				if n.Grace != nil {
					if waiting[n.Voice] == nil {
						waiting[n.Voice] = &group{where: where, before: last[n.Voice]}
						groups = append(groups, waiting[n.Voice])
					}
					open = nil
					continue
				}
				if n.Chord == nil || open == nil {
					open = &chord{rest: n.Rest != nil}
					all = append(all, open)
					if g := waiting[n.Voice]; g != nil && !open.rest {
						g.after = open
						delete(waiting, n.Voice)
					}
					if !open.rest {
						last[n.Voice] = open
					}
				}
				open.read(n)
			}
			for _, c := range all {
				c.show(m.Notes)
				if f := (figure{where, c.signs, c.ids}); len(c.signs) > 0 {
					signs = append(signs, f)
				}
				if c.rolled {
					arpeggios = append(arpeggios, figure{where, nil, c.ids})
				}
			}
		}
		for _, g := range groups {
			f := figure{where: g.where, signs: []string{"grace"}}
			for _, c := range []*chord{g.before, g.after} {
				if c != nil {
					f.notes = append(f.notes, c.ids...)
				}
			}
			graces = append(graces, f)
		}
	}
	return signs, graces, arpeggios
}

// show adds the printed notes that hidden ones may sound for: a trill written
// out in hidden notes belongs to a printed note at most a step away.
func (c *chord) show(measure []xmlNote) {
	for _, n := range measure {
		if n.Print != "no" && n.Grace == nil && n.Rest == nil && slices.ContainsFunc(c.hidden, n.Pitch.near) {
			c.ids = append(c.ids, n.ID)
		}
	}
}

func (c *chord) read(n xmlNote) {
	c.ids = append(c.ids, n.ID)
	if n.Print == "no" && n.Rest == nil {
		c.hidden = append(c.hidden, n.Pitch)
	}
	for _, notations := range n.Notes {
		c.rolled = c.rolled || notations.Arpeggiate != nil
		for _, o := range notations.Ornaments {
			for _, sign := range o.Signs {
				name := sign.XMLName.Local
				if name != "accidental-mark" && (name != "wavy-line" || sign.Type == "start") {
					c.signs = append(c.signs, name)
				}
			}
		}
	}
}

func TestEveryOrnamentOfTheReferenceScoresIsListed(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	var nSigns, nGraces, nArpeggios, nOrnaments int
	for _, file := range referenceScores(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			signs, graces, arpeggios := figures(t, data)
			d := realizeJSON(t, file)
			nSigns, nGraces, nArpeggios, nOrnaments = nSigns+len(signs), nGraces+len(graces), nArpeggios+len(arpeggios), nOrnaments+len(d.Ornaments)

			at := map[string][]ornamentJSON{} // by principal
			explained := map[string]bool{}    // notes that may be a principal
			for _, o := range d.Ornaments {
				at[o.NoteID] = append(at[o.NoteID], o)
				assertPlayable(t, o)
			}
			for _, f := range append(slices.Clone(signs), graces...) {
				var found []string
				for _, id := range f.notes {
					explained[id] = true
					for _, o := range at[id] {
						found = append(found, o.Signs...)
					}
				}
				for _, sign := range f.signs {
					assert.Contains(t, found, sign, "%s, on one of %v", f.where, f.notes)
				}
			}
			for _, f := range arpeggios {
				for _, id := range f.notes {
					explained[id] = true
				}
			}
			for _, o := range d.Ornaments {
				assert.True(t, explained[o.NoteID], "%s in measure %s on %s is not in the file", o.ID, o.Measure, o.NoteID)
			}
			if len(arpeggios) > 0 {
				assert.NotEmpty(t, slices.DeleteFunc(slices.Clone(d.Ornaments), func(o ornamentJSON) bool {
					return !strings.HasPrefix(strings.Join(o.Signs, " "), "arpeggiate")
				}), "rolled chords are listed")
			}
		})
	}
	t.Logf("%d chords with signs, %d groups of small notes, %d rolled chords; %d ornaments listed", nSigns, nGraces, nArpeggios, nOrnaments)
	assert.Greater(t, nSigns, 300)
	assert.Greater(t, nGraces, 300)
}

// TestNoOrnamentIsUnknown: no score of the reference data makes the command
// name an ornament it does not know; an invented one does.
func TestNoOrnamentIsUnknown(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	unknown := func(warnings []string) []string {
		return slices.DeleteFunc(slices.Clone(warnings), func(w string) bool {
			return !strings.Contains(w, "unknown") && !strings.Contains(w, "does not define") && !strings.Contains(w, "is not known")
		})
	}
	invented := filepath.Join(t.TempDir(), "invented.abc")
	require.NoError(t, os.WriteFile(invented, []byte("X:1\nT:Invented\nM:4/4\nL:1/4\nK:C\n!ornamentOfMyOwn!c4 |]\n"), 0o600))
	require.Len(t, unknown(realizeJSON(t, invented).Warnings), 1)
	for _, file := range referenceScores(t) {
		assert.Empty(t, unknown(realizeJSON(t, file).Warnings), filepath.Base(file))
	}
}
