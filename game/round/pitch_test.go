package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// The waltz has G4 (MIDI 67) in the right hand on every beat, G2 (43) in the
// left on the first of each bar; a beat lasts half a second.
func TestAKeyFindsItsHand(t *testing.T) {
	cases := []struct {
		name string
		key  int
		at   float64 // ms after the first wanted onset
		want perf.Hand
	}{
		{"as written, right", 67, 500, perf.Right},
		{"as written, left", 43, 0, perf.Left},
		{"a step beside", 69, 20, perf.Right},
		{"a low right-hand note is still the right hand's", 58, 500, perf.Right},
		{"nearer to the left one", 50, -30, perf.Left},
		{"nothing wanted near: high", 72, 60000, perf.Right},
		{"nothing wanted near: low", 59, 60000, perf.Left},
	}
	plan := build(t, round.Settings{From: 1, To: 3, Tap: round.BothHands})
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	zero, ok := c.HeardAt(float64(plan.Frames[0]))
	require.True(t, ok)
	for _, tc := range cases {
		t.Run(tc.name, func(t *testing.T) {
			assert.Equal(t, tc.want, r.HandOf(tc.key, zero+tc.at, c))
		})
	}
}

// keys plays a plan's wants on an instrument: every key, those of chords too.
func keys(t *testing.T, plan *round.Plan, change func(i int, p *tap.Tap)) *round.Round {
	t.Helper()
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	r.Tick(100, c)
	for i, w := range plan.Wants {
		at, _ := c.HeardAt(float64(plan.Frames[i]))
		strike := tap.Tap{At: at, Hand: w.Hand, Key: w.Key, Strength: 70}
		change(i, &strike)
		r.Press(strike, "")
		for n, key := range plan.Also[round.Struck{Frame: plan.Frames[i], Hand: w.Hand}] {
			r.Press(tap.Tap{At: at + 10*float64(n+1), Hand: w.Hand, Key: key, Strength: 70}, "")
		}
	}
	end, _ := c.HeardAt(float64(plan.Sequence.Length))
	for now := 100.0; r.State() != round.Result && now < end+3000; now += 100 {
		r.Tick(now, c)
	}
	require.NotNil(t, r.Result())
	return r
}

// chordal is the waltz with a third (B4) above each right-hand note
// of the first beats.
func chordal(t *testing.T) *round.Plan {
	t.Helper()
	p, played := waltz()
	for q := int64(1); q < 10; q += 3 {
		played.Notes = append(played.Notes, perf.Note{Onset: music.Int(q), Dur: music.Int(1), Pitch: music.MustPitch("B4"), Hand: perf.Right, Strength: 0.6})
	}
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 3, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	return plan
}

func TestPitchIsJudged(t *testing.T) {
	plan := chordal(t)
	as := keys(t, plan, func(int, *tap.Tap) {})
	assert.Equal(t, 7, as.Result().Hit)
	assert.Zero(t, as.Result().Extra, "two keys of a chord are one stroke")
	assert.Zero(t, as.Result().WrongKeys)

	other := keys(t, plan, func(i int, p *tap.Tap) {
		if i == 1 {
			p.Key += 2
		}
	})
	assert.Equal(t, 7, other.Result().Hit, "right time")
	assert.Equal(t, 1, other.Result().WrongKeys, "another note")
	assert.Equal(t, "One note was different from the written one.", other.Keys().Words(round.Lean{}, nil))
	assert.Equal(t, "Every note as written.", as.Keys().Words(round.Lean{}, nil))

	blind := keys(t, plan, func(_ int, p *tap.Tap) { p.Key = 0 })
	assert.Zero(t, blind.Result().WrongKeys, "where no key is known none is another")
}

// Written appoggiaturas: the first of two notes leans, the second is the main
// note.
func TestTheAppoggiaturaShowsItsWeight(t *testing.T) {
	p, played := waltz()
	for i := range played.Notes {
		if n := &played.Notes[i]; n.Hand == perf.Right {
			n.Ornament, n.Index, n.Measured = "o1", 0, true
			if n.Onset == music.Int(2) {
				n.Index = 1
			}
			if n.Onset != music.Int(1) && n.Onset != music.Int(2) {
				n.Ornament = ""
			}
		}
	}
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 3, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	r := keys(t, plan, func(i int, p *tap.Tap) {
		if i == 0 {
			p.Strength = 96
		}
	})
	assert.Equal(t, round.Lean{N: 1, Leaning: 96, MainOne: 70}, r.Lean())
	assert.Contains(t, r.Keys().Words(r.Lean(), nil), "Appoggiaturas were struck with 96, their main notes with 70 (of 127).")
	assert.Zero(t, keys(t, plan, func(_ int, p *tap.Tap) { p.Strength = 0 }).Lean().N)
}
