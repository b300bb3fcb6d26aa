package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rendered writes the two bars as the program plays them.
func rendered(t *testing.T, format string) string { return renderedFrom(t, twoBars, format) }

// renderedFrom writes a score so.
func renderedFrom(t *testing.T, score, format string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "take."+format)
	code, _, errs := call("realize", "-format", format, "-instrument", "piano", "-o", file, score)
	require.Zero(t, code, errs)
	return file
}

func heardOf(t *testing.T, args ...string) hearJSON {
	t.Helper()
	code, out, errs := call(append([]string{"hear"}, args...)...)
	require.Zero(t, code, errs)
	var h hearJSON
	require.NoError(t, json.Unmarshal([]byte(out), &h))
	assert.Equal(t, 1, h.Schema)
	return h
}

// What the program plays it must hear as played, from the keys and from the
// sound, and both must agree.
func TestHearsWhatItPlays(t *testing.T) {
	keys := heardOf(t, "-score", twoBars, rendered(t, "midi"))
	sound := heardOf(t, "-score", twoBars, rendered(t, "wav"))
	for name, h := range map[string]hearJSON{"MIDI": keys, "WAV": sound} {
		require.Nil(t, h.Heard.Reason, name)
		require.NotEmpty(t, h.Notes)
		missing := 0
		for _, n := range h.Notes {
			if n.Onset == nil {
				missing++
			}
		}
		assert.LessOrEqual(t, missing, len(h.Notes)/20, name)
		assert.Empty(t, h.Extra, name)
		require.NotEmpty(t, h.Ornaments, name)
		for _, o := range h.Ornaments {
			assert.Empty(t, o.Faults, "%s: %s", name, o.Note)
		}
	}
	require.Len(t, sound.Notes, len(keys.Notes))
	shift := *sound.Offset - *keys.Offset
	for i, n := range keys.Notes {
		if o := sound.Notes[i].Onset; o != nil && n.Onset != nil {
			assert.InDelta(t, *n.Onset+shift, *o, 0.025, n.ID)
		}
	}
	for i := range keys.Ornaments {
		assert.Equal(t, keys.Ornaments[i].Choice, sound.Ornaments[i].Choice)
	}
}

func TestHearText(t *testing.T) {
	code, out, errs := call("hear", "-score", twoBars, "-format", "text", rendered(t, "midi"))
	require.Zero(t, code, errs)
	assert.Contains(t, out, "quarter notes per minute")
	assert.Contains(t, out, "Notes played: 11; missing: 0; extra or other: 0; not sure: 0")
	assert.Contains(t, out, "on the beat")
}

func TestHearRefuses(t *testing.T) {
	folder := t.TempDir()
	write := func(name, text string) string {
		file := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
		return file
	}
	silent := write("silent.wav", "RIFF\x00\x00\x00\x00WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00\x80\xbb\x00\x00\x00\x77\x01\x00\x02\x00\x10\x00data\x00\x10\x00\x00"+string(make([]byte, 4096)))
	for _, c := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"no audio", []string{"-score", twoBars}, 2, "one file"},
		{"no notes", []string{silent}, 2, "-score or -expect"},
		{"a tempo out of range", []string{"-score", twoBars, "-tempo", "4", silent}, 2, "-tempo 4"},
		{"a third hand", []string{"-score", twoBars, "-sounded", "foot", silent}, 2, "-sounded foot"},
		{"another format", []string{"-score", twoBars, "-format", "xml", silent}, 2, "-format xml"},
		{"silence", []string{"-score", twoBars, silent}, 1, "silent"},
		{"no such bars", []string{"-score", twoBars, "-bars", "77", silent}, 1, "77"},
		{"no such file", []string{"-score", twoBars, filepath.Join(folder, "none.wav")}, 1, "none.wav"},
		{"no sound file", []string{"-score", twoBars, write("text.wav", "good morning")}, 1, "not a WAV file"},
		{"an empty file", []string{"-score", twoBars, write("empty.wav", "")}, 1, "empty"},
		{"expectations of another schema", []string{"-expect", write("e.json", `{"schema":2}`), silent}, 1, "schema is 2"},
		{"expectations that are none", []string{"-expect", write("f.json", `[`), silent}, 1, "-expect"},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, out, errs := call(append([]string{"hear"}, c.args...)...)
			assert.Equal(t, c.code, code)
			assert.Empty(t, out)
			assert.Contains(t, errs, c.says)
		})
	}
}

// Another piece is no error: the answer says why nothing is judged.
func TestHearsAnotherPiece(t *testing.T) {
	expect := filepath.Join(t.TempDir(), "e.json")
	require.NoError(t, os.WriteFile(expect, []byte(`{"schema":1,"notes":[
		{"id":"a","midi":61,"q":0,"hand":"right"},{"id":"b","midi":63,"q":0.5,"hand":"right"},{"id":"c","midi":66,"q":1,"hand":"right"},
		{"id":"d","midi":68,"q":1.5,"hand":"right"},{"id":"e","midi":70,"q":2,"hand":"right"},{"id":"f","midi":61,"q":2.5,"hand":"right"},
		{"id":"g","midi":73,"q":3,"hand":"right"},{"id":"h","midi":70,"q":3.5,"hand":"right"}]}`), 0o644))
	h := heardOf(t, "-expect", expect, rendered(t, "wav"))
	require.NotNil(t, h.Heard.Reason)
	assert.Empty(t, h.Notes)
	code, out, _ := call("hear", "-expect", expect, "-format", "text", rendered(t, "midi"))
	assert.Zero(t, code)
	assert.Contains(t, out, "not these bars")
}
