package musicxml_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"agremens/realize/codec/musicxml"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// score wraps measures into a one-part score.
func oneScore(measures string) string {
	return `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">` + measures + `</part></score-partwise>`
}

const attributes = `<attributes><divisions>4</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`

func quarter(step string, octave int) string {
	return fmt.Sprintf(`<note><pitch><step>%s</step><octave>%d</octave></pitch><duration>4</duration><voice>1</voice><type>quarter</type></note>`, step, octave)
}

// archive makes a zip file of names and contents in turn.
func archive(t *testing.T, files ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		f, err := w.Create(files[i])
		require.NoError(t, err)
		_, err = f.Write([]byte(files[i+1]))
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

func TestMalformed(t *testing.T) {
	whole := oneScore(`<measure number="1">` + attributes + strings.Repeat(quarter("C", 5), 4) + `</measure>`)
	bomb := archive(t, "META-INF/container.xml", `<container><rootfiles><rootfile full-path="a.musicxml"/></rootfiles></container>`,
		"a.musicxml", strings.Repeat(" ", 200<<20))
	entities := `<?xml version="1.0"?><!DOCTYPE score-partwise [<!ENTITY a "x"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><score-partwise><part-list/>&b;</score-partwise>`
	nested := oneScore(`<measure number="1">` + strings.Repeat("<note>", 100_000) + `</measure>`)

	for _, tc := range []struct {
		name  string
		data  []byte
		kind  error
		where string
		what  string
	}{
		{name: "cut off before any note", data: []byte(whole[:strings.Index(whole, "<note>")]), kind: musicxml.ErrBroken, where: "bar 1, line 1", what: "stops in the middle"},
		{name: "not XML", data: []byte("Dear Ms Miller, please find the score attached."), kind: musicxml.ErrNotMusicXML, what: "not MusicXML"},
		{name: "a picture", data: []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), kind: musicxml.ErrNotMusicXML, what: "not MusicXML"},
		{name: "a PDF", data: []byte("%PDF-1.7\n%\xe2\xe3\xcf\xd3"), kind: musicxml.ErrNotMusicXML, what: "PDF"},
		{name: "a MIDI file", data: []byte("MThd\x00\x00\x00\x06\x00\x01"), kind: musicxml.ErrNotMusicXML, what: "MIDI"},
		{name: "empty", data: nil, kind: musicxml.ErrNotMusicXML, what: "empty"},
		{name: "only spaces", data: []byte(" \n\t "), kind: musicxml.ErrNotMusicXML, what: "not MusicXML"},
		{name: "zip without a score", data: archive(t, "letter.txt", "hello"), kind: musicxml.ErrNotMusicXML, what: "contains no score"},
		{name: "zip whose directory names a missing score", data: archive(t, "META-INF/container.xml", `<container><rootfiles><rootfile full-path="a.musicxml"/></rootfiles></container>`), kind: musicxml.ErrNotMusicXML, what: "contains no score"},
		{name: "damaged zip", data: []byte("PK\x03\x04 this is no archive"), kind: musicxml.ErrBroken, what: "damaged"},
		{name: "zip bomb", data: bomb, kind: musicxml.ErrTooLarge, what: "larger than 20 MB"},
		{name: "zip with many entries", data: []byte("PK\x03\x04" + strings.Repeat("PK\x01\x02", 3000)), kind: musicxml.ErrTooLarge, what: "3000 files"},
		{name: "entity expansion", data: []byte(entities), kind: musicxml.ErrUnsupported, what: "entities"},
		{name: "a million notes in a bar", data: []byte(oneScore(`<measure number="1">` + attributes + strings.Repeat("<note><rest/><duration>1</duration></note>", 400_000) + `</measure>`)), kind: musicxml.ErrTooLarge, where: "bar 1", what: "more than 2000 notes"},
		{name: "too many bars", data: []byte(oneScore(strings.Repeat(`<measure number="7"/>`, 2001))), kind: musicxml.ErrTooLarge, what: "more than 2000 bars"},
		{name: "wrong root", data: []byte(`<?xml version="1.0"?><museScore version="4.0"><Score/></museScore>`), kind: musicxml.ErrNotMusicXML, what: "not a MusicXML score"},
		{name: "a web page", data: []byte(`<!DOCTYPE html><html><body>Sign in</body></html>`), kind: musicxml.ErrNotMusicXML, what: "web page"},
		{name: "an opus", data: []byte(`<opus version="4.0"/>`), kind: musicxml.ErrUnsupported, what: "list of scores"},
		{name: "divisions and no notes", data: []byte(oneScore(`<measure number="1"><attributes><divisions>0</divisions></attributes></measure>`)), kind: musicxml.ErrUnsupported, what: "no notes with a pitch"},
		{name: "deep nesting", data: []byte(nested), kind: musicxml.ErrBroken, what: "nested"},
		{name: "endless tag", data: []byte("<score-partwise " + strings.Repeat("a='b' ", 400_000)), kind: musicxml.ErrTooLarge, what: "longer than"},
		{name: "wrong nesting", data: []byte("<score-partwise><part-list></score-partwise>"), kind: musicxml.ErrBroken, what: "an end tag is missing"},
		{name: "too large", data: bytes.Repeat([]byte("<a/>"), 6<<20), kind: musicxml.ErrTooLarge, what: "larger than 20 MB"},
		{name: "no part", data: []byte(`<score-partwise version="4.0"><part-list/></score-partwise>`), kind: musicxml.ErrBroken, what: "no part"},
		{name: "a drum part", data: []byte(oneScore(`<measure number="1">` + attributes + `<note><unpitched/><duration>4</duration></note></measure>`)), kind: musicxml.ErrUnsupported, what: "no notes with a pitch"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			r, err := musicxml.Decode(tc.data, nil)
			runtime.ReadMemStats(&after)
			assert.Nil(t, r)
			require.ErrorIs(t, err, tc.kind)
			var e *musicxml.Error
			require.ErrorAs(t, err, &e)
			assert.Contains(t, e.Where, tc.where)
			assert.Contains(t, e.What, tc.what)
			assert.NotEmpty(t, e.Mend)
			assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(128<<20), "memory")
		})
	}
}
