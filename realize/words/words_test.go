package words_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize/words"
)

func german(t *testing.T) *words.Catalogue {
	c, err := words.Parse(words.Pack("de", ",", []words.Text{
		{English: "Bar {n}, {hand}", Said: "{hand}, Takt {n}"},
		{English: "{n} bar", Said: "{n} Takt", Many: "{n} Takte"},
		{English: "Open", Said: "Öffnen"},
		{Context: "string", English: "Open", Said: "leer"},
	}))
	require.NoError(t, err)
	return c
}

func TestSay(t *testing.T) {
	for _, c := range []struct {
		name            string
		say             func(c *words.Catalogue) string
		english, german string
	}{
		{"with places", func(c *words.Catalogue) string { return c.Say("Bar {n}, {hand}", "{n}", "3", "{hand}", "left") }, "Bar 3, left", "left, Takt 3"},
		{"without", func(c *words.Catalogue) string { return c.Say("Open") }, "Open", "Öffnen"},
		{"in a context", func(c *words.Catalogue) string { return c.In("string", "Open") }, "Open", "leer"},
		{"in an unknown context", func(c *words.Catalogue) string { return c.In("shop", "Open") }, "Open", "Open"},
		{"unknown", func(c *words.Catalogue) string { return c.Say("Close {x}", "{x}", "it") }, "Close it", "Close it"},
		{"one", func(c *words.Catalogue) string { return c.Count(1, "{n} bar", "{n} bars") }, "1 bar", "1 Takt"},
		{"many", func(c *words.Catalogue) string { return c.Count(4, "{n} bar", "{n} bars") }, "4 bars", "4 Takte"},
		{"none", func(c *words.Catalogue) string { return c.Count(0, "{n} bar", "{n} bars") }, "0 bars", "0 Takte"},
		{"counted, unknown", func(c *words.Catalogue) string { return c.Count(2, "{n} {x}", "{n} {x}s", "{x}", "note") }, "2 notes", "2 notes"},
		{"a number", func(c *words.Catalogue) string { return c.Number(-1.25, 1) }, "-1.2", "-1,2"},
		{"its language", func(c *words.Catalogue) string { return c.Language() }, "en", "de"},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.english, c.say(nil))
			assert.Equal(t, c.german, c.say(german(t)))
		})
	}
}

func TestFill(t *testing.T) {
	for _, c := range []struct {
		name, text string
		fill       []string
		want       string
	}{
		{"what was put in is left alone", "{a} {b}", []string{"{a}", "{b}", "{b}", "{a}"}, "{b} {a}"},
		{"an unknown place stays", "{a} {c}", []string{"{a}", "1"}, "1 {c}"},
		{"an open brace stays", "{a} {", []string{"{a}", "1"}, "1 {"},
		{"half a pair fills nothing", "{a}", []string{"{a}"}, "{a}"},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, words.Fill(c.text, c.fill...)) })
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ name, file string }{
		{"nothing", ""},
		{"another file", "<!doctype html>"},
		{"another version", "agremens words 2\x1fde\x1f,"},
		{"no language", "agremens words 1\x1f\x1f,"},
		{"no translation", "agremens words 1\x1fde\x1f,\x1eOpen"},
		{"an empty translation", "agremens words 1\x1fde\x1f,\x1eOpen\x1f"},
		{"one text twice", "agremens words 1\x1fde\x1f,\x1eOpen\x1fa\x1eOpen\x1fb"},
		{"too many fields", "agremens words 1\x1fde\x1f,\x1eOpen\x1fa\x1fb\x1fc"},
		{"no text", "agremens words 1\x1fde\x1f,\x1e\xff\x1fa"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := words.Parse([]byte(c.file))
			assert.Error(t, err)
		})
	}
}

// What is packed is read back, whatever the texts.
func TestPackedIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[\p{L}{} .,]{1,20}`)
		texts := rapid.SliceOfNDistinct(rapid.Custom(func(t *rapid.T) words.Text {
			return words.Text{
				Context: rapid.StringMatching(`[a-z]{0,3}`).Draw(t, "context"), English: text.Draw(t, "english"),
				Said: text.Draw(t, "said"), Many: rapid.StringMatching(`\p{L}{0,5}`).Draw(t, "many"),
			}
		}), 0, 10, func(t words.Text) string { return t.Context + "\x04" + t.English }).Draw(t, "texts")
		c, err := words.Parse(words.Pack("xx", ",", texts))
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range texts {
			got := c.Say(x.English)
			if x.Context != "" {
				got = c.In(x.Context, x.English)
			}
			if got != x.Said {
				t.Fatalf("%q is said %q, not %q", x.English, got, x.Said)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	f.Add(words.Pack("de", ",", []words.Text{{English: "{n} bar", Said: "{n} Takt", Many: "{n} Takte"}, {Context: "a", English: "b", Said: "c"}}))
	f.Add([]byte("agremens words 1\x1fde\x1f,\x1eOpen"))
	f.Fuzz(func(t *testing.T, file []byte) {
		c, err := words.Parse(file)
		if err != nil {
			return
		}
		_ = c.Count(2, "{n} bar", "{n} bars")
		_ = c.Say("Open {x}", "{x}", "y")
		_ = c.Number(1.5, 2)
	})
}
