package closeup_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/closeup"
)

func row(day int, offs ...float64) closeup.Row {
	return closeup.Row{Who: "Ada", Passage: "mordent", Ornament: "o1", Day: day, Tempo: 60, Offs: offs}
}

// Today's taps are laid beside those of a week ago, or of the days since.
func TestBefore(t *testing.T) {
	var m closeup.Memory
	assert.Nil(t, m.Before(row(100, 1, 2)))
	for _, day := range []int{80, 90, 94, 97, 100} {
		m = m.Add(row(day, float64(day), 0))
	}
	for _, c := range []struct {
		name string
		now  closeup.Row
		day  int
	}{
		{"the oldest of the last seven days", row(100, 1, 2), 94},
		{"the latest where all are older", row(110, 1, 2), 100},
		{"today is no earlier day", row(80, 1, 2), 0},
		{"another number of notes", row(100, 1, 2, 3), 0},
		{"somebody else", closeup.Row{Who: "Ben", Passage: "mordent", Ornament: "o1", Day: 100, Offs: []float64{1, 2}}, 0},
	} {
		r := m.Before(c.now)
		if c.day == 0 {
			assert.Nil(t, r, c.name)
		} else if assert.NotNil(t, r, c.name) {
			assert.Equal(t, c.day, r.Day, c.name)
		}
	}
	assert.Len(t, m.Add(row(100, 5, 5)), 5, "a day has one row, the last")
	assert.Empty(t, m.Without("Ada"))
}

func TestMemoryIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var m closeup.Memory
		for range rapid.IntRange(0, 20).Draw(t, "rows") {
			offs := rapid.SliceOfN(rapid.Map(rapid.IntRange(-500, 500), func(n int) float64 { return float64(n) }), 1, 16).Draw(t, "offs")
			m = m.Add(closeup.Row{Who: rapid.StringMatching(`[A-Z][a-z]{0,5}`).Draw(t, "who"), Passage: "p", Ornament: "o", Day: rapid.IntRange(0, 9).Draw(t, "day"), Tempo: 60, Offs: offs})
		}
		assert.Equal(t, m.String(), closeup.Remember(m.String()).String())
	})
	back := closeup.Remember("Ada\tp\to\t9\t60\t5 - -7\nbroken\n\t\t\tx\t1\t2\n")
	require.Len(t, back, 1)
	assert.True(t, math.IsNaN(back[0].Offs[1]))
	assert.Equal(t, -7.0, back[0].Offs[2])
}

func FuzzRemember(f *testing.F) {
	f.Add("Ada\tp\to\t9\t60\t5 - -7\n")
	f.Fuzz(func(t *testing.T, text string) {
		m := closeup.Remember(text)
		assert.Equal(t, m.String(), closeup.Remember(m.String()).String())
	})
}

// A row of another day stands pale under today's, and is said.
func TestTheRowUnderTodays(t *testing.T) {
	now := closeup.Figure{Ornament: "o1", Notes: []closeup.Note{{Tapped: true}, {Wanted: 100, Tapped: true, Off: 40}}}
	before := row(4, 20, math.NaN())
	now.Before = &before
	assert.Contains(t, now.SVG(nil), "pale: Monday, at 60")
	assert.Contains(t, now.SVG(nil), `class="close-pale"`)
	assert.Contains(t, now.Text(nil), "pale: Monday, at 60.")
	now.Who = "right hand"
	assert.Contains(t, now.SVG(nil), ">right hand<")
}

// A memory keeps all ornaments of a round, and gives the last taps of each.
func TestLatest(t *testing.T) {
	var m closeup.Memory
	other := row(90, 5, 5)
	other.Ornament = "o2"
	for _, r := range []closeup.Row{row(90, 1, 2), other, row(91, 3, 4)} {
		m = m.Add(r)
	}
	latest := m.Latest("Ada", "mordent")
	require.Len(t, latest, 2)
	o1, o2 := latest["o1"], latest["o2"]
	assert.Equal(t, "3 4", o1.Lateness())
	assert.Equal(t, "5 5", o2.Lateness())
	assert.Empty(t, m.Latest("Ben", "mordent"))
	assert.Empty(t, m.Latest("Ada", "trill"))
}

func TestLateness(t *testing.T) {
	for text, want := range map[string]string{"3 - -7": "3 - -7", " 3  x 100001 -100001 -100000 ": "3 - - - -100000"} {
		offs, ok := closeup.ParseLateness(text)
		require.True(t, ok)
		r := closeup.Row{Offs: offs}
		assert.Equal(t, want, r.Lateness())
	}
	for _, text := range []string{"", " ", "1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17"} {
		_, ok := closeup.ParseLateness(text)
		assert.False(t, ok, text)
	}
}

// The teacher's taps are called hers.
func TestTheTeachersRow(t *testing.T) {
	now := closeup.Figure{Ornament: "o1", Notes: []closeup.Note{{Tapped: true}, {Wanted: 100, Tapped: true, Off: 40}}}
	now.Before = &closeup.Row{Teacher: true, Tempo: 60, Offs: []float64{1, 2}}
	assert.Contains(t, now.SVG(nil), "pale: your teacher, at 60")
	assert.Contains(t, now.Text(nil), "pale: your teacher, at 60.")
}
