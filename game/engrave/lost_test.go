package engrave_test

import (
	"bytes"
	"encoding/xml"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec"
	"agremens/realize/score"
)

// TestNothingIsLost counts in all reference scores, by a walk through the
// markup that shares nothing with the reader, what each element says to a
// pianist, and holds it against what reaches the page and what is told as not
// drawn. AGREMENS_FAULTS prints the table.
func TestNothingIsLost(t *testing.T) {
	if testing.Short() {
		t.Skip("all reference scores")
	}
	dir := os.Getenv("AGREMENS_REFERENCE")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "reference")
	}
	inFiles, drawn, listed := map[string]int{}, map[string]int{}, map[string]int{}
	files := 0
	for _, part := range []string{"scores", filepath.Join("second", "scores")} {
		paths, err := filepath.Glob(filepath.Join(dir, part, "*.musicxml"))
		require.NoError(t, err)
		for _, path := range paths {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			s, err := codec.Open(data, "", nil)
			require.NoError(t, err, path)
			files++
			here, shown, told := printed(data), onPage(s.Passage), map[string]int{}
			for _, n := range s.NotDrawn {
				told[n.Element] += n.Count
			}
			delete(told, "hidden-note")
			for _, name := range slices.Sorted(maps.Keys(here)) {
				inFiles[name] += here[name]
				drawn[name] += shown[name]
				listed[name] += told[name]
				if lost := here[name] - shown[name] - told[name]; lost > joined[filepath.Base(path)+" "+name] {
					t.Errorf("%s: of %d %s %d are on the page and %d are told as not drawn", filepath.Base(path), here[name], name, shown[name], told[name])
				}
			}
			for name, n := range told {
				if here[name] == 0 {
					assert.Contains(t, []string{"symbol"}, name)
					inFiles[name] += n
					listed[name] += n
				}
			}
		}
	}
	if files == 0 {
		t.Skipf("no reference data at %s", dir)
	}
	if os.Getenv("AGREMENS_FAULTS") != "" {
		t.Logf("%-20s %8s %8s %8s", "element", "in files", "drawn", "listed")
		for _, name := range slices.Sorted(maps.Keys(inFiles)) {
			t.Logf("%-20s %8d %8d %8d", name, inFiles[name], drawn[name], listed[name])
		}
	}
}

// joined says how many of a file's elements stand in one line with another of
// the same place: two tempo words.
var joined = map[string]int{"Beethoven-29-4.musicxml words": 1}

// printed counts what a file prints, by element; what stands on notes that it
// hides is for playback.
func printed(data []byte) map[string]int {
	count := map[string]int{}
	d := xml.NewDecoder(bytes.NewReader(data))
	d.Strict = false
	d.CharsetReader = nil
	var open []string
	hidden, words := false, false
	attr := func(e xml.StartElement, name string) string {
		for _, a := range e.Attr {
			if a.Name.Local == name {
				return a.Value
			}
		}
		return ""
	}
	for {
		token, err := d.RawToken()
		if err != nil {
			return count
		}
		switch e := token.(type) {
		case xml.StartElement:
			name, parent := e.Name.Local, ""
			if len(open) > 0 {
				parent = open[len(open)-1]
			}
			open = append(open, name)
			switch name {
			case "note":
				hidden = attr(e, "print-object") == "no"
			case "direction":
				words = false
			}
			inNote := slices.Contains(open, "note")
			if inNote && hidden {
				continue
			}
			switch parent {
			case "articulations", "technical", "ornaments":
				if name != "wavy-line" && name != "accidental-mark" {
					count[name]++
				}
				continue
			}
			switch name {
			case "slur", "wedge", "octave-shift", "dashes", "bracket", "glissando", "slide":
				if kind := attr(e, "type"); kind != "stop" && kind != "continue" {
					count[name]++
				}
			case "tuplet":
				if attr(e, "type") == "start" {
					count[name]++
				}
			case "dynamics":
				if parent == "direction-type" || parent == "notations" {
					count[name]++
				}
			case "pedal":
				count[name]++
			case "rehearsal", "metronome", "harmony", "figured-bass", "lyric", "fermata":
				if attr(e, "print-object") != "no" {
					count[name]++
				}
			}
		case xml.CharData:
			text := strings.TrimFunc(string(e), func(r rune) bool { return unicode.IsSpace(r) || r >= 0xE000 && r <= 0xF8FF })
			switch n := len(open); {
			case n > 0 && open[n-1] == "notehead" && text != "normal" && !hidden:
				count["notehead"]++
			case n > 0 && open[n-1] == "words" && text != "" && !words:
				count["words"]++
				words = true // several of a direction are one line
			}
		case xml.EndElement:
			if n := len(open); n > 0 {
				open = open[:n-1]
			}
		}
	}
}

// onPage counts the same in a passage, where the engraver draws it.
func onPage(p *score.Passage) map[string]int {
	count := map[string]int{"slur": len(p.Slurs), "tuplet": len(p.Tuplets)}
	for _, m := range p.Marks {
		if m.Kind != score.Harmony {
			count[string(m.Kind)]++
		}
	}
	for _, t := range p.Tempos {
		if t.PerMinute > 0 {
			count["metronome"]++
		}
		if t.Text != "" {
			count["words"]++
		}
	}
	for i := range p.Chords {
		c := &p.Chords[i]
		for _, a := range c.Artic {
			count[string(a)]++
		}
		for _, s := range c.Signs {
			if s.Kind != score.WavyLine {
				count[string(s.Kind)]++
			}
		}
		if c.Fermata {
			count["fermata"]++
		}
		for _, n := range c.Notes {
			if n.Fingering != "" {
				count["fingering"]++
			}
			if n.Head != "" {
				count["notehead"]++
			}
		}
	}
	return count
}
