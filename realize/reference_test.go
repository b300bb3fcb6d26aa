package realize_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/score"
)

// referenceScores names the files of real scores; without them the test is
// skipped.
func referenceScores(t *testing.T) []string {
	t.Helper()
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = "../../shared/reference"
	}
	if _, err := os.Stat(root); err != nil {
		t.Skipf("no reference scores at %s", root)
	}
	files, err := filepath.Glob(filepath.Join(root, "scores", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}

// TestReferenceScores reads real scores: every sign and every small note on a
// note belongs to exactly one ornament, every choice is sound, and the
// performance keeps its time.
func TestReferenceScores(t *testing.T) {
	for _, f := range referenceScores(t) {
		t.Run(filepath.Base(f), func(t *testing.T) {
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			res, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			r := realize.Read(res.Passage, realize.Taste{})
			checkChoices(t, r)
			checkSame(t, res.Passage, r)
			signs, small := 0, 0
			for i := range res.Passage.Chords {
				c := &res.Passage.Chords[i]
				for _, s := range c.Signs {
					if s.Line == "" || s.Line == "start" || s.Kind == "tremolo" {
						signs++
					}
				}
				if c.Grace != nil {
					small++
				}
			}
			for _, o := range r.Ornaments {
				for _, s := range o.Signs {
					if s != "grace" && s != "slash" && s != "arpeggiate" {
						signs--
					}
				}
				small -= len(o.Graces)
				require.NotEmpty(t, o.Choices)
				assert.LessOrEqual(t, len(o.Choices), realize.MostChoices, "%v at %v", o.Signs, o.Onset)
				for _, c := range o.Choices {
					for _, n := range c.Notes {
						assert.Positive(t, n.Dur.Sign(), "%s at %v", c.Key, o.Onset)
					}
				}
			}
			assert.Zero(t, signs, "signs that belong to no ornament")
			assert.Zero(t, small, "small notes that belong to no ornament")
			for _, n := range realize.Perform(r, realize.PerformOptions{}).Notes {
				require.Positive(t, n.Dur.Sign())
			}
		})
	}
}

// checkChoices: every choice of a real score has a name, a source, a finger
// for each note, a reason of at most sixty words, its source included where
// the sources decide, fills its room, and can be written in legal values; its
// ornament answers why in sixty words; plain and (where there is a neighbour)
// one appoggiatura are among the choices.
func checkChoices(t *testing.T, r *realize.Reading) {
	statuses := []realize.Status{realize.StatusRead, realize.StatusReported, realize.CommonPractice, realize.StatusMeasured, realize.StatusMemory}
	for _, o := range r.Ornaments {
		plain := false
		for i := range o.Choices {
			c := &o.Choices[i]
			where := fmt.Sprintf("%s at %v, %v", c.Key, o.Onset, o.Signs)
			plain = plain || c.Key == "plain"
			require.NotEmpty(t, strings.TrimSpace(c.Name), where)
			require.NotEmpty(t, c.Sources, where)
			for _, s := range c.Sources {
				require.NotEmpty(t, s.Text, where)
				require.Contains(t, statuses, s.Status, where)
			}
			words := len(strings.Fields(c.Reason + " " + c.Sources[0].Text + " " + string(c.Sources[0].Status)))
			require.LessOrEqual(t, words, realize.ReasonWords, "%s: %s", where, c.Reason)
			require.Greater(t, len(strings.Fields(c.Reason)), 3, where)
			require.NotContains(t, c.Reason, "{", where)
			require.Len(t, c.Fingering, len(c.Notes), where)
			for _, f := range c.Fingerings {
				require.Len(t, f.Fingers, len(c.Notes), where)
				for _, finger := range f.Fingers {
					require.Contains(t, []string{"1", "2", "3", "4", "5"}, finger, where)
				}
			}
			why := o.Why(i)
			require.LessOrEqual(t, len(strings.Fields(why)), realize.ReasonWords, why)
			known := slices.ContainsFunc(c.Sources, func(s realize.Source) bool { return strings.Contains(why, "("+string(s.Status)+")") })
			require.True(t, known, "%s: how it is known: %s", where, why)
			checkRoom(t, o, *c)
		}
		require.True(t, plain, "%v at %v: plain is not among the choices", o.Signs, o.Onset)
	}
	require.LessOrEqual(t, len(r.Questions), realize.MostQuestions)
}

// checkSame: read again the reading is the same, and transposed toward fewer
// accidentals it is the same transposed.
func checkSame(t *testing.T, p *score.Passage, r *realize.Reading) {
	require.Equal(t, r, realize.Read(p, realize.Taste{}), "the same again")
	by := music.Interval{Steps: 3, Semitones: 5}
	if p.Measures[0].Key.Fifths < 0 {
		by = music.Interval{Steps: 4, Semitones: 7}
	}
	q, err := p.Transposed(by)
	require.NoError(t, err)
	moved := realize.Read(q, realize.Taste{})
	require.Len(t, moved.Ornaments, len(r.Ornaments))
	for i := range r.Ornaments {
		a, b := &r.Ornaments[i], &moved.Ornaments[i]
		require.Len(t, b.Choices, len(a.Choices), "%v at %v", a.Signs, a.Onset)
		for k := range a.Choices {
			x, y := a.Choices[k].Notes, b.Choices[k].Notes
			require.Len(t, y, len(x), "%s at %v", a.Choices[k].Key, a.Onset)
			for n := range x {
				require.Equal(t, x[n].Pitch.Transpose(by), y[n].Pitch, "%s at %v", a.Choices[k].Key, a.Onset)
				require.Equal(t, x[n].Dur, y[n].Dur)
			}
		}
	}
}
