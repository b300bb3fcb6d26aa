package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

// Two quarters a bar, a quarter a second: a bar lasts two seconds. The expected
// orders follow the signs; that repeats are left out after a da capo is common
// practice, no source.
const (
	twoEndings = "M:2/4\nL:1/4\nQ:1/4=60\nK:C\n|: C D | E TF |1 G A :|2 B c | d e |]\n"
	daCapo     = "M:2/4\nL:1/4\nQ:1/4=60\nK:C\n|: C D :| E F !fine!| G A | B c !D.C.!|]\n"
	onWithIt   = "M:2/4\nL:1/4\nQ:1/4=60\nK:C\n|: C D :| E F |]\n"
)

// along lays out a round as the desk does.
func along(t *testing.T, text string, s round.Settings) (*score.Passage, *realize.Reading, *round.Plan) {
	t.Helper()
	p, _, err := abc.Decode(text)
	require.NoError(t, err)
	r := realize.Read(p, realize.Taste{})
	return p, r, laid(t, r, s)
}

func laid(t *testing.T, r *realize.Reading, s round.Settings) *round.Plan {
	t.Helper()
	if s.To == 0 {
		s.To = len(r.Passage.Measures)
	}
	var sounding *perf.Performance
	if road := s.Road(r.Passage); road != nil {
		sounding = realize.PerformAlong(r, realize.PerformOptions{}, road)
	} else {
		sounding = realize.Perform(r, realize.PerformOptions{})
	}
	plan, err := round.Build(r.Passage, sounding, nil, s, rate)
	require.NoError(t, err)
	return plan
}

// letters gives the plain notes wanted, an ornament as its sign's letter.
func letters(p *score.Passage, plan *round.Plan) string {
	out := ""
	for _, w := range plan.Wants {
		if r, ok := p.Find(w.Note); ok && w.Index == 0 {
			out += p.At(r).Pitch.Step.String()
		}
	}
	return out
}

func TestARoundFollowsTheRoad(t *testing.T) {
	all := score.RoadOptions{Repeats: true, Jumps: true}
	for _, tc := range []struct {
		name, text string
		s          round.Settings
		want       string
	}{
		{"as written", twoEndings, round.Settings{}, "CDEFGABCDE"},
		{"each bar once takes the last ending", twoEndings, round.Settings{Along: true}, "CDEFBCDE"},
		{"the repeat with both endings", twoEndings, round.Settings{Along: true, Follow: all}, "CDEFGACDEFBCDE"},
		{"some bars with the repeat, and the landing after it", twoEndings, round.Settings{Along: true, Follow: all, To: 4}, "CDEFGACDEFBCD"},
		{"bars without a repeat", twoEndings, round.Settings{Along: true, Follow: all, From: 3, To: 4}, "BCD"},
		{"da capo al fine, the repeat left out after it", daCapo, round.Settings{Along: true, Follow: all}, "CDCDEFGABCCDEF"},
		{"the da capo alone", daCapo, round.Settings{Along: true, Follow: score.RoadOptions{Jumps: true}}, "CDEFGABCCDEF"},
		{"on after the repeat", onWithIt, round.Settings{Along: true, Follow: all, To: 1}, "CDCDE"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			tc.s.Tap = round.RightHand
			p, _, plan := along(t, tc.text, tc.s)
			assert.Equal(t, tc.want, letters(p, plan))
			for i := 1; i < len(plan.Frames); i++ {
				assert.Less(t, plan.Frames[i-1], plan.Frames[i])
			}
		})
	}
}

// The place seen is the written one; where the way leaps it says from where.
func TestThePlaceOnTheRoad(t *testing.T) {
	_, _, plan := along(t, twoEndings, round.Settings{Along: true, Follow: score.RoadOptions{Repeats: true}, Play: round.BothHands})
	at := func(seconds float64) round.Place { return plan.Place(float64(plan.Lead) + seconds*rate) }
	for _, tc := range []struct {
		name                  string
		seconds, want, played float64
		leapt                 bool
		from, since           float64
	}{
		{name: "counting in", seconds: -0.5, want: -0.5, played: -0.5},
		{name: "first ending", seconds: 5, want: 5, played: 5},
		{name: "back at the beginning", seconds: 6.25, want: 0.25, played: 6.25, leapt: true, from: 6, since: 0.25},
		{name: "second ending", seconds: 10.5, want: 6.5, played: 10.5, leapt: true, from: 4, since: 0.5},
		{name: "last bar", seconds: 13, want: 9, played: 13, leapt: true, from: 4, since: 3},
	} {
		got := at(tc.seconds)
		assert.InDelta(t, tc.want, got.Quarters, 1e-6, tc.name)
		assert.InDelta(t, tc.played, got.Played, 1e-6, tc.name)
		assert.Equal(t, tc.leapt, got.Leapt, tc.name)
		assert.InDelta(t, tc.from, got.From, 1e-6, tc.name)
		assert.InDelta(t, tc.since, got.Since, 1e-6, tc.name)
	}
	assert.InDelta(t, 14*rate, float64(plan.Sequence.Length-plan.Lead), 1)
}

// What was decided for the second pass sounds there, and each pass counts its
// own notes.
func TestThePassesOfAnOrnament(t *testing.T) {
	_, r, first := along(t, twoEndings, round.Settings{Along: true, Follow: score.RoadOptions{Repeats: true}, Tap: round.RightHand})
	o := &r.Ornaments[0]
	other := -1
	for i := range o.Choices {
		if len(o.Choices[i].Notes) != len(o.Choices[o.Chosen].Notes) {
			other = i
		}
	}
	require.GreaterOrEqual(t, other, 0)
	second := laid(t, r.ChooseInPass(o.ID, 2, other), round.Settings{Along: true, Follow: score.RoadOptions{Repeats: true}, Tap: round.RightHand})
	counts := func(plan *round.Plan) (passes []int) {
		for _, w := range plan.Wants {
			if w.Ornament != "" && w.Index == 0 {
				passes = append(passes, w.Count)
			}
		}
		return passes
	}
	n, m := len(o.Choices[o.Chosen].Notes), len(o.Choices[other].Notes)
	assert.Equal(t, []int{n, n}, counts(first))
	assert.Equal(t, []int{n, m}, counts(second))
}

// A bar tapped twice has the marks of both passes, each at its own written
// note; the judge hears both.
func TestMarksOfBothPasses(t *testing.T) {
	_, _, plan := along(t, onWithIt, round.Settings{Along: true, Follow: score.RoadOptions{Repeats: true}, Tap: round.RightHand})
	c := &steadyClock{}
	r := run(plan, c, 0, 50)
	require.NotNil(t, r.Result())
	assert.Equal(t, 6, r.Result().Wanted)
	assert.Equal(t, 6, r.Result().Hit)
	assert.InDelta(t, 50, r.Result().MeanMS, 0.5)
	var wanted []float64
	for _, m := range r.Marks() {
		wanted = append(wanted, m.Wanted)
		assert.InDelta(t, 0.05, m.At-m.Wanted, 1e-3) // a quarter a second
	}
	assert.Equal(t, []float64{0, 1, 0, 1, 2, 3}, wanted)
}

// An ornament that is played twice is judged twice.
func TestAnOrnamentOfBothPassesIsJudgedTwice(t *testing.T) {
	_, _, plan := along(t, twoEndings, round.Settings{Along: true, Follow: score.RoadOptions{Repeats: true}, Tap: round.RightHand})
	r := run(plan, &steadyClock{}, 0, 30)
	require.NotNil(t, r.Result())
	assert.Equal(t, len(plan.Wants), r.Result().Hit)
	assert.Zero(t, r.Result().Missed+r.Result().Extra)
	assert.Len(t, r.Result().Ornaments, 2)
}

func TestALoopWithItsRepeats(t *testing.T) {
	_, _, plan := along(t, onWithIt, round.Settings{Along: true, Follow: score.RoadOptions{Repeats: true}, Play: round.BothHands, Repeat: true, CountIn: 1})
	assert.Equal(t, int64(6*rate), plan.Sequence.Length-plan.Sequence.LoopStart)
	again := plan.Place(float64(plan.Sequence.Length) + 0.5*rate)
	assert.InDelta(t, 0.5, again.Quarters, 1e-6)
	assert.False(t, again.Leapt)
}

// Another tempo joins at the next beat of the way, not of the page.
func TestATempoJoinsInTheSecondPass(t *testing.T) {
	s := round.Settings{Along: true, Follow: score.RoadOptions{Repeats: true}, Play: round.BothHands}
	_, r, old := along(t, onWithIt, s)
	s.Percent = 50
	slow := laid(t, r, s)
	running := round.Start(old, 0, &steadyClock{}, nil)
	join := running.JoinAt(slow, old.Lead+2*rate+100) // just into the second pass
	assert.Equal(t, round.Join{At: old.Lead + 3*rate, From: slow.Lead + 6*rate}, join)
	assert.InDelta(t, 1, slow.Quarters(float64(join.From)), 1e-6)
}

// A small note before the first beat of a repeated bar stands before that bar,
// though it sounds at the end of another.
func TestASmallNoteBeforeTheRepeat(t *testing.T) {
	p, r, _ := along(t, "M:2/4\nL:1/4\nQ:1/4=60\nK:C\nA B |: {d}c D | E F :|]\n", round.Settings{Tap: round.RightHand})
	o := &r.Ornaments[0]
	early := -1
	for i := range o.Choices {
		if o.Choices[i].Notes[0].Onset.Sign() < 0 {
			early = i
		}
	}
	require.GreaterOrEqual(t, early, 0, "a choice before the beat")
	plan := laid(t, r.Choose(o.ID, early), round.Settings{Along: true, Follow: score.RoadOptions{Repeats: true}, Tap: round.RightHand})
	n := 0
	for _, w := range plan.Wants {
		if w.Ornament != "" && w.Index == 0 {
			n++
			assert.True(t, w.Written.Less(music.Int(2)) && music.Int(1).Less(w.Written), "%v of %s", w.Written, p.Title)
		}
	}
	assert.Equal(t, 2, n)
}

// Where the way through the chosen bars is the written order nothing has to be
// performed along it, whatever signs stand elsewhere.
func TestTheWrittenOrderNeedsNoRoad(t *testing.T) {
	all := score.RoadOptions{Repeats: true, Jumps: true}
	for _, tc := range []struct {
		name, text string
		s          round.Settings
		want       []int // measures, landing included; nil: as written
		legs       int
	}{
		{"a bar after the repeat", onWithIt, round.Settings{From: 1, To: 2, Follow: all}, nil, 0},
		{"two bars between the signs", daCapo, round.Settings{From: 1, To: 3, Follow: all}, nil, 0},
		{"the repeat not played", onWithIt, round.Settings{To: 2}, nil, 0},
		{"the repeat played", onWithIt, round.Settings{To: 1, Follow: all}, []int{0, 0, 1}, 2},
		{"an ending left out", twoEndings, round.Settings{To: 5}, []int{0, 1, 3, 4}, 4},
	} {
		p, _, err := abc.Decode(tc.text)
		require.NoError(t, err)
		tc.s.Along = true
		var got []int
		for _, step := range tc.s.Road(p) {
			got = append(got, step.Measure)
		}
		assert.Equal(t, tc.want, got, tc.name)
		assert.Equal(t, tc.legs, tc.s.Legs, tc.name)
	}
}
