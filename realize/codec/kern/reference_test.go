package kern_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/kern"
	"agremens/realize/music"
	"agremens/realize/score"
)

func referenceDir() string {
	if folder := os.Getenv("AGREMENS_REFERENCE"); folder != "" {
		return folder
	}
	return filepath.Join("..", "..", "..", "..", "shared", "reference")
}

// references returns the movements to test with, by the last folder and name.
func references(t *testing.T) map[string][]byte {
	t.Helper()
	folder := referenceDir()
	if _, err := os.Stat(filepath.Join(folder, "kern")); err != nil {
		t.Skipf("no reference data at %s", folder)
	}
	paths, err := filepath.Glob(filepath.Join(folder, "kern", "*", "*.krn"))
	require.NoError(t, err)
	require.Len(t, paths, 68)
	files := map[string][]byte{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		files[filepath.Base(filepath.Dir(path))+"/"+filepath.Base(path)] = data
	}
	return files
}

var (
	trillLetters   = regexp.MustCompile(`[Tt]+`)
	mordentLetters = regexp.MustCompile(`[MmWw]+`)
	turnLetters    = regexp.MustCompile(`[Ss]*[S$][Ss]*`)
)

// letterOrnaments counts the ornaments of a file by its text alone: in every
// field with a number (columns of dynamics have none) a run of letters is one
// ornament, but three T on a note that is tied from before go on with one.
func letterOrnaments(data []byte) (signs int) {
	for _, line := range strings.Split(string(data), "\n") {
		if line == "" || strings.ContainsAny(line[:1], "!*=") {
			continue
		}
		for _, note := range strings.FieldsFunc(line, func(c rune) bool { return c == '\t' || c == ' ' }) {
			if !strings.ContainsAny(note, "0123456789") {
				continue
			}
			if trill := trillLetters.FindString(note); trill != "" && (len(trill) < 3 || !strings.ContainsAny(note, "]_")) {
				signs++
			}
			for _, r := range []*regexp.Regexp{mordentLetters, turnLetters} {
				if r.MatchString(note) {
					signs++
				}
			}
		}
	}
	return signs
}

// signs counts the signs of a passage; a wavy line behind a trill's own sign is
// part of it.
func signs(p *score.Passage) (n int) {
	for i := range p.Chords {
		trill := false
		for _, s := range p.Chords[i].Signs {
			trill = trill || s.Kind == score.TrillMark
			if s.Kind != score.WavyLine || s.Line == "start" && !trill {
				n++
			}
		}
	}
	return n
}

// Every movement opens, and every ornament letter is one sign.
func TestReferenceOrnaments(t *testing.T) {
	total, notes, warned := 0, 0, 0
	for name, data := range references(t) {
		r, err := kern.Decode(data, kern.Options{})
		if !assert.NoError(t, err, name) {
			continue
		}
		want := letterOrnaments(data)
		assert.Equal(t, want, signs(r.Passage), name)
		total += want
		for i := range r.Passage.Chords {
			notes += len(r.Passage.Chords[i].Notes)
		}
		warned += len(r.Warnings)
	}
	t.Logf("%d ornaments, %d notes, %d warnings", total, notes, warned)
	assert.Equal(t, 833, total, "the number of letters in these files")
}

// interval is the size of the steps a sign states, in semitones; 0 where it
// states none.
type interval struct{ up, down int }

// intervalOf reads what a sign states, from its accidentals and step sizes.
func intervalOf(s score.Sign, principal music.Pitch) (iv interval) {
	sizes := map[string]int{"half": 1, "whole": 2}
	iv.up, iv.down = sizes[s.Sound.TrillStep], sizes[s.Sound.TwoNoteTurn]
	for _, a := range s.Accidentals {
		alter, _ := score.Alter(a.Value)
		if a.Below {
			iv.down = principal.MIDI() - music.FromDiatonic(principal.Diatonic()-1, alter).MIDI()
		} else {
			iv.up = music.FromDiatonic(principal.Diatonic()+1, alter).MIDI() - principal.MIDI()
		}
	}
	return iv
}

// letterIntervals counts the intervals that the letters of a file state.
func letterIntervals(data []byte) map[interval]int {
	count := map[interval]int{}
	size := func(c byte) int {
		if c >= 'a' {
			return 1
		}
		return 2
	}
	for _, line := range strings.Split(string(data), "\n") {
		if line == "" || strings.ContainsAny(line[:1], "!*=") {
			continue
		}
		for _, note := range strings.FieldsFunc(line, func(c rune) bool { return c == '\t' || c == ' ' }) {
			if !strings.ContainsAny(note, "0123456789") {
				continue
			}
			if trill := trillLetters.FindString(note); trill != "" && (len(trill) < 3 || !strings.ContainsAny(note, "]_")) {
				count[interval{up: size(trill[0])}]++
			}
			if m := mordentLetters.FindString(note); m != "" {
				iv := interval{up: size(m[0])}
				if m[0] == 'w' || m[0] == 'W' {
					iv = interval{down: size(m[0])}
				}
				count[iv]++
			}
			if turn := turnLetters.FindString(note); len(turn) >= 3 {
				count[interval{size(turn[len(turn)-2]), size(turn[len(turn)-1])}]++
			}
		}
	}
	return count
}

// The intervals that the letters state come through, and every choice plays
// them: the notes next to the principal are as far away as the file says.
func TestReferenceIntervals(t *testing.T) {
	stated, heard := 0, 0
	for name, data := range references(t) {
		r, err := kern.Decode(data, kern.Options{})
		require.NoError(t, err, name)
		count := map[interval]int{}
		at := map[score.ID]interval{}
		for i := range r.Passage.Chords {
			for _, s := range r.Passage.Chords[i].Signs {
				n := r.Passage.Chords[i].Notes[s.Note]
				if iv := intervalOf(s, n.Pitch); iv != (interval{}) {
					count[iv]++
					stated++
					at[n.ID] = iv
				}
			}
		}
		assert.Equal(t, letterIntervals(data), count, name)
		for _, o := range realize.Read(r.Passage, realize.Taste{}).Ornaments {
			iv := at[o.Note]
			if len(o.Graces) > 0 {
				continue // small notes have pitches of their own
			}
			for _, c := range o.Choices {
				for _, n := range c.Notes {
					step := n.Pitch.MIDI() - o.Principal.MIDI()
					switch {
					case n.Degree == 1 && iv.up > 0:
						assert.Equal(t, iv.up, step, "%s, measure %s: %s of %v", name, r.Passage.Measures[o.Measure].Number, c.Key, o.Principal)
						heard++
					case n.Degree == -1 && iv.down > 0:
						assert.Equal(t, -iv.down, step, "%s, measure %s: %s of %v", name, r.Passage.Measures[o.Measure].Number, c.Key, o.Principal)
						heard++
					}
				}
			}
		}
	}
	t.Logf("%d intervals stated, %d notes heard", stated, heard)
}

// As printed, a sign says nothing but itself and the accidentals that a layout
// line prints with it.
func TestReferenceAsPrinted(t *testing.T) {
	for name, data := range references(t) {
		r, err := kern.Decode(data, kern.Options{AsPrinted: true})
		require.NoError(t, err, name)
		assert.Equal(t, letterOrnaments(data), signs(r.Passage), name)
		accidentals := 0
		for i := range r.Passage.Chords {
			for _, s := range r.Passage.Chords[i].Signs {
				accidentals += len(s.Accidentals)
				assert.Empty(t, s.Sound, name)
			}
		}
		assert.Equal(t, len(printedAccidental.FindAll(data, -1)), accidentals, name)
	}
}

var printedAccidental = regexp.MustCompile(`!LO:(?:TURN|TR|MOR)\S*acc=[#n-]+(?:[:\t\r\n]|$)`)
