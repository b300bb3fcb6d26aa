package realize_test

import (
	"bufio"
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

// shown prints a choice as testdata writes it: pitch, colon, quarters.
func shown(c realize.Choice) string {
	var words []string
	for _, n := range c.Notes {
		w := n.Pitch.String() + ":" + n.Dur.String()
		if n.Tied {
			w = "~" + w
		}
		words = append(words, w)
	}
	return strings.Join(words, " ")
}

type caseFile struct {
	name, tradition, source string
	tempo, rate             float64
	abc                     []string
	want                    [][2]string
}

func readCases(t *testing.T, file string) []caseFile {
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	var out []caseFile
	s := bufio.NewScanner(f)
	for s.Scan() {
		line := strings.TrimSpace(s.Text())
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "== "):
			part := strings.Split(line[3:], " | ")
			require.Len(t, part, 5, line)
			tempo, err := strconv.ParseFloat(part[2], 64)
			require.NoError(t, err)
			rate, err := strconv.ParseFloat(part[3], 64)
			require.NoError(t, err)
			out = append(out, caseFile{name: part[0], tradition: part[1], tempo: tempo, rate: rate, source: part[4]})
		case strings.Contains(line, "|") || len(line) > 1 && line[1] == ':':
			c := &out[len(out)-1]
			c.abc = append(c.abc, line)
		default:
			c := &out[len(out)-1]
			word, rest, _ := strings.Cut(line, " ")
			c.want = append(c.want, [2]string{word, rest})
		}
	}
	require.NoError(t, s.Err())
	require.NotEmpty(t, out, "no cases in %s", file)
	return out
}

func (c caseFile) read(t *testing.T) *realize.Reading {
	var header, body []string
	left, right := false, false
	for _, l := range c.abc {
		if strings.HasPrefix(l, "[V:") {
			right = right || strings.HasPrefix(l, "[V:R]")
			left = left || strings.HasPrefix(l, "[V:L]")
			body = append(body, l)
		} else {
			header = append(header, l)
		}
	}
	text := "X:1\n"
	for _, h := range header {
		if !strings.HasPrefix(h, "K:") {
			text += h + "\n"
		}
	}
	text += "%%score {R L}\nV:R clef=treble\nV:L clef=bass\n"
	for _, h := range header {
		if strings.HasPrefix(h, "K:") {
			text += h + "\n"
		}
	}
	if !right {
		text += "[V:R] " + silent(body[0]) + "\n"
	}
	text += strings.Join(body, "\n") + "\n"
	if !left {
		text += "[V:L] " + silent(body[0]) + "\n"
	}
	p, _, err := abc.Decode(text)
	require.NoError(t, err, text)
	require.NoError(t, p.Check())
	return realize.Read(p, realize.Taste{Tradition: c.tradition, Tempo: c.tempo, Rate: c.rate})
}

// silent writes as many bars of rest as a line has.
func silent(line string) string {
	return strings.Repeat("Z | ", strings.Count(strings.ReplaceAll(line, "|]", ""), "|")) + "Z |]"
}

func TestCases(t *testing.T) {
	for _, c := range readCases(t, "testdata/cases.txt") {
		t.Run(c.name, func(t *testing.T) {
			r := c.read(t)
			require.NotEmpty(t, r.Ornaments)
			at := 0
			for _, w := range c.want {
				choices := r.Ornaments[at].Choices
				var all []string
				var warnings []string
				for _, ch := range choices {
					all = append(all, ch.Key+"  "+shown(ch))
					warnings = append(warnings, ch.Warnings...)
				}
				list := strings.Join(all, "\n")
				has := func(notes string) bool {
					for _, ch := range choices {
						if shown(ch) == notes {
							return true
						}
					}
					return false
				}
				switch w[0] {
				case "at":
					n, err := strconv.Atoi(w[1])
					require.NoError(t, err)
					at = n - 1
				case "first":
					assert.Equal(t, w[1], shown(choices[0]), "%s\n%s", c.source, list)
				case "some":
					assert.True(t, has(w[1]), "%s: none is %s\n%s", c.source, w[1], list)
				case "never":
					assert.False(t, has(w[1]), "%s\n%s", c.source, list)
				case "plain":
					assert.Equal(t, "plain", choices[0].Key, list)
				case "key":
					assert.Equal(t, w[1], choices[0].Key, list)
				case "count":
					assert.Equal(t, w[1], strconv.Itoa(len(r.Ornaments)))
				case "not":
					for _, n := range choices[0].Notes {
						assert.NotEqual(t, music.MustPitch(w[1]), n.Pitch, c.source)
					}
				case "reason":
					assert.Contains(t, choices[0].Reason, w[1])
				case "warn":
					assert.Contains(t, strings.Join(warnings, "\n"), w[1], list)
				case "unwarned":
					assert.NotContains(t, strings.Join(warnings, "\n"), w[1], list)
				case "second":
					found := false
					for _, ch := range choices[1:] {
						found = found || ch.Key == w[1]
					}
					assert.True(t, found, "%s is not among\n%s", w[1], list)
				default:
					t.Fatalf("no such expectation: %s", w[0])
				}
			}
		})
	}
}
