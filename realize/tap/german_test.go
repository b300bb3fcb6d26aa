package tap_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/cmd/agremens/po"
	"agremens/realize/tap"
)

// germanChild is the most words a German sentence to a child has: the longest
// English one has 19.
const germanChild = 21

// Every fault that can be put in, said in German one can review by eye.
func TestGermanWordsGolden(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	wordsGolden(t, "words-de.txt", german, checkGermanWords)
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
	for code, p := range english.Single {
		assert.NotEqual(t, p.Teacher, w.Single[code].Teacher, code)
		assert.Empty(t, po.English(w.Single[code].Child+w.Single[code].Teacher), code)
	}
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
