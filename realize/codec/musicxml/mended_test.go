package musicxml_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"agremens/realize/codec/musicxml"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMended opens files with one fault each: whatever does not change the
// music costs nothing, the rest costs a note at most, and each is named with
// its measure.
func TestMended(t *testing.T) {
	bar := func(notes string) string { return oneScore(`<measure number="7">` + attributes + notes + `</measure>`) }
	c, e := quarter("C", 5), quarter("E", 5)
	bad := func(from, to string) string { return strings.Replace(c, from, to, 1) }
	slurred := func(note, kind string) string {
		return strings.Replace(note, "</note>", `<notations><slur type="`+kind+`" number="1"/></notations></note>`, 1)
	}
	lower := strings.Replace(strings.Replace(e, "<octave>5", "<octave>4", 1), "<voice>1", "<voice>2", 1)
	back := func(n string) string { return `<backup><duration>` + n + `</duration></backup>` }
	tuplet := func(note, kind string) string {
		return strings.Replace(note, "</note>", `<notations><tuplet type="`+kind+`" number="1"/></notations></note>`, 1)
	}
	wedge := func(kind string) string {
		return `<direction><direction-type><wedge type="` + kind + `" number="1"/></direction-type></direction>`
	}
	for _, tc := range []struct {
		name    string
		data    string
		notes   int
		onset   string // of the last chord
		warning string
	}{
		{"a length that is empty", bar(c + bad(">4<", "><") + e), 3, "2", "no usable length; its written value"},
		{"a length with a minus", bar(c + bad(">4<", ">-4<") + e), 3, "2", "no usable length; its written value"},
		{"a length that is a word", bar(c + bad(">4<", ">four<") + e), 3, "2", "no usable length; its written value"},
		{"a length beyond all music", bar(c + bad(">4<", ">999999999999<") + e), 3, "2", "no usable length; its written value"},
		{"a length beside its rounded fraction", bar(c + bad(">4<", ">3.9999<") + e), 3, "2", ""},
		{"a length and value both unusable", bar(c + bad(">4</duration><voice>1</voice><type>quarter</type>", "></duration>") + e), 2, "1", "without a usable length was left out"},
		{"no divisions", oneScore(`<measure number="7">` + c + e + `</measure>`), 2, "1", "worked out from the values"},
		{"divisions of nothing", oneScore(`<measure number="7"><attributes><divisions>0</divisions></attributes>` + c + e + `</measure>`), 2, "1", "is not a number of divisions"},
		{"divisions beyond all music", oneScore(`<measure number="7"><attributes><divisions>99999999999</divisions></attributes>` + c + e + `</measure>`), 2, "1", "is not a number of divisions"},
		{"lengths without a common measure", oneScore(`<measure number="7">` + primes(c)), 5, "39891/9973", "no usable length; its written value"},
		{"a forward step with a minus", bar(c + c + `<forward><duration>-4</duration></forward>` + lower), 3, "1", "in the other direction"},
		{"a step back with a minus", bar(c + back("-4") + e), 2, "2", "in the other direction"},
		{"a step back of no length", bar(c + c + back("x") + lower), 3, "1", "begins with its bar"},
		{"a forward step of no length", bar(c + `<forward><duration>x</duration></forward>` + e), 2, "1", "was passed over"},
		{"a note without a letter", bar(c + bad("<step>C</step>", "<step>H</step>") + e), 2, "2", "without a usable pitch"},
		{"a note without a pitch", bar(c + bad("<step>C</step><octave>5</octave>", "") + e), 2, "2", "without a usable pitch"},
		{"an octave below all", bar(c + bad(">5<", ">-1<") + e), 2, "2", "without a usable pitch"},
		{"an octave above all", bar(c + bad(">5<", ">10<") + e), 2, "2", "without a usable pitch"},
		{"a letter in small", bar(c + bad(">C<", ">c<") + e), 3, "2", ""},
		{"four sharps", bar(c + bad("</step>", "</step><alter>4</alter>") + e), 2, "2", "more than three semitones"},
		{"a chord whose first note is lost", bar(c + bad(">C<", ">H<") + strings.Replace(e, "<note>", "<note><chord/>", 1) + e), 3, "2", "without a usable pitch"},
		{"a chord whose second note is lost", bar(c + strings.Replace(bad(">C<", ">H<"), "<note>", "<note><chord/>", 1) + e), 2, "1", "without a usable pitch"},
		{"a slur between notes that sound together", bar(slurred(lower, "start") + back("4") + slurred(c, "stop")), 2, "0", "two ends sound together"},
		{"a slur on one note", bar(slurred(slurred(c, "start"), "stop") + e), 2, "1", "begins and ends on one note"},
		{"a slur without an end", bar(slurred(c, "start") + e), 2, "1", "a slur without an end"},
		{"a slur without a beginning", bar(c + slurred(e, "stop")), 2, "1", "a slur without a beginning"},
		{"a tuplet between notes that sound together", bar(tuplet(lower, "start") + back("4") + tuplet(c, "stop")), 2, "0", "two ends sound together"},
		{"a tuplet without an end", bar(tuplet(c, "start") + e), 2, "1", "tuplet without an end"},
		{"a hairpin without an end", bar(wedge("crescendo") + c + e), 2, "1", "a hairpin without an end"},
		{"a hairpin without a beginning", bar(c + e + wedge("stop")), 2, "1", "without a beginning"},
		{"a tie from nowhere", bar(c + strings.Replace(e, "<voice>", `<tie type="stop"/><voice>`, 1)), 2, "1", "without a beginning"},
		{"a bare ampersand", bar(c + `<direction><direction-type><words>Allegro & grazioso</words></direction-type></direction>` + e), 2, "1", ""},
		{"an entity nobody defined", bar(c + `&nbsp;` + e), 2, "1", ""},
		{"a long comment", bar(c + "<!-- " + strings.Repeat("measure ", 300_000) + "-->" + e), 2, "1", ""},
		{"a tag that is broken", bar(c + `<direction <words>>` + e), 2, "1", "damaged here"},
		{"an end that is missing", bar(c + `<direction><direction-type>` + e), 1, "0", "an end tag is missing"},
		{"an end that closes nothing", bar(c + `</words>` + e), 2, "1", "closes nothing"},
		{"a file that stops", func() string { s := bar(c + e + c); return s[:strings.LastIndex(s, "<type>")] }(), 3, "2", "stops in the middle"},
		{"a file that stops inside a tag", func() string { s := bar(c + e + c); return s[:strings.LastIndex(s, "<duration>")+3] }(), 2, "1", "stops in the middle"},
		{"an encoding nobody reads", strings.Replace(bar(c+e), "UTF-8", "Shift_JIS", 1) + "<!-- \x83\x65 -->", 2, "1", "encoding that is not read here"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r, err := musicxml.Decode([]byte(tc.data), nil)
			require.NoError(t, err)
			notes := 0
			for _, c := range r.Passage.Chords {
				notes += len(c.Notes)
			}
			assert.Equal(t, tc.notes, notes, "notes")
			last := r.Passage.Chords[len(r.Passage.Chords)-1]
			assert.Equal(t, tc.onset, last.Onset.String(), "onset of the last chord")
			if tc.warning == "" {
				assert.Empty(t, r.Warnings)
				return
			}
			said := fmt.Sprint(r.Warnings)
			assert.Contains(t, said, tc.warning)
			if !strings.Contains(tc.warning, "encoding") {
				assert.Contains(t, said, "bar 7")
			}
		})
	}
}

// primes gives notes in divisions that are all prime to each other.
func primes(first string) string {
	s := `<attributes><divisions>4</divisions></attributes>` + first
	for _, n := range []int{9973, 9967, 9949, 9941} {
		s += fmt.Sprintf(`<attributes><divisions>%d</divisions></attributes><note><pitch><step>D</step><octave>5</octave></pitch><duration>%d</duration><voice>1</voice><type>quarter</type></note>`, n, n-1)
	}
	return s + `</measure>`
}

// TestArchivesAsFound opens archives whose table of contents does not name
// the score as the archive does.
func TestArchivesAsFound(t *testing.T) {
	plain := oneScore(`<measure number="1">` + attributes + quarter("C", 5) + `</measure>`)
	contents := func(name string) string {
		return `<container><rootfiles><rootfile full-path="` + name + `"/></rootfiles></container>`
	}
	for _, tc := range []struct {
		name string
		data []byte
	}{
		{"a leading ./", archive(t, "META-INF/container.xml", contents("./a.xml"), "a.xml", plain)},
		{"a leading /", archive(t, "META-INF/container.xml", contents("/a.xml"), "a.xml", plain)},
		{"backslashes", archive(t, `META-INF\container.xml`, contents(`deep\a.xml`), `deep\a.xml`, plain)},
		{"capitals", archive(t, "META-INF/container.xml", contents("Score.XML"), "score.xml", plain)},
		{"percent signs", archive(t, "META-INF/container.xml", contents("my%20score.xml"), "my score.xml", plain)},
		{"another name", archive(t, "META-INF/container.xml", contents("gone.xml"), "a.xml", plain)},
		{"another XML file first", archive(t, "settings.xml", "<settings/>", "a.xml", plain)},
		{"a computer's own notes first", archive(t, "._a.xml", "\x00\x05\x16\x07", "__MACOSX/._a.xml", "x", "a.xml", plain)},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r, err := musicxml.Decode(tc.data, nil)
			require.NoError(t, err)
			assert.Len(t, r.Passage.Chords, 1)
		})
	}
}

// TestMacintoshLetters reads a title in the encoding of old Macintosh files.
// Expected letters: the Unicode Consortium's table for MacRoman (8E is é).
func TestMacintoshLetters(t *testing.T) {
	text := strings.ReplaceAll(titled(`<?xml version="1.0" encoding="macintosh"?>`), "é", "\x8e")
	r, err := musicxml.Decode([]byte(text), nil)
	require.NoError(t, err)
	assert.Equal(t, "Prélude", r.Passage.Title)
	assert.Empty(t, r.Warnings)
}

// TestFaultyFiles opens files that were refused once and should open.
func TestFaultyFiles(t *testing.T) {
	folder := referenceFolder(t, "faults")
	paths, err := filepath.Glob(filepath.Join(folder, "*"))
	require.NoError(t, err)
	opened := 0
	for _, path := range paths {
		if ext := filepath.Ext(path); ext != ".musicxml" && ext != ".mxl" {
			continue
		}
		t.Run(filepath.Base(path), func(t *testing.T) {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			r, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			assert.NotEmpty(t, r.Passage.Chords)
		})
		opened++
	}
	assert.NotZero(t, opened, "no files in %s", folder)
}
