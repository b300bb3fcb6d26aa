package round_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// apart is a round in which the left hand has C3 (48) on the first beat, E3
// (52) with it where chord is set, and the right hand C5 (72) on the third; a
// beat lasts half a second.
func apart(t *testing.T, chord bool) *round.Plan {
	t.Helper()
	p, played := bars(threeFour, music.Int(3))
	note := func(at int64, pitch string, hand perf.Hand) perf.Note {
		return perf.Note{Onset: music.Int(at), Dur: music.Int(1), Pitch: music.MustPitch(pitch), Hand: hand, Strength: 0.6}
	}
	played.Notes = []perf.Note{note(0, "C3", perf.Left)}
	if chord {
		played.Notes = append(played.Notes, note(0, "E3", perf.Left))
	}
	played.Notes = append(played.Notes, note(2, "C5", perf.Right))
	plan, err := round.Build(p, played, nil, round.Settings{From: 0, To: 1, Tap: round.BothHands}, rate)
	require.NoError(t, err)
	return plan
}

// A struck key belongs to the hand whose wanted note is nearest, a fifth of
// pitch being as far as a quarter of a second; without a note within a second
// the keyboard is split at middle C. The round begins late in the engine's
// frames, as every round but the first.
func TestNearestHandOfAKey(t *testing.T) {
	for _, tt := range []struct {
		name  string
		key   int
		at    float64 // ms after the left hand's note; the right one's comes at 1,000
		chord bool
		want  perf.Hand
	}{
		{"halfway in pitch, with the left hand", 60, 0, false, perf.Left},
		{"halfway in pitch, with the right hand", 60, 1000, false, perf.Right},
		{"halfway in time, nearer in pitch to the left", 59, 500, false, perf.Left},
		{"halfway in time, nearer in pitch to the right", 61, 500, false, perf.Right},
		// 7 steps nearer to the right hand weigh 250 ms.
		{"a fifth towards the right, a little more than its time towards the left", 64, 350, false, perf.Left},
		{"a fifth towards the right, a little less than its time towards the left", 64, 365, false, perf.Right},
		{"as before, but the left hand's chord reaches up", 64, 365, true, perf.Left},
		{"within a second before the left hand's note, high", 72, -990, false, perf.Left},
		{"more than a second before: high keys are the right hand's", 60, -1010, false, perf.Right},
		{"more than a second before: low keys are the left hand's", 59, -1010, false, perf.Left},
		{"more than a second after the right hand's note: low", 59, 2010, false, perf.Left},
		{"within a second after it: low", 48, 1990, false, perf.Right},
	} {
		t.Run(tt.name, func(t *testing.T) {
			plan := apart(t, tt.chord)
			c := &steadyClock{}
			const start = 96_000
			r := round.Start(plan, start, c, nil)
			zero, _ := c.HeardAt(float64(start + plan.Frames[0]))
			assert.Equal(t, tt.want, r.HandOf(tt.key, zero+tt.at, c))
		})
	}
	r := round.Start(apart(t, false), 0, silentClock{}, nil)
	assert.Equal(t, perf.Right, r.HandOf(60, 0, silentClock{}), "while nothing is known")
	assert.Equal(t, perf.Left, r.HandOf(59, 0, silentClock{}))
}

// In a repeated round the second pass is as the first.
func TestNearestHandInTheSecondPass(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.BothHands, Repeat: true})
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	pass := float64(plan.Sequence.Length-plan.Sequence.LoopStart) / 48
	for _, n := range []float64{0, 1, 2} {
		assert.Equal(t, perf.Left, r.HandOf(50, heardAt(plan, 0)+n*pass, c), "pass %v", n)
		assert.Equal(t, perf.Right, r.HandOf(50, heardAt(plan, 0)+n*pass+750, c), "pass %v: the left hand holds", n)
	}
}

// Where keys are known every note of a chord is looked for, in every pass;
// where they are not, or no chord is there, one want stands for each stroke.
func TestKeysOfChordsInEveryPass(t *testing.T) {
	p, played := waltz()
	played.Notes = slices.Insert(played.Notes, 2, perf.Note{Onset: music.Int(1), Dur: music.Int(1), Pitch: music.MustPitch("B4"), Hand: perf.Right, Strength: 0.6})
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 2, Tap: round.RightHand, Repeat: true}, rate)
	require.NoError(t, err)
	for _, tt := range []struct {
		keys  []int // of the first pass; the second has none
		wants int
	}{{[]int{67, 67, 67}, 8}, {[]int{0, 0, 67}, 8}, {[]int{0, 0, 0}, 6}} {
		c := &steadyClock{}
		r := round.Start(plan, 0, c, nil)
		r.Tick(heardAt(plan, 0), c)
		struck := 0
		for i := range 6 {
			made := tap.Tap{At: heardAt(plan, 0) + 500*float64(i)}
			if i < 3 {
				made.Key = tt.keys[i]
			}
			if made.Key > 0 {
				struck++
			}
			r.Press(made, "")
		}
		r.Tick(heardAt(plan, 0)+2990, c)
		r.Stop(heardAt(plan, 0)+2990, c)
		wants, _, _ := r.Judged()
		assert.Len(t, wants, tt.wants, "%v: one known key is enough to look for all", tt.keys)
		assert.Equal(t, struck, r.Keys().Struck)
	}
}

// leaned is a round with an appoggiatura on the first beat and its main note on
// the second, struck so strongly.
func leaned(t *testing.T, change func(*perf.Note), leaning, main int) *round.Round {
	t.Helper()
	p, played := waltz()
	for i := range played.Notes {
		n := &played.Notes[i]
		if n.Hand == perf.Right && (n.Onset == music.Int(1) || n.Onset == music.Int(2)) {
			n.Ornament, n.Measured = "o1", true
			if n.Onset == music.Int(2) {
				n.Index = 1
			}
			change(n)
		}
	}
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 3, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	return keys(t, plan, func(i int, p *tap.Tap) {
		switch i {
		case 0:
			p.Strength = leaning
		case 1:
			p.Strength = main
		}
	})
}

// The appoggiatura is the stronger one (C.P.E. Bach): said where it is not.
func TestLeaningInWords(t *testing.T) {
	as := func(*perf.Note) {}
	const said = "The appoggiatura is the louder note."
	for _, tt := range []struct {
		leaning, main int
		reminded      bool
	}{{90, 70, false}, {70, 70, true}, {60, 70, true}} {
		r := leaned(t, as, tt.leaning, tt.main)
		l := r.Lean()
		assert.Equal(t, round.Lean{N: 1, Leaning: float64(tt.leaning), MainOne: float64(tt.main)}, l)
		if text := r.Keys().Words(l, nil); tt.reminded {
			assert.Contains(t, text, said)
		} else {
			assert.NotContains(t, text, said)
		}
	}
	assert.Equal(t, round.Lean{}, leaned(t, func(n *perf.Note) { n.Measured = false }, 90, 70).Lean(), "a free ornament has no leaning note")
	assert.Equal(t, round.Lean{}, leaned(t, as, 0, 70).Lean(), "how strongly is known of one alone")
	assert.Empty(t, round.Keyed{}.Words(round.Lean{}, nil), "no keys, no words")
	assert.Equal(t, "2 notes were different from the written ones.", round.Keyed{Struck: 5, Other: 2}.Words(round.Lean{}, nil))
	assert.NotContains(t, round.Keyed{Struck: 5}.Words(round.Lean{}, nil), "Leaning")
}

// An extra tap stands beside the note it was nearest to, before or after it.
func TestWhereExtraTapsStand(t *testing.T) {
	for _, tt := range []struct{ late, want float64 }{{200, 0.4}, {-200, -0.4}} {
		plan := build(t, round.Settings{From: 1, To: 3, Tap: round.RightHand})
		c := &steadyClock{}
		r := round.Start(plan, 0, c, nil)
		r.Tick(1000, c)
		for i := range plan.Frames {
			r.Tap(heardAt(plan, i), perf.Right)
			if i == 3 {
				continue
			}
			if i == 2 && tt.late < 0 || i == 4 && tt.late > 0 {
				r.Tap(heardAt(plan, 4)+tt.late, perf.Right)
			}
		}
		for now := 1000.0; r.State() != round.Result; now += 100 {
			r.Tick(now, c)
		}
		found := 0
		for _, m := range r.Marks() {
			if m.Note == "" && m.Wanted == 5 && m.At != 5 {
				found++
				assert.InDelta(t, 5+tt.want, m.At, 1e-6)
			}
		}
		assert.Equal(t, 1, found, "%v", tt.late)
	}
}

// A round that begins late in the engine's frames counts, taps and ends at
// its own times.
func TestARoundThatBeginsLater(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, CountIn: 1})
	c := &steadyClock{}
	const start = 480_000 // ten seconds
	r := round.Start(plan, start, c, nil)
	zero, _ := c.HeardAt(start)
	assert.Equal(t, round.Counting, r.Tick(zero+1499, c))
	assert.Equal(t, round.Tapping, r.Tick(zero+1501, c))
	end := zero + float64(plan.Sequence.Length)/48
	assert.Equal(t, round.Tapping, r.Tick(end+399, c))
	at, ok := r.Place(zero+1500, c)
	assert.True(t, ok)
	assert.InDelta(t, 1, at.Quarters, 1e-6)
	assert.Equal(t, round.Result, r.Tick(end+401, c))
}

// A joined tempo in the third pass of a repeated round.
func TestJoinInTheThirdPass(t *testing.T) {
	p, played := waltz()
	s := round.Settings{From: 1, To: 2, Play: round.BothHands, Repeat: true, CountIn: 1}
	old, err := round.Build(p, played, nil, s, rate)
	require.NoError(t, err)
	s.Percent = 50
	slow, err := round.Build(p, played, nil, s, rate)
	require.NoError(t, err)
	const origin, beat = 1_000_000, 24000
	r := round.Start(old, origin, &steadyClock{}, nil)
	pass := old.Sequence.Length - old.Sequence.LoopStart
	require.Equal(t, int64(3*beat), pass)
	for n := range int64(4) {
		for k := range int64(3) {
			rendered := origin + old.Lead + n*pass + k*beat - 1
			if n == 0 && k == 0 {
				continue // still counting in
			}
			want := round.Join{At: rendered + 1, From: slow.Lead + 2*k*beat}
			assert.Equal(t, want, r.JoinAt(slow, rendered), "pass %d, beat %d", n, k)
		}
	}
}

// The least a note sounds is one frame, and it keeps its strength and key.
func TestNotesThatSound(t *testing.T) {
	p, played := bars(threeFour, music.Int(3))
	played.Notes[0].Dur = music.F(1, 1_000_000)
	plan, err := round.Build(p, played, nil, round.Settings{From: 0, To: 1, Play: round.BothHands}, rate)
	require.NoError(t, err)
	n := plan.Sequence.Notes[0]
	assert.Equal(t, n.Start+1, n.End)
	assert.Equal(t, 67, n.Key)
	assert.InDelta(t, 0.6, n.Strength, 1e-6)
}
