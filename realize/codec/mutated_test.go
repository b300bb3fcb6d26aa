package codec_test

import (
	"bytes"
	"errors"
	"fmt"
	"iter"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec"
	"agremens/realize/codec/musicxml"
)

// A mutation damages a MusicXML text at a random place. Each imitates what
// was seen in files that people have: exports with a fault, files cut by a
// mail program, texts edited by hand.
var mutations = []struct {
	name   string
	damage func(r *rand.Rand, text []byte) []byte
}{
	{"an element is missing", func(r *rand.Rand, text []byte) []byte {
		return onElement(r, text, `<(slur|tuplet|tied|tie|wedge|type|voice|staff|stem|beam|duration|divisions|time|key|clef|backup|forward|accidental)\b`, func([]byte) []byte { return nil })
	}},
	{"an element stands twice", func(r *rand.Rand, text []byte) []byte {
		return onElement(r, text, `<(slur|tuplet|tied|tie|wedge|notations|ornaments|attributes|direction|barline|octave-shift|pedal)\b`, func(e []byte) []byte { return append(slices.Clone(e), e...) })
	}},
	{"start and stop are exchanged", func(r *rand.Rand, text []byte) []byte {
		return onMatch(r, text, `type="(start|stop)"`, func(m []byte) []byte {
			if bytes.Contains(m, []byte("start")) {
				return []byte(`type="stop"`)
			}
			return []byte(`type="start"`)
		})
	}},
	{"a number of a line is wrong", func(r *rand.Rand, text []byte) []byte {
		return onMatch(r, text, ` number="\d+"`, func([]byte) []byte { return []byte(fmt.Sprintf(` number="%d"`, r.IntN(9))) })
	}},
	{"a length is wrong", func(r *rand.Rand, text []byte) []byte {
		return onMatch(r, text, `<duration>[^<]*<`, func([]byte) []byte {
			return []byte("<duration>" + []string{"", "-2", "x", "1.3333", "0", "99999999999"}[r.IntN(6)] + "<")
		})
	}},
	{"a pitch is wrong", func(r *rand.Rand, text []byte) []byte {
		return onMatch(r, text, `<(step|octave)>[^<]*<`, func(m []byte) []byte {
			if bytes.HasPrefix(m, []byte("<step")) {
				return []byte("<step>" + []string{"c", "H", ""}[r.IntN(3)] + "<")
			}
			return []byte("<octave>" + []string{"-1", "12", "", "four"}[r.IntN(4)] + "<")
		})
	}},
	{"a number is wrong", func(r *rand.Rand, text []byte) []byte {
		return onMatch(r, text, `>(\d+)<`, func([]byte) []byte { return []byte(">" + []string{"", "-1", "7x", "1e9"}[r.IntN(4)] + "<") })
	}},
	{"an end tag is missing", func(r *rand.Rand, text []byte) []byte {
		return onMatch(r, text, `</[a-z-]+>`, func([]byte) []byte { return nil })
	}},
	{"a voice is wrong", func(r *rand.Rand, text []byte) []byte {
		return onMatch(r, text, `<voice>[^<]*<`, func([]byte) []byte { return []byte("<voice>" + strconv.Itoa(r.IntN(9)) + "<") })
	}},
	{"two notes are exchanged", func(r *rand.Rand, text []byte) []byte {
		at := regexp.MustCompile(`(?s)<note\b.*?</note>`).FindAllIndex(text, -1)
		if len(at) < 2 {
			return text
		}
		i := r.IntN(len(at) - 1)
		a, b := at[i], at[i+1]
		return slices.Concat(text[:a[0]], text[b[0]:b[1]], text[a[1]:b[0]], text[a[0]:a[1]], text[b[1]:])
	}},
	{"a bare &", func(r *rand.Rand, text []byte) []byte {
		return onMatch(r, text, `<(words|work-title|creator|text)[^>]*>`, func(m []byte) []byte { return append(slices.Clone(m), " & "...) })
	}},
	{"a byte is wrong", func(r *rand.Rand, text []byte) []byte {
		out := slices.Clone(text)
		out[r.IntN(len(out))] = byte(r.IntN(256))
		return out
	}},
	{"the file is cut", func(r *rand.Rand, text []byte) []byte { return text[:len(text)/4+r.IntN(len(text)*3/4)] }},
}

// onMatch changes one match of a pattern, chosen at random.
func onMatch(r *rand.Rand, text []byte, pattern string, change func([]byte) []byte) []byte {
	at := regexp.MustCompile(pattern).FindAllIndex(text, -1)
	if len(at) == 0 {
		return text
	}
	m := at[r.IntN(len(at))]
	return slices.Concat(text[:m[0]], change(text[m[0]:m[1]]), text[m[1]:])
}

// onElement changes one whole element whose start tag matches.
func onElement(r *rand.Rand, text []byte, pattern string, change func([]byte) []byte) []byte {
	re := regexp.MustCompile(pattern)
	at := re.FindAllSubmatchIndex(text, -1)
	if len(at) == 0 {
		return text
	}
	m := at[r.IntN(len(at))]
	from, name := m[0], string(text[m[2]:m[3]])
	end := from + bytes.IndexByte(text[from:], '>') + 1
	if text[end-2] != '/' {
		closing := bytes.Index(text[end:], []byte("</"+name+">"))
		if closing < 0 {
			return text
		}
		end += closing + len(name) + 3
	}
	return slices.Concat(text[:from], change(text[from:end]), text[end:])
}

// mutated is a real score with one fault.
type mutated struct {
	fault, name   string
	text, damaged []byte
}

// damage damages real scores at random. AGREMENS_MUTATIONS says how many,
// AGREMENS_SEED which. It skips the test where there are no reference scores.
func damage(t *testing.T) iter.Seq[mutated] {
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = filepath.Join("..", "..", "..", "shared", "reference")
	}
	var paths []string
	for _, part := range []string{"scores", "second/scores"} {
		found, err := filepath.Glob(filepath.Join(root, part, "*.musicxml"))
		require.NoError(t, err)
		paths = append(paths, found...)
	}
	if len(paths) == 0 {
		t.Skipf("no reference scores at %s", root)
	}
	number := func(name string, otherwise int) int {
		if n, err := strconv.Atoi(os.Getenv(name)); err == nil {
			return n
		}
		return otherwise
	}
	count, seed := number("AGREMENS_MUTATIONS", 26), number("AGREMENS_SEED", 1)
	r := rand.New(rand.NewPCG(uint64(seed), 18))
	return func(yield func(mutated) bool) {
		for i := range count {
			m := mutations[i%len(mutations)]
			path := paths[r.IntN(len(paths))]
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			name := fmt.Sprintf("seed %d, mutation %d (%s) of %s", seed, i, m.name, filepath.Base(path))
			if !yield(mutated{m.name, name, text, m.damage(r, text)}) {
				return
			}
		}
	}
}

// TestDamagedScoresOpen damages real scores: what still holds its notes opens,
// with a word about the fault or without; what is refused is told where and how
// to mend it; nothing hangs.
func TestDamagedScoresOpen(t *testing.T) {
	table := map[string]map[string]int{}
	opened, whole := 0, 0
	for m := range damage(t) {
		class, said := classOf(m.damaged)
		if table[m.fault] == nil {
			table[m.fault] = map[string]int{}
		}
		table[m.fault][class]++
		assert.NotContains(t, []string{"unclear", "hangs", "takes memory"}, class, "%s: %s", m.name, said)
		if bytes.Count(m.damaged, []byte("<pitch>")) >= bytes.Count(m.text, []byte("<pitch>"))-1 {
			whole++
			if class == "opened" || class == "opened with a warning" {
				opened++
			} else {
				t.Logf("%s: %s: %s", m.name, class, said)
			}
		}
	}
	for _, m := range mutations {
		t.Logf("%-32s %v", m.name, table[m.name])
	}
	t.Logf("opened: %d of %d that hold their notes", opened, whole)
	assert.GreaterOrEqual(t, float64(opened), 0.97*float64(whole))
}

// classOf opens a file and says what became of it.
func classOf(data []byte) (class, said string) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	began := time.Now()
	s, err := codec.Open(data, "", nil)
	took := time.Since(began)
	runtime.ReadMemStats(&after)
	var e *musicxml.Error
	switch {
	case took > time.Minute: // a hang: the largest score takes a fifth of a second
		return "hangs", took.String()
	case after.HeapSys > 600<<20: // of the whole test process
		return "takes memory", strconv.Itoa(int(after.HeapSys >> 20))
	case err == nil && len(s.Warnings) == 0:
		return "opened", ""
	case err == nil:
		return "opened with a warning", s.Warnings[0]
	case !errors.As(err, &e) || e.Where == "" || e.Mend == "" || strings.Contains(e.What, "do not fit together"):
		return "unclear", err.Error()
	}
	return "refused", err.Error()
}
