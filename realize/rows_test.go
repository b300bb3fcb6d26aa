package realize_test

import (
	"bufio"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
)

// TestPublishedRows asserts that each published entry is among the choices of
// its own tradition, note for note, in exact shares of the principal.
func TestPublishedRows(t *testing.T) {
	f, err := os.Open("testdata/rows.txt")
	require.NoError(t, err)
	defer f.Close()
	rows, first := 0, 0
	s := bufio.NewScanner(f)
	for s.Scan() {
		line := s.Text()
		if line == "" || line[0] == '#' {
			continue
		}
		part := strings.Split(line, " | ")
		require.Len(t, part, 12, line)
		rows++
		t.Run(part[0], func(t *testing.T) {
			n, err := music.ParseFrac(part[3])
			require.NoError(t, err)
			tempo, _ := strconv.ParseFloat(part[4], 64)
			rate, _ := strconv.ParseFloat(part[5], 64)
			p, _, err := abc.Decode(rowTune(part[2], n, part[6], part[7]))
			require.NoError(t, err)
			r := realize.Read(p, realize.Taste{Tradition: part[1], Tempo: tempo, Rate: rate})
			require.Len(t, r.Ornaments, 1)
			want := part[8] + " | " + part[9]
			var got []string
			for _, c := range r.Ornaments[0].Choices {
				got = append(got, inShares(c, n))
			}
			assert.Contains(t, got, want, "%s\n%s", part[11], strings.Join(got, "\n"))
			if len(got) > 0 && got[0] == want {
				first++
			}
		})
	}
	require.NoError(t, s.Err())
	require.Greater(t, rows, 90)
	t.Logf("%d published rows, %d of them the first choice in a bare context", rows, first)
}

// rowTune writes a bare context in C: the note before (")": slurred into the
// principal C), the principal, the note after with its value.
func rowTune(signs string, n music.Frac, before, after string) string {
	pre := ""
	if before != "-" {
		pre = before
		if strings.HasSuffix(before, ")") {
			pre = "(" + strings.TrimSuffix(before, ")")
			signs = strings.ReplaceAll(signs, "(", "")
		}
	}
	if signs == "-" {
		signs = ""
	}
	main := signs + "c" + n.String()
	if strings.HasSuffix(before, ")") {
		main += ")"
	}
	post := ""
	if after != "-" {
		post = after
	}
	// Small notes are eighths, an eighth below a quarter's unit.
	main = strings.NewReplacer("{B}", "{B/2}", "{d}", "{d/2}", "{A}", "{A/2}", "{c}", "{c/2}").Replace(main)
	main = strings.ReplaceAll(main, "{d/2/2}", "{d/4}")
	post = strings.NewReplacer("{B}", "{B/2}", "{d}", "{d/2}").Replace(post)
	return fmt.Sprintf("X:1\nM:none\nL:1/4\n%%%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n[V:R] %s%s%s |]\n[V:L] z8 |]\n", pre, main, post)
}

func inShares(c realize.Choice, n music.Frac) string {
	var steps, shares []string
	for _, x := range c.Notes {
		s := strconv.Itoa(x.Degree)
		if x.Tied {
			s = "~" + s
		}
		steps = append(steps, s)
		shares = append(shares, x.Dur.Div(n).String())
	}
	return strings.Join(steps, " ") + " | " + strings.Join(shares, " ")
}
