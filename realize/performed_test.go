package realize_test

import (
	"bufio"
	"cmp"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/score"
)

// played is one performance of one ornament.
type played struct {
	Occ, Piece, Performer, Rep, Kind, Placement, Composer string

	Beat       *float64 `json:"abs_beat_ms"`
	Window     float64  `json:"window_ms"`
	RelTo      string   `json:"rel_to"`
	Next       float64  `json:"next_ms"`
	Contiguous bool     `json:"contiguous_next"`
	Dubious    bool
	Compound   bool
	ChordGrace bool `json:"chord_grace"`
	Flags      []string
	Played     [][]any
	Ctx        struct {
		Principal struct{ Midi int }
		Onset     float64 `json:"onset_q"`
	}
}

// usable says whether the alignment tells what was played.
func (c *played) usable() bool {
	small := c.Kind != "grace" || !c.Compound && !c.ChordGrace && !slices.Contains(c.Flags, "crushed") && c.Placement != "" && c.RelTo == "beat"
	return len(c.Played) > 0 && c.Window > 0 && small
}

// steps are the pitches played as steps from the principal.
func (c *played) steps() []int {
	var out []int
	for _, n := range c.Played {
		out = append(out, stepOf(int(n[0].(float64))-c.Ctx.Principal.Midi))
	}
	return out
}

// entry is when the principal enters, in ms from the beat.
func (c *played) entry() (float64, bool) {
	for _, n := range c.Played {
		if s := n[3].(string); s == "P" || s == "p" {
			return n[1].(float64), true
		}
	}
	return 0, false
}

// like says whether a shape is what was played: the same steps, repeated
// alternations once; of small notes the same side of the beat and the
// principal's entry within a tenth of its value or 50 ms.
func (c *played) like(notes []realize.Note, room music.Frac) bool {
	if c.Kind != "grace" {
		var steps []int
		for _, n := range notes {
			steps = append(steps, stepOf(n.Pitch.MIDI()-c.Ctx.Principal.Midi))
		}
		return slices.Equal(onceEach(steps), onceEach(c.steps()))
	}
	was, known := c.entry()
	for k := len(notes) - 1; known && k >= 0; k-- {
		if notes[k].Pitch.MIDI() != c.Ctx.Principal.Midi {
			continue
		}
		at, first := notes[k].Onset.Float()/room.Float(), notes[0].Onset.Float()/room.Float()
		off := max(at-was/c.Window, was/c.Window-at)
		return (max(first, -first) > max(at, -at)+1e-9) == (c.Placement == "before") && (off <= .1 || off*c.Window <= 50)
	}
	return false
}

func stepOf(semitones int) int {
	sign := 1
	if semitones < 0 {
		sign, semitones = -1, -semitones
	}
	switch {
	case semitones == 0:
		return 0
	case semitones <= 2:
		return sign
	case semitones <= 4:
		return 2 * sign
	}
	return 9 * sign
}

// onceEach counts an alternation of two steps once.
func onceEach(s []int) []int {
	var out []int
	for i := 0; i < len(s); i++ {
		out = append(out, s[i])
		if i+3 < len(s) && s[i] != s[i+1] && s[i] == s[i+2] && s[i+1] == s[i+3] {
			for i+3 < len(s) && s[i+2] == s[i] && s[i+3] == s[i+1] {
				i += 2
			}
			out = append(out, s[i+1])
			i++
		}
	}
	return out
}

var copies = regexp.MustCompile(`_no_(2_)?repeat$`)
var movement = regexp.MustCompile(`^(.*Sonatas/\d+)-\d+$|^(kv\d+)_\d+$`)

// workOf names the work a piece belongs to: movements and copies of one work
// are one.
func workOf(piece string) string {
	piece = copies.ReplaceAllString(piece, "")
	if m := movement.FindStringSubmatch(piece); m != nil {
		return m[1] + m[2]
	}
	return piece
}

// performedPlace is a place with what was played there.
type performedPlace struct {
	realize.HabitPlace
	work  string
	cases []played
	likes map[string]float64
}

// share is how many of the performances a shape is like.
func (p *performedPlace) share(key string) float64 {
	if v, known := p.likes[key]; known {
		return v
	}
	n := 0.
	for i := range p.cases {
		if p.cases[i].like(p.Played[key], p.Room) {
			n++
		}
	}
	p.likes[key] = n / float64(len(p.cases))
	return p.likes[key]
}

// performedPlaces joins the reference scores of both parts with what was
// played.
func performedPlaces(t *testing.T) []*performedPlace {
	t.Helper()
	cases := map[string][]played{}
	eachCase(t, func(c *played) {
		if c.usable() {
			cases[c.Occ] = append(cases[c.Occ], *c)
		}
	})
	var out []*performedPlace
	eachPerformed(t, func(prefix string, p *score.Passage) {
		for _, place := range realize.HabitPlaces(p) {
			for _, sign := range place.Signs {
				if c := cases[prefix+"#"+string(place.Note)+"/"+sign]; len(c) > 0 {
					out = append(out, &performedPlace{place, workOf(c[0].Piece), c, map[string]float64{}})
				}
			}
		}
	})
	return out
}

// performances is the folder of the reference data; without it the test is
// skipped.
func performances(t *testing.T) string {
	t.Helper()
	root := cmp.Or(os.Getenv("AGREMENS_REFERENCE"), "../../shared/reference")
	if _, err := os.Stat(filepath.Join(root, "second")); err != nil {
		t.Skipf("no performances at %s", root)
	}
	return root
}

// eachCase gives every performance of an ornament, of both parts.
func eachCase(t *testing.T, give func(*played)) {
	t.Helper()
	for _, part := range []string{"performances", "second"} {
		f, err := os.Open(filepath.Join(performances(t), part, "cases.jsonl"))
		require.NoError(t, err)
		lines := bufio.NewScanner(f)
		lines.Buffer(nil, 1<<24)
		for lines.Scan() {
			var c played
			require.NoError(t, json.Unmarshal(lines.Bytes(), &c))
			give(&c)
		}
		require.NoError(t, lines.Err())
		require.NoError(t, f.Close())
	}
}

// eachPerformed gives the scores of both parts that open, with what their
// performances call them.
func eachPerformed(t *testing.T, give func(prefix string, p *score.Passage)) {
	t.Helper()
	for manifest, scores := range map[string]string{"scores/manifest.tsv": "scores", "second/manifest.tsv": "second/scores"} {
		text, err := os.ReadFile(filepath.Join(performances(t), manifest))
		require.NoError(t, err)
		for _, line := range strings.Split(string(text), "\n") {
			name, prefix, found := strings.Cut(strings.TrimSpace(line), "\t")
			if !found || strings.HasPrefix(line, "#") {
				continue
			}
			data, err := os.ReadFile(filepath.Join(performances(t), scores, name))
			require.NoError(t, err)
			res, err := musicxml.Decode(data, nil)
			if err != nil {
				t.Logf("left out: %s: %v", name, err)
				continue
			}
			if res.Passage.Title == "" {
				res.Passage.Title = strings.TrimSuffix(name, filepath.Ext(name))
			}
			give(prefix, res.Passage)
		}
	}
}
