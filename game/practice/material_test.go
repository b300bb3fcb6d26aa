package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/practice"
	"agremens/game/round"
)

// An echo has phrases of two measures, four at most; a last measure alone goes
// with the two before it.
func TestPhrasesOfAnEcho(t *testing.T) {
	for _, tt := range []struct {
		name     string
		from, to int
		pickup   bool
		phrases  [][2]int
	}{
		{"all eight", 0, 8, false, [][2]int{{0, 2}, {2, 4}, {4, 6}, {6, 8}}},
		{"three", 0, 3, false, [][2]int{{0, 3}}},
		{"five from the second", 1, 6, false, [][2]int{{1, 3}, {3, 6}}},
		{"one", 4, 5, false, [][2]int{{4, 5}}},
		{"a pickup goes with the first two", 0, 8, true, [][2]int{{0, 3}, {3, 5}, {5, 8}}},
		{"from behind the pickup", 1, 5, true, [][2]int{{1, 3}, {3, 5}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := start(t, practice.Echo, "mordent", func(m *practice.Material) {
				m.Settings.From, m.Settings.To = tt.from, tt.to
				m.Passage.Measures[0].Implicit = tt.pickup
			})
			p := &player{late: exact}
			p.play(t, s)
			var heard [][2]int
			for i, plan := range p.plans {
				set := plan.Settings
				if i%2 == 0 {
					heard = append(heard, [2]int{set.From, set.To})
					assert.Equal(t, round.NoHand, set.Tap)
					assert.Equal(t, round.RightHand, set.Play)
				} else {
					assert.Equal(t, heard[len(heard)-1], [2]int{set.From, set.To}, "what was heard is tapped")
					assert.Equal(t, round.RightHand, set.Tap)
					assert.True(t, set.Beat)
				}
				assert.GreaterOrEqual(t, set.CountIn, 1)
			}
			assert.Equal(t, tt.phrases, heard)
		})
	}
}

// Around an ornament stand four measures, the one before it first, within the
// measures that are chosen.
func TestMeasuresAroundAnOrnament(t *testing.T) {
	for _, tt := range []struct {
		name     string
		selected string // o1 to o8 of the mordents stand in measures 0 to 7
		from, to int
		want     [2]int
	}{
		{"in the middle", "o5", 0, 8, [2]int{3, 7}},
		{"at the beginning", "o1", 0, 8, [2]int{0, 4}},
		{"at the end", "o8", 0, 8, [2]int{4, 8}},
		{"few measures chosen", "o5", 4, 6, [2]int{4, 6}},
		{"not in the chosen ones: the first that is", "o1", 2, 8, [2]int{2, 6}},
	} {
		for _, kind := range []string{practice.Grow, practice.Land} {
			s := start(t, kind, "mordent", func(m *practice.Material) {
				m.Selected, m.Settings.From, m.Settings.To = tt.selected, tt.from, tt.to
			})
			step, _ := s.Step()
			assert.Equal(t, tt.want, [2]int{step.Settings.From, step.Settings.To}, tt.name+", "+kind)
		}
	}
}
