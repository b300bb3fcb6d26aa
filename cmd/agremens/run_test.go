package main

import (
	"bytes"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
		{"no file", []string{"realize"}, "one file"},
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
	code, out, _ := call("help")
	assert.Equal(t, 0, code)
	assert.Contains(t, out, "realize")
	code, _, errs := call("realize", "-h")
	assert.Equal(t, 0, code)
	assert.Contains(t, errs, "-tradition")
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
				assert.Contains(t, errs, " — ", "it says what to do")
				assert.Equal(t, 1, strings.Count(errs, "\n"), "one line: %s", errs)
			})
		}
	}
}

func TestRealizeText(t *testing.T) {
	code, out, errs := call("realize", twoBars)
	require.Equal(t, 0, code, errs)
	assert.Contains(t, out, "Two bars")
	assert.Contains(t, out, "90 quarter notes a minute")
	assert.Contains(t, out, "measure 1, staff 1, D5 1 quarter: trill-mark")
	assert.Contains(t, out, "measure 2, staff 1, G4 1 quarter: mordent")
	assert.Contains(t, out, "source: ")

	_, out, _ = call("realize", "-measures", "2", twoBars)
	assert.NotContains(t, out, "trill-mark")
	assert.Contains(t, out, "mordent")
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
