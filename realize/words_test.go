package realize_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/cmd/agremens/po"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/score"
	"agremens/realize/words"
)

// alike are the texts that are the same in both languages: titles, and the
// names that sources give to their ornaments.
var alike = map[string]bool{
	"mordent": false, "backfall": true, "forefall": true, "passing shake": true,
	"J.P. Milchmeyer, Die wahre Art das Pianoforte zu spielen (1797)": true,
}

func sameInBoth(text string) bool {
	return alike[text] || strings.HasPrefix(text, "Grove, A Dictionary of Music and Musicians, ")
}

// checkGerman compares a passage read in both languages text by text: none is
// left in English, none is longer than a reason may be, and nothing else of
// the reading changes.
func checkGerman(t *testing.T, p *score.Passage, taste realize.Taste, german *words.Catalogue) (seen int) {
	t.Helper()
	e := realize.Read(p, taste)
	taste.Words = german
	g := realize.Read(p, taste)
	said := func(where, en, de string) {
		t.Helper()
		seen++
		if po.English(de) != "" && !sameInBoth(en) {
			t.Errorf("%s: %q still holds English: %q", where, en, de)
		}
		if en == de && len(strings.Fields(en)) > 1 && !sameInBoth(en) {
			t.Errorf("%s: %q is not translated", where, en)
		}
		assert.NotContains(t, de, "{", where)
	}
	lists := func(where string, en, de []string) {
		t.Helper()
		if assert.Len(t, de, len(en), where) {
			for i := range en {
				said(where, en[i], de[i])
			}
		}
	}
	require.Len(t, g.Ornaments, len(e.Ornaments))
	for i := range e.Ornaments {
		a, b := &e.Ornaments[i], &g.Ornaments[i]
		require.Len(t, b.Choices, len(a.Choices))
		require.Equal(t, a.Chosen, b.Chosen)
		for k := range a.Choices {
			x, y := &a.Choices[k], &b.Choices[k]
			require.Equal(t, x.Key, y.Key)
			require.Equal(t, x.Notes, y.Notes)
			said("name", x.Name, y.Name)
			said("reason", x.Reason, y.Reason)
			said("why", a.Why(k), b.Why(k))
			assert.LessOrEqual(t, len(strings.Fields(y.Reason)), realize.ReasonWords, y.Reason)
			assert.LessOrEqual(t, len(strings.Fields(b.Why(k))), realize.ReasonWords, b.Why(k))
			assert.LessOrEqual(t, len(strings.Fields(y.Name)), 13, y.Name)
			for _, cut := range []string{" Here.", " Concert pianists.", " Hier.", " Konzertpianisten."} {
				assert.NotContains(t, a.Why(k)+b.Why(k), cut, "what was announced is missing")
			}
			lists("warning", x.Warnings, y.Warnings)
			for s := range x.Sources {
				// A reason that has room for another sentence may rest on one more.
				if s < len(y.Sources) && x.Sources[s].Status == y.Sources[s].Status {
					assert.NotEqual(t, string(x.Sources[s].Status), y.Sources[s].Status.In(german))
				}
			}
			for _, s := range y.Sources {
				if po.English(s.Text) != "" && !sameInBoth(s.Text) {
					t.Errorf("a source still holds English: %q", s.Text)
				}
			}
			for f := range x.Fingerings {
				said("fingering", x.Fingerings[f].Why, y.Fingerings[f].Why)
			}
		}
	}
	require.Len(t, g.Questions, len(e.Questions))
	for i := range e.Questions {
		a, b := &e.Questions[i], &g.Questions[i]
		said("question", a.Text, b.Text)
		said("assumed", a.Assumed, b.Assumed)
		require.Len(t, b.Options, len(a.Options))
		for k := range a.Options {
			said("option", a.Options[k].Text, b.Options[k].Text)
		}
	}
	lists("warning of the reading", e.Warnings, g.Warnings)
	return seen
}

// TestGermanReadings reads all our passages in every tradition and both
// orders in German.
func TestGermanReadings(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	seen := 0
	for _, entry := range assets.Passages() {
		t.Run(entry.ID, func(t *testing.T) {
			p, _, err := abc.Decode(entry.ABC)
			require.NoError(t, err)
			for _, tradition := range realize.Traditions() {
				for _, prefer := range []realize.Preference{realize.Sources, realize.Performers} {
					seen += checkGerman(t, p, realize.Taste{Tradition: tradition.Key, Prefer: prefer}, german)
				}
			}
			seen += checkGerman(t, p, realize.Taste{}, german)
		})
	}
	require.Greater(t, seen, 1000)
	for _, info := range realize.TraditionsIn(german) {
		assert.NotRegexp(t, `\b(century|around|circle|c\.)`, info.Name+" "+info.Years)
	}
}

// TestGermanReferenceReadings does the same with real scores.
func TestGermanReferenceReadings(t *testing.T) {
	if testing.Short() {
		t.Skip("read in full natively")
	}
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	for _, f := range referenceScores(t) {
		t.Run(filepath.Base(f), func(t *testing.T) {
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			res, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			checkGerman(t, res.Passage, realize.Taste{}, german)
			checkGerman(t, res.Passage, realize.Taste{Prefer: realize.Performers}, german)
		})
	}
}
