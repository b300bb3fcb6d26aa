package kern_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec/kern"
	"agremens/realize/codec/musicxml"
	"agremens/realize/score"
)

// Every movement written as MusicXML is valid by the published schema and
// reads back as the same passage.
func TestReferenceAsMusicXML(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	tmp := t.TempDir()
	args := []string{"--noout", "--nonet", "--schema", filepath.Join(referenceDir(), "musicxml", "musicxml.xsd")}
	for name, data := range references(t) {
		r, err := kern.Decode(data, kern.Options{})
		require.NoError(t, err, name)
		text, err := musicxml.Encode(r.Passage)
		require.NoError(t, err, name)
		again, err := musicxml.Decode(text, nil)
		if !assert.NoError(t, err, name) {
			continue
		}
		assert.Equal(t, texts(r.Passage), texts(again.Passage), name)
		want, got := wordless(r.Passage), wordless(again.Passage)
		if first := firstDifference(want.Format(), got.Format()); first != "" {
			t.Errorf("%s: %s", name, first)
		}
		for _, w := range again.Warnings {
			t.Errorf("%s, read back: %s", name, w)
		}
		path := filepath.Join(tmp, strings.ReplaceAll(name, "/", "-")+".musicxml")
		require.NoError(t, os.WriteFile(path, text, 0o644))
		args = append(args, path)
	}
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("xmllint is not installed")
	}
	out, err := exec.Command("xmllint", args...).CombinedOutput()
	assert.NoError(t, err)
	for _, line := range strings.Split(string(out), "\n") {
		if line != "" && !strings.HasSuffix(line, " validates") {
			t.Log(line)
		}
	}
}

// texts lists the words of a score with their places: whether they name a
// tempo is for every reader to find out.
func texts(p *score.Passage) []string {
	var all []string
	for _, t := range p.Tempos {
		if t.Text != "" {
			all = append(all, t.Onset.String()+" "+t.Text)
		}
	}
	for _, m := range p.Marks {
		if m.Kind == score.Words {
			all = append(all, m.Onset.String()+" "+m.Text)
		}
	}
	slices.Sort(all)
	return all
}

// wordless is a passage without its words.
func wordless(p *score.Passage) *score.Passage {
	q := p.Clone()
	q.Marks = slices.DeleteFunc(q.Marks, func(m score.Mark) bool { return m.Kind == score.Words })
	for i := range q.Tempos {
		q.Tempos[i].Text = ""
	}
	q.Tempos = slices.DeleteFunc(q.Tempos, func(t score.Tempo) bool { return t.QuartersPerMinute == 0 && t.PerMinute == 0 })
	return q
}

// firstDifference shows the first line in which two texts differ.
func firstDifference(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(a), len(b)) {
		x, y := "(end)", "(end)"
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if x != y {
			return "want " + x + "\n got " + y
		}
	}
	return ""
}
