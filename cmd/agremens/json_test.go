package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
)

func realizeJSON(t *testing.T, args ...string) document {
	t.Helper()
	code, out, errs := call(append([]string{"realize", "-format", "json"}, args...)...)
	require.Equal(t, 0, code, errs)
	var d document
	require.NoError(t, json.Unmarshal([]byte(out), &d))
	return d
}

func frac(t *testing.T, s string) music.Frac {
	t.Helper()
	f, err := music.ParseFrac(s)
	require.NoError(t, err)
	return f
}

func TestSchema1(t *testing.T) {
	d := realizeJSON(t, "-tradition", "bach", twoBars)
	assert.Equal(t, 1, d.Schema)
	assert.Equal(t, "Two bars", d.Title)
	assert.Equal(t, "bach", d.Tradition)
	assert.Equal(t, tempoJSON{QuartersPerMinute: 90}, d.Tempo)
	require.Len(t, d.Ornaments, 2)

	trill := d.Ornaments[0]
	assert.Equal(t, "trill", trill.NoteID, "the file's own id")
	assert.Equal(t, "P1", trill.Part)
	assert.Equal(t, 1, trill.Staff)
	assert.Equal(t, "1", trill.Voice)
	assert.Equal(t, "1", trill.Measure)
	assert.Equal(t, "2", trill.Onset)
	assert.Equal(t, pitchJSON{"D", 0, 5, 74}, trill.Principal)
	assert.Equal(t, "1", trill.Notated)
	assert.Equal(t, []string{"trill-mark"}, trill.Signs)

	mordent := d.Ornaments[1]
	assert.Equal(t, "2", mordent.Measure)
	assert.Equal(t, "5", mordent.Onset, "from the start of the passage, not of the measure")
	for _, o := range d.Ornaments {
		assertPlayable(t, o)
	}
}

// assertPlayable checks what must hold of any ornament: times are fractions,
// each choice fills the note's room with what it borrows, and is explained.
func assertPlayable(t *testing.T, o ornamentJSON) {
	t.Helper()
	require.NotEmpty(t, o.Choices, o.ID)
	assert.GreaterOrEqual(t, o.Chosen, 0)
	assert.Less(t, o.Chosen, len(o.Choices))
	frac(t, o.Onset)
	assert.Positive(t, frac(t, o.Notated).Sign(), o.ID)
	for _, c := range o.Choices {
		require.NotEmpty(t, c.Notes, "%s %s", o.ID, c.Name)
		assert.NotEmpty(t, c.Name, o.ID)
		assert.NotEmpty(t, c.Reason, "%s %s", o.ID, c.Name)
		assert.NotEmpty(t, c.Sources, "%s %s", o.ID, c.Name)
		for _, s := range c.Sources {
			assert.Contains(t, []string{"read", "reported", "common practice", "measured", "memory"}, s.Status)
			assert.NotEmpty(t, s.Text)
		}
		for _, n := range c.Notes {
			frac(t, n.Onset)
			assert.Positive(t, frac(t, n.Duration).Sign(), "%s %s", o.ID, c.Name)
		}
		for _, b := range c.Borrows {
			// No id: a rest gives the time.
			assert.Positive(t, frac(t, b.Amount).Sign(), "%s %s", o.ID, c.Name)
		}
		assert.NotNil(t, c.Fingering)
		assert.NotNil(t, c.Warnings)
	}
}

// Decisions come from a file; where they differ by pass of a repeat each pass
// has its own entry, and `pass` says which.
func TestDecisionsFromAFile(t *testing.T) {
	dir := t.TempDir()
	tune := filepath.Join(dir, "tune.abc")
	require.NoError(t, os.WriteFile(tune, []byte("X:1\nT:Tune\nM:4/4\nL:1/4\nQ:1/4=72\nK:C\n|: e Td2 c :| Mc4 |]\n"), 0o600))
	before := realizeJSON(t, "-tradition", "bach", tune)
	require.Len(t, before.Ornaments, 2)
	id := score.ID(before.Ornaments[0].NoteID)
	taste := filepath.Join(dir, "decisions")
	text := realize.Taste{Tradition: "bach"}.ChooseInPass(id, 2, "plain").Text()
	require.NoError(t, os.WriteFile(taste, []byte(text), 0o600))
	d := realizeJSON(t, "-taste", taste, tune)
	assert.Equal(t, "bach", d.Tradition)
	require.Len(t, d.Ornaments, 3)
	for i, pass := range []int{1, 2, 0} {
		assert.Equal(t, pass, d.Ornaments[i].Pass)
	}
	assert.Equal(t, d.Ornaments[0].ID, d.Ornaments[1].ID)
	assert.Equal(t, "no ornament", d.Ornaments[1].Choices[d.Ornaments[1].Chosen].Name)
	assert.NotEqual(t, "no ornament", d.Ornaments[0].Choices[d.Ornaments[0].Chosen].Name)
	assert.Equal(t, "berlin", realizeJSON(t, "-taste", taste, "-tradition", "berlin", tune).Tradition, "the command line goes first")

	require.NoError(t, os.WriteFile(taste, []byte("no decisions"), 0o600))
	code, _, errs := call("realize", "-taste", taste, tune)
	assert.NotZero(t, code)
	assert.Contains(t, errs, "-taste")
}
