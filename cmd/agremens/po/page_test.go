package po_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/realize/words"
	"agremens/web"
)

// page gathers the texts of the page's markup and scripts, by the rules of
// web/words.js, which puts the translations there.
func (g gathered) page(t *testing.T) {
	files, err := web.Files()
	require.NoError(t, err)
	before := len(g)
	g.markup(t, files["index.html"])
	require.Greater(t, len(g), before+300, "too few texts found in the markup")
	before = len(g)
	for name, file := range files {
		if path.Ext(name) != ".js" {
			continue
		}
		for _, m := range regexp.MustCompile(`\bsay\('((?:[^'\\]|\\.)*)'`).FindAllSubmatch(file, -1) {
			g.add(words.Text{English: string(m[1])})
		}
	}
	require.Greater(t, len(g), before+5, "too few texts found in the scripts")
}

// spoken are the attributes that hold texts.
var spoken = []string{"aria-label", "title", "placeholder", "alt", "label"}

func (g gathered) markup(t *testing.T, page []byte) {
	type element struct {
		context string
		silent  bool // nothing in it is translated
	}
	open := []element{{}}
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		token, err := d.Token()
		if err == io.EOF {
			return
		}
		require.NoError(t, err)
		in := open[len(open)-1]
		add := func(context, text string) {
			g.add(words.Text{Context: context, English: strings.Join(strings.Fields(text), " ")})
		}
		switch token := token.(type) {
		case xml.StartElement:
			next := element{silent: in.silent || slices.Contains([]string{"head", "noscript"}, token.Name.Local)}
			for _, a := range token.Attr {
				next.silent = next.silent || a.Name.Local == "translate" && a.Value == "no"
				if a.Name.Local == "data-context" {
					next.context = a.Value
				}
			}
			for _, a := range token.Attr {
				if !next.silent && slices.Contains(spoken, a.Name.Local) {
					add(next.context, a.Value)
				}
			}
			open = append(open, next)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if !in.silent {
				add(in.context, string(token))
			}
		}
	}
}
