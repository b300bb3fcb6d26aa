package practice_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/realize/tap"
)

// A long trill is one of six notes or more that shakes with the note above;
// an ending from below may follow.
func TestWhatIsALongTrill(t *testing.T) {
	for _, tt := range []struct {
		name          string
		passage       string
		measure       int
		ornament, way string // the way to play it by its degrees
		long          bool
	}{
		{"four notes", "trill", 2, "o2", "1 0 1 0", false},
		{"five notes", "trill", 2, "o2", "0 1 0 1 0", false},
		{"six notes", "trill", 0, "o1", "1 0 1 0 1 0", true},
		{"six with an ending", "trill", 3, "o3", "1 0 1 0 -1 0", true},
		{"seven, from the main note", "trill", 3, "o3", "0 1 0 1 0 1 0", true},
		{"with a turn from below", "trill", 6, "o5", "-1 0 1 0 1 0 -1 0", true},
		{"five, but below the note", "mordent", 0, "o1", "0 -1 0 -1 0", false},
		{"a turn", "turn", 0, "o1", "0 1 0 -1 0", false},
		{"the plain note", "trill", 6, "o5", "0", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := practice.On(open(t, tt.passage))
			m.Settings.From, m.Settings.To = tt.measure, tt.measure+1
			found := false
			for i := range m.Reading.Ornaments {
				o := &m.Reading.Ornaments[i]
				for k := range o.Choices {
					if o.ID == tt.ornament && degrees(m, i, k) == tt.way {
						m.Reading, m.Selected, found = m.Reading.Choose(o.ID, k), o.ID, true
						break
					}
				}
				if found {
					break
				}
			}
			require.True(t, found, "no such way")
			_, err := practice.Start(practice.Trill, m)
			assert.Equal(t, tt.long, err == nil)
		})
	}
}

func degrees(m practice.Material, ornament, choice int) string {
	var out []string
	for _, n := range m.Reading.Ornaments[ornament].Choices[choice].Notes {
		out = append(out, strconv.Itoa(n.Degree))
	}
	return strings.Join(out, " ")
}

// The trill in the cadence stands over quarters at 72 a minute: two notes to
// each are 2.4 a second, three 3.6, four 4.8. As many as the player can
// manage, two at least and four at most.
func TestHowManyNotesToANote(t *testing.T) {
	for _, tt := range []struct {
		rate float64
		n    int
		said string
	}{
		{1, 2, "2.4"}, {3.59, 2, "2.4"}, {3.61, 3, "3.6"}, {4.79, 3, "3.6"}, {4.81, 4, "4.8"}, {30, 4, "4.8"},
	} {
		s := start(t, practice.Trill, "trill", func(m *practice.Material) { m.Rate = tt.rate })
		step, _ := s.Step()
		assert.Equal(t, "Hear "+strconv.Itoa(tt.n)+" notes to each note of the left hand, "+tt.said+" per second at the goal", step.Line)
		p := &player{late: exact}
		p.play(t, s)
		require.Len(t, p.plans, 3)
		assert.Empty(t, p.plans[0].Wants, "heard first")
		assert.NotEmpty(t, p.plans[0].Sequence.Notes)
		var own []tap.Want
		for _, w := range p.plans[1].Wants {
			if w.Ornament == "o5" {
				own = append(own, w)
			}
		}
		// It begins above, so it takes an even number to end on its note.
		assert.Len(t, own, 2*tt.n)
		assert.Equal(t, 2*tt.n, own[0].Count)
		for i, w := range own {
			want := 1 - i%2
			if i == len(own)-2 {
				want = -1 // the ending
			}
			assert.Equal(t, want, w.Degree, "note %d of %d", i+1, len(own))
			assert.Equal(t, i, w.Index)
			assert.True(t, w.Measured)
			if i > 0 {
				assert.InDelta(t, 60.0/72/float64(tt.n), own[i].Onset.Sub(own[i-1].Onset).Float()*60/72, 1e-9)
			}
		}
	}
}

// From the main note the number must be odd: one is left out at the end, and
// the last note holds as long as two.
func TestALongTrillFromTheMainNote(t *testing.T) {
	s := start(t, practice.Trill, "trill", func(m *practice.Material) {
		for i := range m.Reading.Ornaments {
			for k := range m.Reading.Ornaments[i].Choices {
				if degrees(*m, i, k) == "0 1 0 1 0 1 0 -1 0" {
					m.Reading = m.Reading.Choose(m.Reading.Ornaments[i].ID, k)
					return
				}
			}
		}
		t.Fatal("no such way")
	})
	p := &player{late: exact}
	p.play(t, s)
	var said []int
	for _, w := range p.plans[1].Wants {
		if w.Ornament == "o5" {
			said = append(said, w.Degree)
		}
	}
	assert.Equal(t, []int{0, 1, 0, 1, 0, -1, 0}, said)
	last := int64(0)
	for i, w := range p.plans[1].Wants {
		if w.Ornament == "o5" {
			last = p.plans[1].Frames[i]
		}
	}
	longest := int64(0)
	for _, n := range p.plans[0].Sequence.Notes {
		if n.Start == last {
			longest = max(longest, n.End-n.Start)
		}
	}
	assert.InDelta(t, 2*rate*60.0/72/4, float64(longest), 2)
}

// The ornament in hand is the one measured, else the longest.
func TestWhichTrillIsMeasured(t *testing.T) {
	for _, tt := range []struct{ selected, line string }{
		{"", "Hear 4 notes to each note"}, {"o3", "Hear 2 notes to each note"}, {"o5", "Hear 4 notes to each note"}, {"o1", "Hear 4 notes to each note"},
	} {
		s := start(t, practice.Trill, "trill", func(m *practice.Material) { m.Selected = tt.selected })
		step, _ := s.Step()
		assert.Contains(t, step.Line, tt.line, tt.selected)
	}
}
