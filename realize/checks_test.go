package realize_test

import (
	"bufio"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEveryCheckValueIsTested: each of the sixty check values names the rows,
// cases or tests that hold it, and those exist.
func TestEveryCheckValueIsTested(t *testing.T) {
	rows := starts(t, "testdata/rows.txt", "")
	cases := starts(t, "testdata/cases.txt", "== ")
	tests := testNames(t, ".", "../synth/tuning")
	next := 1
	for _, line := range lines(t, "testdata/checks.txt") {
		part := strings.Split(line, " | ")
		require.Len(t, part, 3, line)
		n, err := strconv.Atoi(part[0])
		require.NoError(t, err)
		require.Equal(t, next, n, "a check value is missing")
		next++
		assert.Contains(t, []string{"read", "reported", "memory", "common practice"}, part[2], line)
		for _, where := range strings.Split(part[1], ", ") {
			kind, name, _ := strings.Cut(where, " ")
			switch kind {
			case "row":
				assert.Contains(t, rows, name, line)
			case "case":
				found := false
				for _, c := range cases {
					found = found || strings.HasPrefix(c, name)
				}
				assert.True(t, found, line)
			case "test":
				assert.Contains(t, tests, name, line)
			default:
				t.Errorf("%s is neither row, case nor test", where)
			}
		}
	}
	assert.Equal(t, 61, next, "sixty check values")
}

// TestEveryPublishedEntryHasARow names the machine rows of both lists, so
// that none is forgotten. J6 is left out: its own source contradicts it.
func TestEveryPublishedEntryHasARow(t *testing.T) {
	rows := starts(t, "testdata/rows.txt", "")
	chords := map[string]bool{"B14": true, "B15": true, "B19": true, "C9": true, "C10": true, "D22": true, "R6": true}
	for series, last := range map[string]int{"A": 13, "B": 18, "C": 10, "D": 27, "J": 5, "K": 5, "M": 28, "R": 7, "T": 1, "U": 1} {
		for n := 1; n <= last; n++ {
			id := series + strconv.Itoa(n)
			found := chords[id]
			for _, r := range rows {
				rest, ok := strings.CutPrefix(r, id)
				found = found || ok && (rest == "" || rest[0] >= 'a' && rest[0] <= 'z')
			}
			assert.True(t, found, "%s has no row", id)
		}
	}
	for _, id := range []string{"E1", "E2", "E3", "E4", "E5", "E6", "E7", "E8", "E9", "E10", "E11", "E12a", "E12b",
		"E13", "E14", "E15", "E16", "E17", "E18", "E19", "E20", "E21"} {
		assert.Contains(t, rows, id)
	}
}

func lines(t *testing.T, file string) []string {
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	var out []string
	s := bufio.NewScanner(f)
	for s.Scan() {
		if line := s.Text(); line != "" && line[0] != '#' {
			out = append(out, line)
		}
	}
	require.NoError(t, s.Err())
	require.NotEmpty(t, out, file)
	return out
}

// starts lists the first fields of the lines with a prefix.
func starts(t *testing.T, file, prefix string) []string {
	var out []string
	for _, l := range lines(t, file) {
		if rest, ok := strings.CutPrefix(l, prefix); ok {
			first, _, _ := strings.Cut(rest, " | ")
			out = append(out, first)
		}
	}
	require.NotEmpty(t, out, file)
	return out
}

// testNames lists the test functions of some folders.
func testNames(t *testing.T, dirs ...string) []string {
	var out []string
	for _, dir := range dirs {
		files, err := filepath.Glob(filepath.Join(dir, "*_test.go"))
		require.NoError(t, err)
		require.NotEmpty(t, files, dir)
		for _, f := range files {
			for _, l := range lines(t, f) {
				if rest, ok := strings.CutPrefix(l, "func Test"); ok {
					name, _, _ := strings.Cut(rest, "(")
					out = append(out, "Test"+name)
				}
			}
		}
	}
	return out
}
