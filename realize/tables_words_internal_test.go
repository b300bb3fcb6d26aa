package realize

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/cmd/agremens/po"
)

// TestTablesAreTranslated looks every text of the tables up, also those that
// no passage at hand brings out.
func TestTablesAreTranslated(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	translated := func(where, text string) {
		if len(strings.Fields(text)) > 1 {
			assert.NotEqual(t, text, german.Say(text), where)
		}
		assert.LessOrEqual(t, len(strings.Fields(german.Say(text))), 40, text)
	}
	for _, tr := range append(append([]*tradition{}, traditions...), &tradition{key: "common", rules: commonRules}) {
		for _, r := range tr.rules {
			translated(tr.key, r.why)
		}
	}
	for _, h := range habits {
		translated("habit", h.figure)
	}
	for key, sh := range shapes {
		if key != "short.half" { // Clementi's passing shake
			translated(key, sh.name)
		}
	}
}
