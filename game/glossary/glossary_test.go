package glossary_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/engrave"
	"agremens/game/glossary"
	"agremens/realize"
	"agremens/realize/music"
)

func TestEverySignHasAnEntry(t *testing.T) {
	for _, f := range realize.Figures() {
		_, ok := glossary.Find(f)
		assert.Equal(t, f != "unknown", ok, f)
	}
	assert.NotContains(t, realize.Figures(), "", "each figure has a key")
}

func TestEveryEntryIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range glossary.Entries() {
		t.Run(e.Key, func(t *testing.T) {
			assert.False(t, seen[e.Key], "twice")
			seen[e.Key] = true
			assert.True(t, strings.HasSuffix(e.Asks, "."))
			for _, l := range glossary.Languages() {
				require.NotEmpty(t, e.Names[l], l)
				for _, n := range e.Names[l] {
					assert.NotEmpty(t, n.Text)
					assert.NotEmpty(t, n.Status)
					if n.Status == realize.StatusRead || n.Status == realize.StatusReported {
						assert.NotEmpty(t, n.Of, "%s: whose word it is", n.Text)
					}
				}
			}
			for _, tr := range realize.Traditions() {
				r, err := e.Example(tr.Key, music.EnglishNames, nil)
				require.NoError(t, err)
				require.Len(t, r.Ornaments, 1, "the example has the sign and no other")
				o := &r.Ornaments[0]
				assert.Equal(t, e.Key, glossary.Of(o), "the example shows its own sign")
				assert.NotEmpty(t, engrave.Printed(r.Passage, r, o.ID).Items, "it has a picture")
			}
		})
	}
}

// The whole glossary as a text that can be read through.
func TestGlossaryReads(t *testing.T) {
	var b strings.Builder
	for _, e := range glossary.Entries() {
		b.WriteString(strings.ToUpper(e.Title(nil)) + "\n" + e.Asks + "\n")
		for _, l := range glossary.Languages() {
			b.WriteString("  " + l.String() + ": " + e.NamesIn(l, nil) + "\n")
		}
		for _, w := range e.Ways(music.EnglishNames, nil) {
			b.WriteString("  " + strings.Join(w.Traditions, "; ") + ": " + w.Notes + "\n")
			assert.NotEmpty(t, w.Why, e.Key)
		}
		b.WriteString("\n")
	}
	golden := filepath.Join("testdata", "glossary.txt")
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(golden, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	assert.Equal(t, string(want), b.String())
}

// The traditions differ where their sources do.
func TestTraditionsDiffer(t *testing.T) {
	for _, c := range []struct {
		key, one, other string
		differ          bool
		source          string
	}{
		{"mordent", "England, late 17th century", "Late Baroque (Bach's table)", true, "the English beat begins on the lower note: Rules for Graces (1697), from memory; J.S. Bach, Explication (1720)"},
		{"turn", "France, around 1700", "Berlin, mid-18th century", true, "four equal notes: from memory; mostly quick, the last one held: C.P.E. Bach, Versuch I (1753), ch. 2.4 §1–3"},
	} {
		t.Run(c.key+", "+c.source, func(t *testing.T) {
			e, ok := glossary.Find(c.key)
			require.True(t, ok)
			with := func(name string) int {
				return slices.IndexFunc(e.Ways(music.EnglishNames, nil), func(w glossary.Way) bool { return slices.Contains(w.Traditions, name) })
			}
			require.GreaterOrEqual(t, with(c.one), 0)
			require.GreaterOrEqual(t, with(c.other), 0)
			assert.Equal(t, c.differ, with(c.one) != with(c.other))
		})
	}
}

func TestCalled(t *testing.T) {
	for _, c := range []struct{ typed, first string }{
		{"Pralltriller", "short-trill"}, {"pince", "mordent"}, {"GRUPPETTO", "turn"}, {"", "trill"}, {" schleifer ", "slide"},
	} {
		t.Run(c.typed, func(t *testing.T) {
			found := glossary.Called(c.typed)
			require.NotEmpty(t, found)
			assert.Equal(t, c.first, found[0].Key)
		})
	}
	assert.Empty(t, glossary.Called("bagpipe"))
}
