package engrave_test

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec"
	"agremens/realize/score"
)

// TestNothingOfKernIsLost holds Humdrum files against their pages as
// [TestNothingIsLost] does MusicXML: a walk over the columns that shares nothing
// with the reader counts what their letters say (humdrum.org, **kern and
// **dynam). AGREMENS_FAULTS prints the table.
func TestNothingOfKernIsLost(t *testing.T) {
	if testing.Short() {
		t.Skip("all reference scores")
	}
	dir := os.Getenv("AGREMENS_REFERENCE")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "reference")
	}
	paths, err := filepath.Glob(filepath.Join(dir, "kern", "*", "*.krn"))
	require.NoError(t, err)
	if len(paths) == 0 {
		t.Skipf("no reference data at %s", dir)
	}
	inFiles, drawn, listed := map[string]int{}, map[string]int{}, map[string]int{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		s, err := codec.Open(data, "", nil)
		require.NoError(t, err, path)
		here, shown, told := humdrum(string(data)), onKernPage(s.Passage), map[string]int{}
		for _, n := range s.NotDrawn {
			told[n.Element] += n.Count
		}
		for _, name := range slices.Sorted(maps.Keys(here)) {
			inFiles[name] += here[name]
			drawn[name] += shown[name]
			listed[name] += told[name]
			if lost := here[name] - shown[name] - told[name]; lost > kernJoined[filepath.Base(path)+" "+name] {
				t.Errorf("%s: of %d %s %d are on the page and %d are told as not drawn", filepath.Base(path), here[name], name, shown[name], told[name])
			}
		}
		for name := range told {
			assert.Contains(t, here, name, path)
		}
	}
	if os.Getenv("AGREMENS_FAULTS") != "" {
		t.Logf("%d files\n%-20s %8s %8s %8s", len(paths), "element", "in files", "drawn", "listed")
		for _, name := range slices.Sorted(maps.Keys(inFiles)) {
			t.Logf("%-20s %8d %8d %8d", name, inFiles[name], drawn[name], listed[name])
		}
	}
}

// kernJoined says how many of a file's elements stand in one line with another
// of the same place: "Rondo. Allegro".
var kernJoined = map[string]int{"sonata08-3.krn wedge and words": 1, "sonata12-2.krn wedge and words": 1}

// kernLetters say an element once each of a chord, or of its notes.
var kernLetters = []struct {
	name string
	each bool // of each note; else of the chord
	is   *regexp.Regexp
}{
	{"staccato", false, regexp.MustCompile(`'`)},
	{"staccatissimo", false, regexp.MustCompile("`")},
	{"tenuto", false, regexp.MustCompile(`~`)},
	{"accent", false, regexp.MustCompile(`(^|[^^])\^([^^]|$)`)},
	{"strong-accent", false, regexp.MustCompile(`\^\^`)},
	{"breath-mark", false, regexp.MustCompile(`,`)},
	{"fermata", false, regexp.MustCompile(`;`)},
	{"trill-mark", true, regexp.MustCompile(`^[^Tt]*([Tt]|[Tt][^Tt].*|TT[^T]*|tt[^t]*)$`)},
	{"M", true, regexp.MustCompile(`[Mm]`)},
	{"W", true, regexp.MustCompile(`[Ww]`)},
	{"turn", true, regexp.MustCompile(`[Ss$]`)},
	{"other-ornament", true, regexp.MustCompile(`O`)},
	{"tie", true, regexp.MustCompile(`[\[_]`)},
}

var (
	hairpin = regexp.MustCompile(`<+|>+`)
	level   = regexp.MustCompile(`[a-z]+`)
)

// humColumn is what a column holds, and the number of the one it split from.
type humColumn struct {
	kind  string
	place int
}

// humdrum counts what a file prints, by element.
func humdrum(text string) map[string]int {
	count := map[string]int{}
	var columns []humColumn
	said := map[string]bool{} // words that wait for the next notes
	for _, line := range strings.Split(strings.ReplaceAll(text, "\r", ""), "\n") {
		fields := strings.Split(line, "\t")
		switch {
		case strings.HasPrefix(line, "!!!OMD"):
			count["wedge and words"]++ // the tempo's
		case line == "" || strings.HasPrefix(line, "!!!"):
		case line[0] == '!':
			for _, f := range fields {
				if f = strings.TrimLeft(f, "!"); !strings.Contains(f, ":t=") {
					continue
				}
				_, words, _ := strings.Cut(f, ":t=")
				switch {
				case strings.HasPrefix(f, "LO:TX:tempo:t=(["):
					count["metronome"]++
				case strings.HasPrefix(f, "LO:TX:"), strings.HasPrefix(f, "LO:DY:"):
					count["wedge and words"]++
					said[words] = true
				}
			}
		case strings.HasPrefix(line, "**"):
			for i, f := range fields {
				columns = append(columns, humColumn{f, i})
			}
		case line[0] == '*':
			lines := map[string]bool{} // the columns of a staff say it once each
			for _, f := range fields {
				switch f[1:] {
				case "8va", "8ba", "15ma", "15mba":
					lines["octave-shift"] = true
				case "ped", "Xped":
					lines["pedal"] = true
				}
			}
			for name := range lines {
				count[name]++
			}
			columns = humdrumPaths(columns, fields)
		case line[0] == '=':
			if strings.Contains(fields[0], ";") {
				count["fermata"]++
			}
		default:
			humdrumRow(columns, fields, said, count)
			clear(said)
		}
	}
	return count
}

func humdrumRow(columns []humColumn, fields []string, said map[string]bool, count map[string]int) {
	levels, forced := map[string]bool{}, map[int]bool{}
	for i, f := range fields {
		switch {
		case f == "." || i >= len(columns):
		case columns[i].kind == "**kern":
			if humdrumNotes(f, count) {
				forced[columns[i].place] = true
			}
		case columns[i].kind == "**dynam":
			for _, part := range strings.Fields(f) {
				if strings.HasSuffix(part, "yy") {
					continue
				}
				for _, word := range level.FindAllString(strings.Trim(part, "Xxy"), -1) {
					levels[word] = word != "r"
				}
				for _, sign := range hairpin.FindAllString(part, -1) {
					// Words that stand there already may be all that a hairpin without an end prints.
					if sign[0] == '<' && !said["cresc."] || sign[0] == '>' && !said["dim."] && !said["decresc."] {
						count["wedge and words"]++
					}
				}
			}
		default:
			count[columns[i].kind]++
		}
	}
	strong := false
	for word, counts := range levels {
		if counts {
			count["dynamics"]++
		}
		strong = strong || strings.ContainsAny(word, "fz")
	}
	if !strong {
		count["dynamics"] += len(forced)
	}
}

// humdrumNotes counts what a field of notes says, and reports whether it asks
// for a sforzando ("z").
func humdrumNotes(field string, count map[string]int) (forced bool) {
	chord := map[string]bool{}
	for _, n := range strings.Fields(field) {
		if strings.Contains(n, "yy") {
			continue
		}
		count["slur"] += strings.Count(n, "(") + strings.Count(n, "{")
		forced = forced || strings.Contains(n, "z") && !strings.Contains(n, "zy")
		for _, l := range kernLetters {
			switch {
			case !l.is.MatchString(n):
			case l.each:
				count[l.name]++
			default:
				chord[l.name] = true
			}
		}
	}
	for name := range chord {
		count[name]++
	}
	if len(strings.Fields(field)) > 1 && strings.Contains(field, ":") {
		count["arpeggio"]++
	}
	return forced
}

// humdrumPaths follows the columns where they split, join and end.
func humdrumPaths(columns []humColumn, fields []string) []humColumn {
	var out []humColumn
	for i := 0; i < len(fields) && i < len(columns); i++ {
		switch fields[i] {
		case "*^":
			out = append(out, columns[i], columns[i])
		case "*v":
			out = append(out, columns[i])
			for i+1 < len(fields) && fields[i+1] == "*v" && columns[i+1] == columns[i] {
				i++
			}
		case "*-":
		default:
			out = append(out, columns[i])
		}
	}
	return out
}

// onKernPage counts the same in a passage, where the engraver draws it.
func onKernPage(p *score.Passage) map[string]int {
	count := onPage(p)
	// M is the sign without the stroke. A hairpin without an end is a word.
	count["M"], count["W"] = count["inverted-mordent"], count["mordent"]
	count["turn"] += count["delayed-turn"] + count["inverted-turn"] + count["delayed-inverted-turn"]
	count["wedge and words"] = count["wedge"] + count["words"]
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Arpeggio != "" {
			count["arpeggio"]++
		}
		for _, n := range c.Notes {
			if n.TieStart {
				count["tie"]++
			}
		}
	}
	return count
}
