package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/synth"
)

// The beats of the count-in are numbered from each bar's first; before the
// clock is known, before the first click and once the music has begun there is
// no number.
func TestTheBeatThatIsCounted(t *testing.T) {
	const start = 96_000 // two seconds
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, CountIn: 2, Beat: true, Subdivide: true})
	c := &steadyClock{}
	r := round.Start(plan, start, c, nil)
	zero, _ := c.HeardAt(start)
	for _, tt := range []struct {
		ms   float64
		beat int
		ok   bool
	}{
		{-1, 0, false}, {1, 1, true}, {251, 1, true}, {499, 1, true}, {501, 2, true}, {1001, 3, true}, {1499, 3, true},
		{1501, 1, true}, {2001, 2, true}, {2999, 3, true}, {3001, 0, false},
	} {
		beat, ok := r.Count(zero+tt.ms, c)
		assert.Equal(t, tt.ok, ok, "%v ms", tt.ms)
		if ok {
			assert.Equal(t, tt.beat, beat, "%v ms", tt.ms)
		}
	}
	_, ok := r.Count(zero+1, &unknownClock{})
	assert.False(t, ok)

	silent := round.Start(build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, Beat: true}), 0, c, nil)
	_, ok = silent.Count(1001, c)
	assert.False(t, ok, "nothing is counted")
	pickup := round.Start(build(t, round.Settings{From: 0, To: 2, Tap: round.RightHand, CountIn: 1}), 0, c, nil)
	beat, _ := pickup.Count(1000+2001, c)
	assert.Equal(t, 2, beat, "the pickup is the third beat of its bar")
}

// unknownClock has heard nothing yet.
type unknownClock struct{ steadyClock }

func (*unknownClock) FrameAt(float64) (float64, bool) { return 0, false }

// later taps both hands' wants at their times and a delay for each, in ms.
func later(t *testing.T, s round.Settings, delay func(i int) float64) *round.Round {
	t.Helper()
	plan := build(t, s)
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	for i, w := range plan.Wants {
		at := heardAt(plan, i) + delay(i)
		r.Tick(at, c)
		r.Tap(at, w.Hand)
	}
	r.Tick(60_000, c)
	require.Equal(t, round.Result, r.State())
	return r
}

// What was tapped is heard again in its measure, each tap as far from its note
// as it was from the round's own lead, with the key that was wanted. It lasts
// to the next tap, but 0.12 s at least and 0.7 s at most.
func TestTheMeasureAsItWasTapped(t *testing.T) {
	late := map[int]float64{1: 60}
	r := later(t, round.Settings{From: 1, To: 4, Tap: round.RightHand, Play: round.LeftHand, CountIn: 1}, func(i int) float64 { return late[i] })
	lead := r.Result().Leads[perf.Right].MS
	mine, right, ok := r.Replay(1)
	require.True(t, ok)
	for _, p := range []*round.Plan{mine, right} {
		assert.Equal(t, []int{1, 2}, []int{p.Settings.From, p.Settings.To}, "its own measure")
		assert.True(t, p.Settings.Beat)
		assert.False(t, p.Settings.Repeat)
		assert.Empty(t, p.Wants, "nothing is to be tapped")
	}
	var struck []synth.Note
	for _, n := range mine.Sequence.Notes {
		if n.Key == 67 {
			struck = append(struck, n)
		}
	}
	require.GreaterOrEqual(t, len(struck), 3)
	for i, n := range struck[:3] {
		at := float64(mine.Lead) + 24000*float64(i) + (late[i]-lead)*48
		assert.InDelta(t, at, n.Start, 2, "tap %d", i)
		assert.InDelta(t, struck[min(i+1, len(struck)-1)].Start, n.End, 1+float64(max(0, i+2-len(struck)))*34000, "tap %d sounds up to the next", i)
	}
	last := struck[len(struck)-1]
	assert.Equal(t, int64(33600), last.End-last.Start, "0.7 s: nothing follows")
	assert.GreaterOrEqual(t, mine.Sequence.Length, right.Sequence.Length)
	assert.GreaterOrEqual(t, mine.Sequence.Length, last.End)
	for i := 1; i < len(mine.Sequence.Notes); i++ {
		assert.LessOrEqual(t, mine.Sequence.Notes[i-1].Start, mine.Sequence.Notes[i].Start)
	}
	sounds := func(p *round.Plan, key int) (n int) {
		for _, note := range p.Sequence.Notes {
			if note.Key == key {
				n++
			}
		}
		return n
	}
	assert.Positive(t, sounds(mine, 43), "the other hand sounds too")
	assert.Positive(t, sounds(right, 43))
	assert.GreaterOrEqual(t, sounds(right, 67), 3)

	_, second, ok := r.Replay(3)
	require.True(t, ok)
	assert.Equal(t, []int{2, 3}, []int{second.Settings.From, second.Settings.To}, "a measure begins with its first beat")
}

// There is nothing to hear again before the end, for no note, and where none
// was tapped in the measure.
func TestNothingToHearAgain(t *testing.T) {
	s := round.Settings{From: 1, To: 4, Tap: round.RightHand, CountIn: 1}
	early := round.Start(build(t, s), 0, &steadyClock{}, nil)
	_, _, ok := early.Replay(0)
	assert.False(t, ok, "not judged yet")
	r := later(t, s, func(int) float64 { return 0 })
	wants, _, _ := r.Judged()
	for from, want := range map[int]bool{-1: false, 0: true, len(wants) - 1: true, len(wants): false} {
		_, _, ok := r.Replay(from)
		assert.Equal(t, want, ok, "%d", from)
	}
	missed := later(t, s, func(i int) float64 {
		if i < 3 {
			return 0
		}
		return 100_000 // after the round
	})
	_, _, ok = missed.Replay(6)
	assert.False(t, ok, "nothing was tapped there")
}

// A round that was played without the program's sound is judged at the tempo
// that was played.
func TestARoundThatWasHeard(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 3, Tap: round.RightHand})
	for _, tt := range []struct {
		name    string
		quarter float64 // ms; 500 is the plan's
		beat    float64
	}{{"as written", 500, 500}, {"slower", 750, 750}, {"faster", 400, 400}, {"all at once", 0, 500}, {"backwards", -500, 500}} {
		var wants []tap.Want
		var taps []tap.Tap
		for i, w := range plan.Wants {
			w.At = 5000 + tt.quarter*float64(i)
			wants = append(wants, w)
			taps = append(taps, tap.Tap{At: w.At + 20})
		}
		r := round.Heard(plan, wants, taps, true)
		assert.InDelta(t, tt.beat, r.Plan().BeatMS, 1e-6, tt.name)
		assert.True(t, r.Plan().Alone, tt.name)
		assert.Equal(t, round.Result, r.State(), tt.name)
		if tt.quarter > 0 {
			assert.Equal(t, len(wants), r.Result().Hit, tt.name)
			assert.InDelta(t, 20, r.Result().MeanMS, 0.5, tt.name)
		}
		assert.InDelta(t, 500, plan.BeatMS, 1e-6, "the plan itself stays")
	}
	one := round.Heard(plan, plan.Wants[:1], nil, false)
	assert.InDelta(t, 500, one.Plan().BeatMS, 1e-6, "one note has no tempo")
	assert.False(t, one.Plan().Alone)
}

// Of a chord each key is wanted, and only its first want has an end.
func TestEveryKeyOfAChord(t *testing.T) {
	p, played := waltz()
	played.Notes = append(played.Notes[:2:2], append([]perf.Note{{Onset: music.Int(1), Dur: music.Int(1), Pitch: music.MustPitch("B4"), Hand: perf.Right, Strength: 0.6}}, played.Notes[2:]...)...)
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 2, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	require.Len(t, plan.Also, 1)
	twice := append(append([]tap.Want(nil), plan.Wants...), plan.Wants...)
	all := plan.EveryKey(twice)
	require.Len(t, all, len(twice)+2, "in each pass")
	assert.NotEqual(t, all[0].Key, all[1].Key)
	assert.Zero(t, all[1].Until)
	assert.Equal(t, all[0].At, all[1].At)
	plain := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand})
	assert.Equal(t, plain.Wants, plain.EveryKey(plain.Wants))
}

// The first note of an ornament is found by its name.
func TestTheNoteOfAnOrnament(t *testing.T) {
	p, played := waltz()
	for i := range played.Notes {
		if played.Notes[i].Hand == perf.Right && (played.Notes[i].Onset == music.Int(2) || played.Notes[i].Onset == music.Int(3)) {
			played.Notes[i].Ornament = "turn"
		}
	}
	plan, err := round.Build(p, played, map[string]string{"turn": "Turn"}, round.Settings{From: 1, To: 3, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	for i := range plan.Wants {
		r.Tick(heardAt(plan, i), c)
		r.Tap(heardAt(plan, i), perf.Right)
	}
	r.Tick(60_000, c)
	assert.Equal(t, 1, r.NoteAt("turn"))
	assert.Equal(t, -1, r.NoteAt("trill"))
}
