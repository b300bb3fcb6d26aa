package assets_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/score"
)

func passage(t *testing.T, e assets.Entry) *score.Passage {
	t.Helper()
	p, warnings, err := abc.Decode(e.ABC)
	require.NoError(t, err)
	require.Empty(t, warnings)
	return p
}

// Every passage is what its entry says: eight full bars on two staves, with a
// title, a year and a tempo, so that nothing has to be asked.
func TestPassages(t *testing.T) {
	ids := map[string]bool{}
	for _, e := range assets.Passages() {
		t.Run(e.ID, func(t *testing.T) {
			p := passage(t, e)
			assert.False(t, ids[e.ID])
			ids[e.ID] = true
			assert.Equal(t, e.Title, p.Title)
			assert.NotEmpty(t, e.Family)
			assert.Equal(t, 2, p.Staves)
			assert.NotZero(t, p.Year)
			require.NotEmpty(t, p.Tempos)
			assert.NotZero(t, p.Tempos[0].QuartersPerMinute)
			require.Len(t, p.Measures, 8)
			for _, m := range p.Measures {
				assert.Equal(t, m.Metre.Bar(), m.Length, "measure %s", m.Number)
				assert.Equal(t, m.Length, voiceLength(p, m, 1), "measure %s, right hand", m.Number)
				assert.Equal(t, m.Length, voiceLength(p, m, 2), "measure %s, left hand", m.Number)
			}
			assert.Equal(t, "light-heavy", p.Measures[7].Barline)
		})
	}
	assert.Len(t, ids, 4)
}

// voiceLength sums what a staff's single voice holds in a measure.
func voiceLength(p *score.Passage, m score.Measure, staff int) music.Frac {
	var sum music.Frac
	for i := range p.Chords {
		if c := &p.Chords[i]; c.Staff == staff && p.Measures[c.Measure].Onset == m.Onset {
			sum = sum.Add(c.Dur)
		}
	}
	return sum
}

// The year decides whose practice is followed, and nothing has to be asked.
func TestTraditions(t *testing.T) {
	want := map[string]string{"mordent": "bach", "trill": "bach", "turn": "vienna", "appoggiatura": "vienna"}
	for _, e := range assets.Passages() {
		r := realize.Read(passage(t, e), realize.Taste{})
		assert.Equal(t, want[e.ID], r.Tradition, e.ID)
		assert.False(t, r.TempoAssumed, e.ID)
		for _, q := range r.Questions {
			assert.NotContains(t, []string{"tradition", "tempo"}, q.About, e.ID)
		}
	}
}

// Each family's sign stands in the contexts it is taught in: the counts are
// those of the comments at the head of the passages.
func TestFamilies(t *testing.T) {
	for id, want := range map[string]map[string]int{
		"mordent":      {"mordent": 8},
		"trill":        {"inverted-mordent": 2, "trill-mark": 3, "grace": 2},
		"turn":         {"delayed-turn": 3, "turn": 4},
		"appoggiatura": {"grace": 9, "slash": 2},
	} {
		for _, e := range assets.Passages() {
			if e.ID != id {
				continue
			}
			got := map[string]int{}
			p := passage(t, e)
			for i := range p.Chords {
				for _, s := range p.Chords[i].Signs {
					got[string(s.Kind)]++
				}
				if g := p.Chords[i].Grace; g != nil && g.Slash {
					got["slash"]++
				} else if g != nil {
					got["grace"]++
				}
			}
			assert.Equal(t, want, got, id)
		}
	}
}

// moment is what sounds between two onsets.
type moment struct {
	at     music.Frac
	top    music.Pitch // highest note of the right hand
	bottom music.Pitch // lowest note of the left hand
	lower  []music.Pitch
}

func (m moment) String() string { return fmt.Sprintf("%s: %s over %s", m.at, m.top, m.bottom) }

// moments lists what sounds at every beat: the right hand's note, and the
// left hand's notes within the beat, so that a broken chord counts as one.
func moments(p *score.Passage, step music.Frac) []moment {
	var out []moment
	for at := (music.Frac{}); at.Less(p.End()); at = at.Add(step) {
		m := moment{at: at}
		var right, left bool
		for i := range p.Chords {
			c := &p.Chords[i]
			if c.Grace != nil || c.IsRest() {
				continue
			}
			sounds := c.Onset.Cmp(at) <= 0 && at.Less(c.End())
			within := !c.Onset.Less(at) && c.Onset.Less(at.Add(step))
			if c.Staff == 1 && sounds {
				m.top, right = c.Top().Pitch, true
			}
			if c.Staff == 2 && (sounds || within) {
				for _, n := range c.Notes {
					m.lower = append(m.lower, n.Pitch)
					if !left || n.Pitch.MIDI() < m.bottom.MIDI() {
						m.bottom, left = n.Pitch, true
					}
				}
			}
		}
		if right && left {
			out = append(out, m)
		}
	}
	return out
}

// No parallel fifths or octaves between the outer voices, from quarter to
// quarter, from beat to beat and from one note struck by both hands to the next
// (common practice, no source).
func TestNoParallels(t *testing.T) {
	for _, e := range assets.Passages() {
		p := passage(t, e)
		for _, ms := range [][]moment{moments(p, music.Int(1)), moments(p, p.Measures[0].Metre.Beat()), together(p)} {
			require.Greater(t, len(ms), 8)
			for i := 1; i < len(ms); i++ {
				a, b := ms[i-1], ms[i]
				up, down := a.top.To(b.top).Semitones, a.bottom.To(b.bottom).Semitones
				first, second := a.bottom.To(a.top).Semitones%12, b.bottom.To(b.top).Semitones%12
				if (first == 0 || first == 7) && first == second && up*down > 0 {
					t.Errorf("%s: parallels from %v to %v", e.ID, a, b)
				}
			}
		}
	}
}

// together lists the moments at which both hands strike.
func together(p *score.Passage) []moment {
	var out []moment
	for i := range p.Chords {
		right := &p.Chords[i]
		if right.Staff != 1 || right.Grace != nil || right.IsRest() {
			continue
		}
		for j := range p.Chords {
			left := &p.Chords[j]
			if left.Staff == 2 && left.Grace == nil && !left.IsRest() && left.Onset == right.Onset {
				out = append(out, moment{at: right.Onset, top: right.Top().Pitch, bottom: left.Bottom().Pitch})
			}
		}
	}
	return out
}

// A dissonance on a beat, between the right hand and any note of the left, is
// approached by step or held, and left by step (common practice, no source).
func TestDissonancesMoveByStep(t *testing.T) {
	for _, e := range assets.Passages() {
		p := passage(t, e)
		line := melody(p)
		require.NotEmpty(t, line)
		for i, c := range line {
			for _, m := range moments(p, music.F(1, 4)) {
				if m.at != c.Onset {
					continue
				}
				for _, low := range m.lower {
					switch low.To(c.Top().Pitch).Semitones % 12 {
					case 1, 2, 6, 10, 11:
						if i > 0 && i < len(line)-1 && !stepwise(line[i-1], c) && !stepwise(c, line[i+1]) {
							t.Errorf("%s: %s over %s at %s neither comes nor goes by step", e.ID, c.Top().Pitch, low, m.at)
						}
					}
				}
			}
		}
	}
}

// The upper line can be sung: within an octave and a half, no leap beyond an
// octave, no augmented or diminished step (common practice, no source).
func TestUpperLineIsSingable(t *testing.T) {
	for _, e := range assets.Passages() {
		p := passage(t, e)
		low, high := 127, 0
		line := melody(p)
		for i, c := range line {
			key := c.Top().Pitch.MIDI()
			low, high = min(low, key), max(high, key)
			if i == 0 {
				continue
			}
			iv := line[i-1].Top().Pitch.To(c.Top().Pitch)
			if iv.Steps < 0 {
				iv = music.Interval{Steps: -iv.Steps, Semitones: -iv.Semitones}
			}
			assert.LessOrEqual(t, iv.Semitones, 12, "%s at %s", e.ID, c.Onset)
			assert.NotEqual(t, music.Interval{Steps: 1, Semitones: 3}, iv, "%s: augmented second at %s", e.ID, c.Onset)
			assert.NotEqual(t, music.Interval{Steps: 3, Semitones: 6}, iv, "%s: augmented fourth at %s", e.ID, c.Onset)
		}
		assert.LessOrEqual(t, high-low, 19, e.ID)
	}
}

func melody(p *score.Passage) []*score.Chord {
	var line []*score.Chord
	for i := range p.Chords {
		if c := &p.Chords[i]; c.Staff == 1 && c.Grace == nil && !c.IsRest() {
			line = append(line, c)
		}
	}
	return line
}

func stepwise(a, b *score.Chord) bool {
	steps := a.Top().Pitch.To(b.Top().Pitch).Steps
	return steps >= -1 && steps <= 1
}
