package musicxml_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"agremens/realize/codec/musicxml"
	"agremens/realize/score"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// samples are the hand-made scores and, where present, the reference scores.
func samples(t *testing.T) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	paths, err := filepath.Glob(filepath.Join("testdata", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		files[filepath.Base(path)] = data
	}
	if dir := referenceDir(); dir != "" {
		for name, data := range references(t) {
			files[name] = data
		}
	} else {
		t.Log("no reference data: hand-made scores only")
	}
	return files
}

func referenceDir() string {
	dir := os.Getenv("AGREMENS_REFERENCE")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "..", "shared", "reference")
	}
	if _, err := os.Stat(dir); err != nil {
		return ""
	}
	return dir
}

// equalPassages compares passages piece by piece, so that a failure is short.
func equalPassages(t *testing.T, want, got *score.Passage) {
	t.Helper()
	require.Equal(t, len(want.Measures), len(got.Measures), "measures")
	for i := range want.Measures {
		require.Equal(t, want.Measures[i], got.Measures[i], "measure %d", i)
	}
	require.Equal(t, len(want.Chords), len(got.Chords), "chords")
	for i := range want.Chords {
		require.Equal(t, want.Chords[i], got.Chords[i], "chord %d of measure %s", i, want.Measures[want.Chords[i].Measure].Number)
	}
	equalLists(t, "clefs", want.Clefs, got.Clefs)
	equalLists(t, "slurs", want.Slurs, got.Slurs)
	equalLists(t, "tuplets", want.Tuplets, got.Tuplets)
	equalLists(t, "tempos", want.Tempos, got.Tempos)
	equalLists(t, "marks", want.Marks, got.Marks)
	w, g := *want, *got
	w.Measures, w.Chords, w.Clefs, w.Slurs, w.Tuplets, w.Tempos, w.Marks = nil, nil, nil, nil, nil, nil, nil
	g.Measures, g.Chords, g.Clefs, g.Slurs, g.Tuplets, g.Tempos, g.Marks = nil, nil, nil, nil, nil, nil, nil
	assert.Equal(t, w, g)
}

func equalLists[T any](t *testing.T, what string, want, got []T) {
	t.Helper()
	for i := range min(len(want), len(got)) {
		require.Equal(t, fmt.Sprintf("%+v", want[i]), fmt.Sprintf("%+v", got[i]), "%s %d", what, i)
	}
	require.Equal(t, len(want), len(got), what)
}

// TestRoundTrip: a passage that is written and read again is the same.
func TestRoundTrip(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	for name, data := range samples(t) {
		t.Run(name, func(t *testing.T) {
			first, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			text, err := musicxml.Encode(first.Passage)
			require.NoError(t, err)
			again, err := musicxml.Decode(text, nil)
			require.NoError(t, err)
			equalPassages(t, first.Passage, again.Passage)
			assert.Empty(t, again.Warnings)
		})
	}
}

// validate checks a document against the published schema.
func validate(t *testing.T, documents map[string][]byte) {
	t.Helper()
	dir := referenceDir()
	if dir == "" {
		t.Skip("no reference data, so no schema")
	}
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("xmllint is not installed")
	}
	tmp := t.TempDir()
	args := []string{"--noout", "--nonet", "--schema", filepath.Join(dir, "musicxml", "musicxml.xsd")}
	for name, data := range documents {
		path := filepath.Join(tmp, strings.TrimSuffix(name, ".musicxml")+".musicxml")
		require.NoError(t, os.WriteFile(path, data, 0o644))
		args = append(args, path)
	}
	out, err := exec.Command("xmllint", args...).CombinedOutput()
	if err != nil {
		var wrong []string
		for _, line := range strings.Split(string(out), "\n") {
			if !strings.HasSuffix(line, " validates") {
				wrong = append(wrong, line)
			}
		}
		t.Error(strings.Join(wrong[:min(len(wrong), 20)], "\n"))
	}
}

func TestValid(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	documents := map[string][]byte{}
	for name, data := range samples(t) {
		r, err := musicxml.Decode(data, nil)
		require.NoError(t, err)
		documents[name], err = musicxml.Encode(r.Passage)
		require.NoError(t, err)
	}
	validate(t, documents)
}
