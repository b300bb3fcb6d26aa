package realize

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/words"
)

// played is one performance of one printed ornament, as the reference data
// has it.
type played struct {
	Occ, Composer, Piece, Kind, Tier, Placement string
	Context                                     struct {
		Principal struct{ MIDI int }
		Dur       float64 `json:"dur_q"`
		// Semitones from the principal; nil where there is a rest.
		Prev []*int `json:"prev_semis"`
		Next []*int `json:"next_semis"`
	} `json:"ctx"`
	Graces   []struct{ MIDI int }
	Suffix   []any    `json:"suffix_graces"`
	Notes    [][]any  `json:"played"`
	Window   float64  `json:"window_ms"`
	Compound bool     `json:"compound"`
	Chord    bool     `json:"chord_grace"`
	Flags    []string `json:"flags"`
	Slots    int      `json:"n_slots"`
	Share    *float64 `json:"share"`
}

// way names what was played; "" where the alignment does not tell.
func (p *played) way() string {
	if p.Kind == "grace" {
		switch {
		case p.Placement == "before", p.Slots > 1, p.Placement == "":
			return p.Placement
		case p.Share == nil:
			return ""
		case *p.Share < .2:
			return "short"
		case *p.Share < .4:
			return "third"
		}
		return "half"
	}
	var degrees []int
	for _, n := range p.Notes {
		semitones := int(n[0].(float64)) - p.Context.Principal.MIDI
		sign := 1
		if semitones < 0 {
			sign = -1
		}
		switch away := semitones * sign; {
		case away == 0:
			degrees = append(degrees, 0)
		case away <= 2:
			degrees = append(degrees, sign)
		case away <= 4:
			degrees = append(degrees, 2*sign)
		default:
			degrees = append(degrees, 9*sign)
		}
	}
	return wayOf(degrees)
}

func (p *played) figures() []figure {
	switch {
	case p.Kind == "grace" && p.Slots > 1:
		return smallNotes
	case p.Kind == "grace":
		return smallNote
	}
	return map[string][]figure{"trill-mark": longTrills, "inverted-mordent": shortTrills, "mordent": mordents, "turn": turns}[p.Kind]
}

// counted is a tally with the places and pieces by name.
type counted struct {
	performances   int
	places, pieces map[string]bool
}

func (c *counted) add(p *played) *counted {
	if c == nil {
		c = &counted{places: map[string]bool{}, pieces: map[string]bool{}}
	}
	c.performances++
	c.places[p.Occ] = true
	c.pieces[strings.TrimSuffix(p.Piece, "_no_repeat")] = true
	return c
}

func (c *counted) sum() count {
	if c == nil {
		return count{}
	}
	return count{c.performances, len(c.places), len(c.pieces)}
}

// claims are the counts that a habit of one context names: where it holds, and
// what was done.
var claims = []struct {
	habit     string // how its figure goes on before the counts
	holds, is func(p *played) bool
}{
	{"where the line continues upwards",
		func(p *played) bool {
			return p.Kind == "trill-mark" && p.Composer == "Bach" && near(p.Context.Next, 1, 2) && !near(p.Context.Prev, 0, 0)
		},
		func(p *played) bool { return strings.HasPrefix(p.way(), "0") }},
	{"between repeated notes",
		func(p *played) bool {
			return p.Kind == "grace" && p.Composer == "Beethoven" && p.Slots == 1 && p.Placement != "" && near(p.Context.Prev, 0, 0) &&
				p.Graces[0].MIDI > p.Context.Principal.MIDI && p.Graces[0].MIDI <= p.Context.Principal.MIDI+2
		},
		func(p *played) bool { return p.Placement == "before" }},
}

// near reports whether the first of some neighbours lies in a range.
func near(semitones []*int, from, to int) bool {
	return len(semitones) > 0 && semitones[0] != nil && *semitones[0] >= from && *semitones[0] <= to
}

var (
	thousands = regexp.MustCompile(`(\d),(\d{3})`)
	fewer     = regexp.MustCompile(`\d+ of \d+, at \d+ places? in \d+ pieces?|\d+\.\d+`) // counts of their own, and seconds
	percents  = regexp.MustCompile(`\b\d\d?\b`)
)

// TestTheCountsAreRight counts again what the reasons tell the teacher.
func TestTheCountsAreRight(t *testing.T) {
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = "../../shared/reference"
	}
	f, err := os.Open(filepath.Join(root, "performances", "cases.jsonl"))
	if err != nil {
		t.Skipf("no performances to count at %s", root)
	}
	defer f.Close()
	all, by := map[string]*counted{}, map[string]map[string]*counted{}
	var whole *counted
	held, done := make([]*counted, len(claims)), make([]*counted, len(claims))
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var p played
		require.NoError(t, json.Unmarshal(lines.Bytes(), &p))
		unclear := p.Kind == "grace" && (p.Compound || p.Chord || slices.Contains(p.Flags, "crushed"))
		way := p.way()
		if unclear || way == "" || len(p.Notes) == 0 || p.Window <= 0 {
			continue
		}
		for i := range claims {
			if claims[i].holds(&p) {
				held[i] = held[i].add(&p)
				if claims[i].is(&p) {
					done[i] = done[i].add(&p)
				}
			}
		}
		key := fmt.Sprint(p.Composer, p.figures())
		if by[key] == nil {
			by[key] = map[string]*counted{}
		}
		all[key], by[key][way], whole = all[key].add(&p), by[key][way].add(&p), whole.add(&p)
	}
	require.NoError(t, lines.Err())
	for _, tl := range tallies {
		key := fmt.Sprint(tl.composer, tl.figures)
		assert.Equal(t, all[key].sum(), tl.all, key)
		for way, n := range tl.ways {
			assert.Equal(t, by[key][way].sum(), n, "%s: %s", key, way)
		}
		for way, n := range by[key] {
			if n.performances > 1 {
				assert.Contains(t, tl.ways, way, key)
			}
		}
	}
	var english *words.Catalogue
	for i, c := range claims {
		all, did := held[i].sum(), done[i].sum()
		want := []string{c.habit, fmt.Sprintf("%d of %d", did.performances, all.performances),
			fmt.Sprintf("at %s in %s", english.Count(all.places, "{n} place", "{n} places"), english.Count(all.pieces, "{n} piece", "{n} pieces"))}
		assert.True(t, slices.ContainsFunc(habits, func(h habit) bool {
			return !slices.ContainsFunc(want, func(part string) bool { return !strings.Contains(h.figure, part) })
		}), "no habit says: %s", want)
	}
	n := whole.sum()
	assert.Contains(t, thousands.ReplaceAllString(sources["counted"].Text, "$1$2"), fmt.Sprintf("%d played ornaments, %d places, %d pieces", n.performances, n.places, n.pieces))
}

// TestTheHabitsAreTheFindings looks every share of a hundred up in the report
// on the whole of the recordings, which rests on more than is here.
func TestTheHabitsAreTheFindings(t *testing.T) {
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = "../../shared/reference"
	}
	report, err := os.ReadFile(filepath.Join(root, "performances", "findings.md"))
	if err != nil {
		t.Skipf("no report on the performances at %s", root)
	}
	text := strings.NewReplacer("–", "-", " %", "%").Replace(string(report))
	shares := 0
	for _, h := range habits {
		if !strings.Contains(h.figure, "of 100") {
			continue
		}
		rest := fewer.ReplaceAllString(strings.ReplaceAll(h.figure, "of 100", ""), "")
		for _, n := range percents.FindAllString(rest, -1) {
			found := strings.Contains(text, n+"%") || strings.Contains(text, n+"-") || strings.Contains(text, n+"/")
			assert.True(t, found, "%s of 100 is not in the report: %s", n, h.figure)
			shares++
		}
	}
	assert.Greater(t, shares, 15)
}
