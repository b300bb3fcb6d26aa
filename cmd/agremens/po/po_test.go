package po_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/cmd/agremens/po"
	"agremens/realize/words"
)

const head = `msgid ""
msgstr ""
"Language: de\n"
"Content-Type: text/plain; charset=UTF-8\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\n"

`

func TestReadKeepsEveryKindOfText(t *testing.T) {
	f, err := po.Read([]byte(head + `# a remark
msgid "Open"
msgstr "Öffnen"

msgctxt "string"
msgid "Open"
msgstr "leer"

msgid "{n} bar"
msgid_plural "{n} bars"
msgstr[0] "{n} Takt"
msgstr[1] "{n} Takte"

msgid ""
"A long "
"line"
msgstr ""
"Eine lange "
"Zeile mit \"Zeichen\""
`))
	require.NoError(t, err)
	assert.Equal(t, "de", f.Language)
	assert.Equal(t, []words.Text{
		{English: "A long line", Said: `Eine lange Zeile mit "Zeichen"`},
		{English: "Open", Said: "Öffnen"},
		{Context: "string", English: "Open", Said: "leer"},
		{English: "{n} bar", Said: "{n} Takt", Many: "{n} Takte"},
	}, f.Texts)
}

func TestReadRefuses(t *testing.T) {
	for _, c := range []struct{ name, file, says string }{
		{"no header", `msgid "a"`, "language"},
		{"no translation", head + "msgid \"a\"\nmsgstr \"\"\n", "no translation"},
		{"half a plural", head + "msgid \"a\"\nmsgid_plural \"b\"\nmsgstr[0] \"c\"\n", "no translation"},
		{"other places", head + "msgid \"a {n}\"\nmsgstr \"b {m}\"\n", "places"},
		{"one text twice", head + "msgid \"a\"\nmsgstr \"b\"\n\nmsgid \"a\"\nmsgstr \"c\"\n", "2 texts of which 1"},
		{"a broken line", head + "msgid \"a\nmsgstr \"b\"\n", "po: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := po.Read([]byte(c.file))
			assert.ErrorContains(t, err, c.says)
		})
	}
}

func TestGermanIsThere(t *testing.T) {
	c, err := po.Catalogue("de")
	require.NoError(t, err)
	assert.Equal(t, "de", c.Language())
	assert.Equal(t, "0,5", c.Number(0.5, 1))
	_, err = po.Catalogue("xx")
	assert.Error(t, err)
}
