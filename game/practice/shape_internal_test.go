package practice

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/tap"
)

// Of every ornament some notes are left, and what is left is no free trill.
func TestFirstAndLastNotes(t *testing.T) {
	plan := func() *round.Plan {
		p := &round.Plan{Rate: 1000}
		for i, id := range []string{"", "a", "a", "a", "", "b", "b"} {
			p.Wants = append(p.Wants, tap.Want{Ornament: id, Count: i})
			p.Frames = append(p.Frames, int64(100*i))
		}
		return p
	}
	left := func(p *round.Plan) (at []int) {
		for i, w := range p.Wants {
			assert.Equal(t, int64(100*w.Count), p.Frames[i], "frames stay with their notes")
			assert.Equal(t, w.Ornament != "", w.Measured)
			at = append(at, w.Count)
		}
		return at
	}
	for _, tt := range []struct {
		name  string
		shape func(*round.Plan)
		want  []int
	}{
		{"first", firstNotes(1), []int{0, 1, 4, 5}},
		{"first two", firstNotes(2), []int{0, 1, 2, 4, 5, 6}},
		{"last", lastNotes(1), []int{0, 3, 4, 6}},
		{"last two", lastNotes(2), []int{0, 2, 3, 4, 5, 6}},
		{"more than there are", lastNotes(9), []int{0, 1, 2, 3, 4, 5, 6}},
	} {
		p := plan()
		tt.shape(p)
		assert.Equal(t, tt.want, left(p), tt.name)
	}
}

// A beat within 30 ms of an ornament is tapped with the ornament's own note.
func TestBeatsUnderAnOrnament(t *testing.T) {
	p := &round.Plan{Rate: 1000}
	wants := []tap.Want{{Ornament: "a"}, {Ornament: "a"}, {Ornament: "b"}, {Ornament: "b"}}
	frames := []int64{1000, 1200, 2000, 2500}
	for at, want := range map[int64]bool{
		969: false, 970: true, 1000: true, 1100: true, 1230: true, 1231: false,
		1969: false, 1970: true, 2250: true, 2530: true, 2531: false,
	} {
		assert.Equal(t, want, under(wants, frames, at, p), at)
	}
}

func TestOrderKeepsWhatFallsTogether(t *testing.T) {
	p := &round.Plan{Frames: []int64{30, 10, 20, 10}, Wants: []tap.Want{{Count: 0}, {Count: 1}, {Count: 2}, {Count: 3}}}
	order(p)
	assert.Equal(t, []int64{10, 10, 20, 30}, p.Frames)
	assert.Equal(t, []tap.Want{{Count: 1}, {Count: 3}, {Count: 2}, {Count: 0}}, p.Wants)
}

// Four measures stand around an ornament, the first of them before it.
func TestMeasuresAround(t *testing.T) {
	for _, tt := range []struct{ from, to, measure, wantFrom, wantTo int }{
		{0, 8, 3, 2, 6},
		{0, 8, 0, 0, 4},
		{0, 8, 7, 4, 8},
		{0, 8, 6, 4, 8},
		{5, 8, 6, 5, 8},
		{2, 3, 2, 2, 3},
	} {
		m := &Material{Settings: round.Settings{From: tt.from, To: tt.to}}
		from, to := m.around(&realize.Ornament{Measure: tt.measure})
		assert.Equal(t, [2]int{tt.wantFrom, tt.wantTo}, [2]int{from, to}, "measure %d of %d-%d", tt.measure, tt.from, tt.to)
	}
}

// A long trill has six notes or more and touches the note above at least twice,
// whatever begins and ends it.
func TestLongTrills(t *testing.T) {
	for _, tt := range []struct {
		name    string
		degrees []int
		want    bool
	}{
		{"six from above", []int{1, 0, 1, 0, 1, 0}, true},
		{"five", []int{1, 0, 1, 0, 1}, false},
		{"with a termination", []int{1, 0, 1, 0, -1, 0}, true},
		{"from below, with a termination", []int{-1, 0, 1, 0, 1, 0, -1, 0}, true},
		{"a turn between two slides", []int{-1, 0, 1, 0, -1, 0, -1, 0}, false},
		{"from below", []int{-1, 0, 1, 0, 1, 0, 1, 0}, true},
		{"a double mordent", []int{0, -1, 0, -1, 0, -1, 0}, false},
		{"a turn over repeated notes", []int{1, 1, 0, 0, -1, 0}, false},
	} {
		c := &realize.Choice{}
		for _, d := range tt.degrees {
			c.Notes = append(c.Notes, realize.Note{Degree: d})
		}
		assert.Equal(t, tt.want, isTrill(c), tt.name)
	}
}
