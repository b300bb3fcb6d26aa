package musicxml_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf16"

	"agremens/realize/codec/musicxml"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// titled is a small score whose title has an accented letter.
func titled(declaration string) string {
	s := oneScore(`<measure number="1">` + attributes + strings.Repeat(quarter("C", 5), 4) + `</measure>`)
	_, s, _ = strings.Cut(s, "?>")
	return declaration + strings.Replace(s, "<part-list>", "<work><work-title>Prélude</work-title></work><part-list>", 1)
}

func utf16Bytes(s string, big, mark bool) []byte {
	var b bytes.Buffer
	units := utf16.Encode([]rune(s))
	if mark {
		units = append([]uint16{0xFEFF}, units...)
	}
	for _, u := range units {
		if big {
			b.WriteByte(byte(u >> 8))
			b.WriteByte(byte(u))
		} else {
			b.WriteByte(byte(u))
			b.WriteByte(byte(u >> 8))
		}
	}
	return b.Bytes()
}

func latin1(s string) []byte {
	var b []byte
	for _, r := range s {
		b = append(b, byte(r))
	}
	return b
}

func TestEncodingsAndContainers(t *testing.T) {
	plain := titled(`<?xml version="1.0" encoding="UTF-8"?>`)
	wide := titled(`<?xml version="1.0" encoding="UTF-16"?>`)
	inMXL := `<?xml version="1.0"?><container><rootfiles><rootfile full-path="deep/a.xml" media-type="application/vnd.recordare.musicxml+xml"/><rootfile full-path="a.pdf" media-type="application/pdf"/></rootfiles></container>`
	for _, tc := range []struct {
		name    string
		data    []byte
		warning string
	}{
		{name: "UTF-8", data: []byte(plain)},
		{name: "UTF-8 with a mark", data: []byte("\uFEFF" + plain)},
		{name: "no declaration", data: []byte(titled(""))},
		{name: "UTF-16 little-endian", data: utf16Bytes(wide, false, true)},
		{name: "UTF-16 big-endian", data: utf16Bytes(wide, true, true)},
		{name: "UTF-16 without a mark", data: utf16Bytes(wide, false, false)},
		{name: "UTF-16 in name only", data: []byte(wide)},
		{name: "Latin-1", data: latin1(titled(`<?xml version="1.0" encoding="ISO-8859-1"?>`))},
		{name: "Latin-1 that says UTF-8", data: latin1(plain), warning: "letters with accents were guessed"},
		{name: "DOCTYPE that names a place", data: []byte(titled(`<?xml version="1.0"?><!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">`))},
		{name: "DOCTYPE with an empty subset", data: []byte(titled(`<!DOCTYPE score-partwise [ ]>`))},
		{name: "mxl", data: archive(t, "mimetype", "application/vnd.recordare.musicxml", "META-INF/container.xml", inMXL, "deep/a.xml", plain, "a.pdf", "%PDF")},
		{name: "mxl with UTF-16 inside", data: archive(t, "META-INF/container.xml", inMXL, "deep/a.xml", string(utf16Bytes(wide, false, true)))},
		{name: "zip without a directory of its own", data: archive(t, "readme.txt", "hello", "piece.musicxml", plain)},
		{name: "mxl with a damaged directory", data: archive(t, "META-INF/container.xml", "<container><rootf", "piece.xml", plain)},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r, err := musicxml.Decode(tc.data, nil)
			require.NoError(t, err)
			assert.Equal(t, "Prélude", r.Passage.Title)
			assert.Len(t, r.Passage.Chords, 4)
			if tc.warning == "" {
				assert.Empty(t, r.Warnings)
			} else {
				require.Len(t, r.Warnings, 1)
				assert.Contains(t, r.Warnings[0].String(), tc.warning)
			}
		})
	}
}

func TestDecodePart(t *testing.T) {
	part := func(id, name, step string, attributes string) (string, string) {
		return `<score-part id="` + id + `"><part-name>` + name + `</part-name></score-part>`,
			`<part id="` + id + `"><measure number="1">` + attributes + quarter(step, 4) + `</measure></part>`
	}
	one := strings.Replace(attributes, "</time>", "</time><clef><sign>G</sign><line>2</line></clef>", 1)
	low := strings.Replace(attributes, "</time>", "</time><clef><sign>F</sign><line>4</line></clef>", 1)
	two := strings.Replace(attributes, "</time>", "</time><staves>2</staves>", 1)
	build := func(parts ...[2]string) []byte {
		list, body := "", ""
		for _, p := range parts {
			list += p[0]
			body += p[1]
		}
		return []byte(`<score-partwise version="4.0"><part-list>` + list + `</part-list>` + body + `</score-partwise>`)
	}
	pair := func(a, b string) [2]string { return [2]string{a, b} }
	violin := pair(part("V", "Violin", "A", one))
	piano := pair(part("K", "Pianoforte", "C", two))
	nameless := pair(part("N", "", "B", two))
	right := pair(part("R", "Piano", "E", one))
	left := pair(part("L", "Piano", "D", low))

	for _, tc := range []struct {
		name   string
		data   []byte
		part   string
		chosen []string
		fails  bool
	}{
		{name: "the only part", data: build(violin), chosen: []string{"V"}},
		{name: "the part with two staves", data: build(violin, nameless), chosen: []string{"N"}},
		{name: "the part named for a keyboard", data: build(nameless, violin, piano), chosen: []string{"K"}},
		{name: "two parts for two hands", data: build(violin, right, left), chosen: []string{"R", "L"}},
		{name: "the first with notes", data: build(violin, pair(part("W", "Viola", "C", one))), chosen: []string{"V"}},
		{name: "the part asked for", data: build(violin, piano), part: "V", chosen: []string{"V"}},
		{name: "two parts asked for", data: build(violin, right, left), part: "V+L", chosen: []string{"V", "L"}},
		{name: "a part that is not there", data: build(violin, piano), part: "X", fails: true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r, err := musicxml.DecodePart(tc.data, tc.part, nil)
			if tc.fails {
				require.ErrorIs(t, err, musicxml.ErrUnsupported)
				return
			}
			require.NoError(t, err)
			var chosen []string
			for _, p := range r.Parts {
				if p.Chosen {
					chosen = append(chosen, p.ID)
				}
				assert.Equal(t, 1, p.Notes, p.ID)
			}
			assert.Equal(t, tc.chosen, chosen)
			assert.Len(t, r.Passage.Chords, len(tc.chosen))
		})
	}
}

func TestYield(t *testing.T) {
	data := []byte(oneScore(`<measure number="1">` + attributes + `</measure>` + strings.Repeat(`<measure number="2">`+strings.Repeat(quarter("C", 5), 4)+`</measure>`, 500)))
	calls := 0
	_, err := musicxml.Decode(data, func() { calls++ })
	require.NoError(t, err)
	assert.Greater(t, calls, 5)
}
