package po_test

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/cmd/agremens/po"
	"agremens/web"
)

// translated are the folders whose texts all have their translation.
var translated = []string{"realize", "game", "synth", "assets", "web", "cmd"}

// Every text has its translation, and every translation its text. What lacks
// is written as a translator needs it, to be pasted into the file.
func TestTranslationsAreComplete(t *testing.T) {
	texts, all := programTexts(t, translated...), programTexts(t, "realize", "game", "synth", "assets", "web", "cmd")
	texts.page(t)
	all.page(t)
	files, err := web.Words()
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for language, source := range files {
		f, err := po.Read(source)
		require.NoError(t, err, language)
		have := gathered{}
		for _, text := range f.Texts {
			have.add(text)
		}
		var lacks strings.Builder
		for _, text := range texts.sorted() {
			key := [2]string{text.Context, text.English}
			if _, ok := have[key]; ok {
				delete(have, key)
				continue
			}
			if text.Context != "" {
				lacks.WriteString("msgctxt " + strconv.Quote(text.Context) + "\n")
			}
			lacks.WriteString("msgid " + strconv.Quote(text.English) + "\n")
			if text.Many == "" {
				lacks.WriteString("msgstr \"\"\n\n")
			} else {
				lacks.WriteString("msgid_plural " + strconv.Quote(text.Many) + "\nmsgstr[0] \"\"\nmsgstr[1] \"\"\n\n")
			}
		}
		assert.Empty(t, lacks.String(), "web/words/%s.po lacks these", language)
		if to := os.Getenv("AGREMENS_UNTRANSLATED"); to != "" {
			require.NoError(t, os.WriteFile(to, []byte(lacks.String()), 0o644))
		}
		for key := range have {
			if _, ok := all[key]; ok {
				continue // its folder is not done yet
			}
			t.Errorf("web/words/%s.po: nobody says %q (%s)", language, key[1], key[0])
		}
	}
}
