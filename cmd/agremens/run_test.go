package main

import (
	"bytes"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
)

// call runs the command and returns what a shell would see.
func call(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(args, &o, &e)
	return code, o.String(), e.String()
}

func TestWrongUse(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		says string
	}{
		{"unknown command", []string{"relaize"}, `"relaize"`},
		{"no file", []string{"realize"}, "needs a score file"},
		{"two files", []string{"realize", "a.xml", "b.xml"}, "one file, not 2"},
		{"unknown flag", []string{"realize", "-colour", "red", "a.xml"}, "colour"},
		{"unknown format", []string{"realize", "-format", "pdf", "a.xml"}, "pdf"},
		{"unknown tradition", []string{"realize", "-tradition", "martian", "a.xml"}, "martian"},
		{"unknown order", []string{"realize", "-prefer", "me", "a.xml"}, "sources nor performers"},
		{"a tempo that is no number", []string{"realize", "-tempo", "NaN", "a.xml"}, "between 5 and 1000"},
		{"a percentage that is no number", []string{"realize", "-percent", "nan", "a.xml"}, "between 5 and 400"},
		{"a pitch that is no number", []string{"realize", "-pitch", "NaN", "a.xml"}, "between 300 and 600"},
		{"a tempo without end", []string{"realize", "-tempo", "+Inf", "a.xml"}, "between 5 and 1000"},
		{"tempo out of range", []string{"realize", "-tempo", "4000", "a.xml"}, "between 5 and 1000"},
		{"pitch out of range", []string{"realize", "-pitch", "44", "a.xml"}, "between 300 and 600"},
		{"unknown instrument", []string{"realize", "-instrument", "kazoo", "a.xml"}, "kazoo"},
		{"unknown tuning", []string{"realize", "-tuning", "sour", "a.xml"}, "sour"},
		{"build without a folder", []string{"build"}, "-o"},
		{"serve with an operand", []string{"serve", "here"}, `"here"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, out, errs := call(c.args...)
			assert.Equal(t, 2, code)
			assert.Empty(t, out)
			assert.Contains(t, errs, c.says)
			assert.Contains(t, errs, "usage:")
		})
	}
}

func TestHelp(t *testing.T) {
	for _, args := range [][]string{{"help"}, {"-h"}, {"--help"}} {
		code, out, errs := call(args...)
		assert.Equal(t, 0, code)
		assert.Empty(t, errs)
		for _, command := range []string{"serve", "build", "release", "realize"} {
			assert.Contains(t, out, "\n  agremens "+command, args)
		}
	}
	code, out, errs := call("realize", "-h")
	assert.Equal(t, 0, code)
	assert.Empty(t, out)
	assert.Contains(t, errs, "-tradition")
	assert.Equal(t, 1, strings.Count(errs, "examples:"), "said once")
}

// Every example is one line: a call, two spaces or more, and what it does;
// its flags are flags of that command.
func TestExamplesOfHelp(t *testing.T) {
	_, out, _ := call("help")
	_, shown, _ := strings.Cut(out, "examples:\n")
	examples := strings.Split(strings.TrimSuffix(shown, "\n"), "\n")
	require.Greater(t, len(examples), 8)
	for _, line := range examples {
		assert.Regexp(t, `^  agremens[^ ]*( [^ ]+)* {2,}[a-z].{10,}$`, line)
		assert.LessOrEqual(t, len(line), 120)
		fields, _, _ := strings.Cut(strings.TrimSpace(line), "  ")
		args := strings.Fields(fields)[1:]
		if len(args) == 0 || args[0] != "realize" || args[1] == "-h" {
			continue
		}
		args[len(args)-1] = "no-such-file"
		code, _, errs := call(args...)
		assert.Equal(t, 1, code, "%s is called rightly and fails for want of the file alone: %s", line, errs)
	}
}

const twoBars = "testdata/two-bars.musicxml"

func TestRealizeRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		says []string
	}{
		{"no such file", []string{"nothing.musicxml"}, []string{"nothing.musicxml", "give the path"}},
		{"another kind of file", []string{"testdata/malformed/make.go"}, []string{"not MusicXML", ".mxl"}},
		{"measures that are not there", []string{"-measures", "7-9", twoBars}, []string{"7-9", "numbered 1 to 2"}},
		{"measures backwards", []string{"-measures", "2-1", twoBars}, []string{"2-1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, out, errs := call(append([]string{"realize"}, c.args...)...)
			assert.Equal(t, 1, code)
			assert.Empty(t, out)
			for _, says := range c.says {
				assert.Contains(t, errs, says)
			}
		})
	}
}

// What is broken without loss of the notes opens, and each fault is named.
func TestMendedScoresOpen(t *testing.T) {
	for file, says := range map[string]string{
		"cut-off.musicxml":           "the file stops in the middle",
		"missing-divisions.musicxml": "how many divisions",
		"negative-duration.musicxml": "no usable length",
		"unknown-letters.abc":        "no closing",
	} {
		code, out, errs := call("realize", "testdata/mended/"+file)
		assert.Equal(t, 0, code, "%s: %s", file, errs)
		assert.Contains(t, out, says, file)
	}
}

func TestMalformedScoresAreRefused(t *testing.T) {
	var files []string
	for _, pattern := range []string{"*.musicxml", "*.xml", "*.mxl"} {
		found, err := filepath.Glob("testdata/malformed/" + pattern)
		require.NoError(t, err)
		require.NotEmpty(t, found, pattern)
		files = append(files, found...)
	}
	require.GreaterOrEqual(t, len(files), 9)
	for _, file := range files {
		for _, format := range []string{"json", "text"} {
			t.Run(filepath.Base(file)+" "+format, func(t *testing.T) {
				code, out, errs := call("realize", "-format", format, file)
				assert.Equal(t, 1, code)
				assert.Empty(t, out)
				assert.True(t, strings.HasPrefix(errs, "agremens: "+file+": "), errs)
				assert.GreaterOrEqual(t, strings.Count(errs, ". ")+strings.Count(errs, ".\n"), 2, "it says what is wrong, and what to do: %s", errs)
				assert.NotRegexp(t, ": (musicxml|abc|kern): |: the file: ", errs, "no prefix of a reader's")
				assert.Equal(t, 1, strings.Count(errs, "\n"), "one line: %s", errs)
			})
		}
	}
}

func TestRealizeText(t *testing.T) {
	code, out, errs := call("realize", twoBars)
	require.Equal(t, 0, code, errs)
	assert.Contains(t, out, "Two bars")
	assert.Contains(t, out, "Tempo: 90 quarter notes per minute\n")
	assert.Contains(t, out, "\nBar 1, right hand, D5, quarter note: trill\n")
	assert.Contains(t, out, "\nBar 2, right hand, G4, quarter note: mordent\n")
	assert.Contains(t, out, "Source: ")

	_, out, _ = call("realize", "-measures", "2", twoBars)
	assert.NotContains(t, out, "Bar 1,")
	assert.Contains(t, out, "Bar 2, ")
}

// tune writes a short tune in ABC to a file and returns its name.
func tune(t *testing.T, text string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "tune.abc")
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	return name
}

// One line of each kind of place; what is wanted was written by hand.
func TestWordsOfTheTextFormat(t *testing.T) {
	file := tune(t, "X:1\nT:Signs\nM:4/4\nL:1/4\nK:D\n"+
		"!uppermordent!f3/2 g/2 {e}f !invertedturn!^g | A {/d}c !trill!d2 | !slide!f (3e!mordent!df e |]\n")
	code, out, errs := call("realize", file)
	require.Equal(t, 0, code, errs)
	for _, line := range []string{
		"Bar 1, right hand, F♯5, dotted quarter note: short trill",
		"Bar 1, right hand, F♯5, quarter note: appoggiatura",
		"Bar 1, right hand, G♯5, quarter note: inverted turn",
		"Bar 2, right hand, C♯5, quarter note: acciaccatura",
		"Bar 2, right hand, D5, half note: trill",
		"Bar 3, right hand, F♯5, quarter note: slide",
		"Bar 3, right hand, D5, 2/3 of a quarter note: mordent",
		"Takes 1/8 of a quarter note from the note before (A4)",
	} {
		assert.Contains(t, out, line+"\n")
	}
}

// A question stands on a line of its own, its answer on the next.
func TestQuestionsAndAnswersStandApart(t *testing.T) {
	file := tune(t, "X:1\nM:4/4\nL:1/4\nK:C\n^F Tc2 {/d}c | !turn!E2 ^D2 |]\n")
	code, out, errs := call("realize", file)
	require.Equal(t, 0, code, errs)
	assert.Contains(t, out, "Tradition: Vienna, Classical (assumed)\n")
	assert.Contains(t, out, "per minute (assumed)\n")
	_, asked, found := strings.Cut(out, "Assumed; please check:\n")
	require.True(t, found)
	asked, _, _ = strings.Cut(asked, "\n\n")
	assert.Contains(t, asked, "  The score gives no composer or date. Which tradition should its ornaments follow?\n"+
		"    Assumed: Vienna, Classical (-tradition changes it)\n")
	for _, line := range strings.Split(strings.TrimSpace(asked), "\n") {
		assert.NotRegexp(t, `\? \S`, strings.ReplaceAll(line, "? The number of notes in a trill depends on it.", ""), "no answer follows its question on one line")
	}
	_, out, _ = call("realize", "-tradition", "bach", "-tempo", "60", file)
	assert.NotContains(t, out, "(assumed)")
}

// The names of MusicXML's elements are for programs: they stand in JSON alone.
func TestNoElementNamesInText(t *testing.T) {
	elements := regexp.MustCompile(`\b(trill-mark|inverted-mordent|inverted-turn|delayed-turn|grace, slash|other-ornament|schleifer|wavy-line|staff \d)\b`)
	for _, p := range assets.Passages() {
		file := tune(t, p.ABC)
		_, out, _ := call("realize", file)
		assert.NotRegexp(t, elements, out, p.ID)
		_, out, _ = call("realize", "-format", "json", file)
		assert.Regexp(t, `"(trill-mark|mordent|turn|grace)"`, out, p.ID)
	}
}

func TestRealizeWritesToAFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "out.json")
	code, out, errs := call("realize", twoBars, "-format", "json", "-o", name)
	require.Equal(t, 0, code, errs)
	assert.Empty(t, out)
	written, err := os.ReadFile(name)
	require.NoError(t, err)
	_, direct, _ := call("realize", "-format", "json", twoBars)
	assert.Equal(t, direct, string(written))
}

func TestServedToThisComputerAlone(t *testing.T) {
	host, _, err := net.SplitHostPort(defaultAddr)
	require.NoError(t, err)
	assert.True(t, net.ParseIP(host).IsLoopback())
}
