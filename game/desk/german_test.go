package desk_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/cmd/agremens/po"
	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
)

// What a German desk says of every sign of our passages holds no English, and
// its notes are called as Germans call them.
func TestADeskInGerman(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	said := func(text string) {
		t.Helper()
		assert.Empty(t, po.English(text), text)
		assert.NotContains(t, text, "{")
		assert.NotRegexp(t, "[A-G][♯♭]", text)
	}
	for _, e := range assets.Passages() {
		p, _, err := abc.Decode(e.ABC)
		require.NoError(t, err)
		d := desk.New(e.ID, p, realize.Taste{Words: german, Naming: music.GermanNames})
		said(d.InWords())
		for _, i := range d.Inside() {
			d.Select(i)
			w, ok := d.Sign()
			require.True(t, ok)
			assert.True(t, strings.HasPrefix(w.Heading, "Takt "), w.Heading)
			for _, text := range append(append([]string{w.Heading, w.Notes, w.Why, w.Place}, w.Sources...), w.Notices...) {
				said(text)
			}
			for _, c := range w.Choices {
				said(c.Label)
			}
			said(d.NoteWords())
		}
		for _, text := range d.AtRate(16) {
			said(text)
		}
		for _, text := range d.Apply(map[string]string{"tempo": "9999", "hand": "third", "tuning": "none", "pitch": "1", "tradition": "x"}, []string{"click"}) {
			said(text)
		}
		assert.Equal(t, realize.Taste{}.Text(), desk.New(e.ID, p, realize.Taste{Words: german}).Taste.Text(), "the language is no decision")
	}
}
