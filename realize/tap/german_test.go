package tap_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/cmd/agremens/po"
	"agremens/realize/tap"
)

// germanChild is the most words a German sentence to a child has: the longest
// English one has 19.
const germanChild = 20

// Every fault that can be put in, said in German one can review by eye.
func TestGermanWordsGolden(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	var b strings.Builder
	for k, p := range puts {
		for n := range 40 {
			p := p
			p.words = german
			r, _ := simulate(int64(1000*k+n), p)
			if len(r.Findings) == 0 || !slices.Contains(p.accept, r.Findings[0].Code) {
				continue
			}
			f := r.Findings[0]
			fmt.Fprintf(&b, "%s: %s\n  child: %s\n  teacher: %s\n  next: %s\n", p.name, f.Code, f.Child, f.Teacher, f.Next)
			for _, text := range []string{f.Child, f.Teacher, f.Next, r.Summary, r.Next} {
				checkGermanWords(t, text)
			}
			break
		}
	}
	path := filepath.Join("testdata", "words-de.txt")
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o644))
	}
	golden, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(golden), b.String())
}

// The same bounds as in English: nothing is called wrong, failed or bad, and
// nothing is praised.
func checkGermanWords(t *testing.T, text string) {
	t.Helper()
	assert.NotEmpty(t, text)
	assert.NotContains(t, text, "{")
	assert.Empty(t, po.English(text), text)
	for _, word := range []string{"falsch", "schlecht", "versagt", "perfekt", "toll", "super", "prima", "großartig", "daneben!"} {
		assert.NotContains(t, strings.ToLower(text), word)
	}
}

// A child is told in few words, and nobody who taps is addressed formally.
func TestGermanForAChild(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	w, english := tap.WordsIn(german), tap.English()
	longest := 0
	for code, p := range english.Findings {
		longest = max(longest, len(strings.Fields(p.Child)))
		g := w.Findings[code]
		assert.LessOrEqual(t, len(strings.Fields(g.Child)), germanChild, g.Child)
		for _, text := range []string{g.Child, g.Teacher, g.Next} {
			assert.Empty(t, po.English(text), text)
			assert.NotRegexp(t, `[a-zäöü,] (Sie|Ihr|Ihre|Ihnen)\b`, text, code)
		}
		assert.NotEqual(t, p, g, code)
	}
	assert.Equal(t, germanChild-1, longest)
}
