package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/synth"
)

// bars is a passage of measures in one metre, each as long as told, in
// quarters, with a quarter G4 on every quarter of it.
func bars(m music.Metre, lengths ...music.Frac) (*score.Passage, *perf.Performance) {
	p := &score.Passage{Staves: 2}
	played := &perf.Performance{Tempo: perf.Steady(120)}
	at := music.Frac{}
	for _, l := range lengths {
		p.Measures = append(p.Measures, score.Measure{Onset: at, Length: l, Metre: m})
		for q := (music.Frac{}); q.Less(l); q = q.Add(music.Int(1)) {
			played.Notes = append(played.Notes, perf.Note{Onset: at.Add(q), Dur: music.Int(1), Pitch: music.MustPitch("G4"), Hand: perf.Right, Strength: 0.6})
			played.Beats = append(played.Beats, perf.Beat{Onset: at.Add(q), Strong: q.IsZero(), Measure: len(p.Measures) - 1})
		}
		at = at.Add(l)
	}
	played.End = at
	return p, played
}

var threeFour = music.Metre{Beats: 3, Unit: 4}

// A short measure that leads into the next keeps its place in the bar: the
// beats before it are counted too. It is one at the beginning, or after a
// repeat sign where the score does not count it.
func TestPickups(t *testing.T) {
	quarter, whole := music.Int(1), music.Int(3)
	for _, tt := range []struct {
		name            string
		implicit, ended bool // the second measure is not counted; a repeat ends before it
		from            int
		clicks          int
	}{
		{"at the beginning", false, false, 0, 5},
		{"after a repeat, not counted by the score", true, true, 2, 5},
		{"counted: a short measure, as in an irregular metre", false, true, 2, 3},
		{"not counted, but no repeat before it: the rest of a broken measure", true, false, 2, 3},
		{"a whole measure", true, true, 1, 3},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p, played := bars(threeFour, quarter, whole, quarter, whole)
			p.Measures[2].Implicit, p.Measures[1].RepeatEnd = tt.implicit, tt.ended
			plan, err := round.Build(p, played, nil, round.Settings{From: tt.from, To: 4, Tap: round.RightHand, CountIn: 1}, rate)
			require.NoError(t, err)
			assert.Len(t, plan.Sequence.Clicks, tt.clicks)
			assert.Equal(t, int64(24000*tt.clicks), plan.Lead)
		})
	}
}

// A round runs on to the first note after it, if that comes within a bar: what
// comes later is no landing but another phrase.
func TestHowFarTheLandingMayBe(t *testing.T) {
	for _, tt := range []struct {
		name  string
		next  music.Frac // the first note after the round, in quarters from its end
		lands bool
	}{
		{"at once", music.Int(0), true},
		{"a bar later", music.Int(3), true},
		{"more than a bar later", music.F(13, 4), false},
	} {
		p, played := bars(threeFour, music.Int(3), music.Int(3), music.Int(3))
		end := music.Int(3)
		var kept []perf.Note
		for _, n := range played.Notes {
			if n.Onset.Less(end) {
				kept = append(kept, n)
			}
		}
		played.Notes = append(kept, perf.Note{Onset: end.Add(tt.next), Dur: music.Int(1), Pitch: music.MustPitch("C5"), Hand: perf.Right, Strength: 0.6})
		plan, err := round.Build(p, played, nil, round.Settings{From: 0, To: 1, Tap: round.RightHand}, rate)
		require.NoError(t, err)
		last := plan.Wants[len(plan.Wants)-1]
		assert.Equal(t, tt.lands, last.Landing, tt.name)
		assert.Equal(t, tt.lands, last.Key == 72, tt.name)
	}
}

// The landing is the tapped hand's where one taps, anybody's where nobody does.
func TestWhoseLanding(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.LeftHand})
	require.Len(t, plan.Wants, 2)
	assert.Equal(t, music.Int(4), plan.Wants[1].Onset)
	assert.True(t, plan.Wants[1].Landing)

	plan = build(t, round.Settings{From: 0, To: 1, Play: round.LeftHand})
	require.Len(t, plan.Sequence.Notes, 1, "the right hand's landing stands with the left hand's first note")
}

// The landing rings for a beat, and for six tenths of a second at least.
func TestHowLongTheLandingRings(t *testing.T) {
	for _, tt := range []struct{ percent, seconds float64 }{
		{100, 0.6}, // a beat is half a second
		{50, 1},
	} {
		plan := build(t, round.Settings{From: 1, To: 2, Play: round.LeftHand, Tap: round.RightHand, Percent: tt.percent})
		landing := plan.Frames[len(plan.Frames)-1]
		assert.Equal(t, landing+int64(tt.seconds*rate), plan.Sequence.Length)
		last := plan.Sequence.Notes[len(plan.Sequence.Notes)-1]
		assert.Equal(t, plan.Sequence.Length, last.End, "and is cut there")
	}
}

// A key that is struck again at once comes up 40 ms before, but never loses
// more than a third of its note.
func TestReleasesBeforeARepeatedNote(t *testing.T) {
	for _, tt := range []struct {
		dur   music.Frac // at 120 quarters a minute
		early int64      // frames
	}{
		{music.Int(1), 1920},
		{music.F(1, 4), 1920},
		{music.F(1, 5), 1600},
	} {
		p, played := bars(threeFour, music.Int(3))
		played.Notes[0].Dur, played.Notes[0].Release = tt.dur, true
		plan, err := round.Build(p, played, nil, round.Settings{From: 0, To: 1, Play: round.BothHands}, rate)
		require.NoError(t, err)
		n := plan.Sequence.Notes[0]
		assert.Equal(t, int64(tt.dur.Float()*24000)-tt.early, n.End-n.Start, "%v", tt.dur)
	}
}

// clicks tells the clicks of a plan by their place in quarters and kind.
func clicks(plan *round.Plan) (out []synth.Click) {
	for _, c := range plan.Sequence.Clicks {
		out = append(out, synth.Click{At: c.At / 4000, Kind: c.Kind}) // sixths of a quarter
	}
	return out
}

// The count-in has a click for each beat, the bar's first one strong; between
// them, where asked, one at the half of a plain beat and two at the thirds of
// a dotted one.
func TestClicksOfTheCountIn(t *testing.T) {
	strong, beat, sub := synth.Strong, synth.Beat, synth.Sub
	for _, tt := range []struct {
		name    string
		metre   music.Metre
		between bool
		bars    int
		want    []synth.Click
	}{
		{"two bars of three", threeFour, false, 2, []synth.Click{{At: 0, Kind: strong}, {At: 6, Kind: beat}, {At: 12, Kind: beat}, {At: 18, Kind: strong}, {At: 24, Kind: beat}, {At: 30, Kind: beat}}},
		{"with the halves", threeFour, true, 1, []synth.Click{{At: 0, Kind: strong}, {At: 3, Kind: sub}, {At: 6, Kind: beat}, {At: 9, Kind: sub}, {At: 12, Kind: beat}, {At: 15, Kind: sub}}},
		{"six eighths with the thirds", music.Metre{Beats: 6, Unit: 8}, true, 1, []synth.Click{{At: 0, Kind: strong}, {At: 3, Kind: sub}, {At: 6, Kind: sub}, {At: 9, Kind: beat}, {At: 12, Kind: sub}, {At: 15, Kind: sub}}},
	} {
		p, played := bars(tt.metre, music.Int(3), music.Int(3))
		plan, err := round.Build(p, played, nil, round.Settings{From: 0, To: 2, Tap: round.RightHand, CountIn: tt.bars, Subdivide: tt.between}, rate)
		require.NoError(t, err)
		assert.Equal(t, tt.want, clicks(plan), tt.name)
	}
}

// Clicks on the beats go from the first beat to the landing's, and not beyond;
// a repeated round ends before it, where its own first beat comes again.
func TestClicksOnTheBeats(t *testing.T) {
	strong, beat, sub := synth.Strong, synth.Beat, synth.Sub
	bar := []synth.Click{{At: 12, Kind: strong}, {At: 15, Kind: sub}, {At: 18, Kind: beat}, {At: 21, Kind: sub}, {At: 24, Kind: beat}, {At: 27, Kind: sub}}
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, Beat: true, Subdivide: true})
	assert.Equal(t, append(bar, synth.Click{At: 30, Kind: strong}), clicks(plan))
	plan = build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, Beat: true, Subdivide: true, Repeat: true})
	assert.Equal(t, bar, clicks(plan))
	assert.Empty(t, build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand}).Sequence.Clicks)
}

// Every note that falls on a felt beat says so, and whether it is a strong one.
func TestWhichNotesAreOnTheBeat(t *testing.T) {
	p, played := waltz()
	played.Notes = append(played.Notes, perf.Note{Onset: music.F(11, 2), Dur: music.F(1, 2), Pitch: music.MustPitch("A4"), Hand: perf.Right, Strength: 0.6})
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 3, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	for _, w := range plan.Wants {
		assert.Equal(t, w.Onset != music.F(11, 2), w.Beat, "%v", w.Onset)
		assert.Equal(t, w.Onset == music.Int(1) || w.Onset == music.Int(4) || w.Onset == music.Int(7), w.Strong, "%v", w.Onset)
	}
}

// A round is easier where the tapped hand sounds too, and alone where nothing
// else does; with both hands tapped one is beside the other.
func TestWhoSoundsAndWhoTaps(t *testing.T) {
	no, right, left, both := round.NoHand, round.RightHand, round.LeftHand, round.BothHands
	for _, tt := range []struct {
		tap, play        round.Hands
		following, alone bool
	}{
		{right, no, false, true}, {right, left, false, false}, {right, right, true, false}, {right, both, true, false},
		{left, no, false, true}, {left, right, false, false}, {left, left, true, false},
		{both, no, false, false}, {both, left, true, false}, {both, both, true, false},
		{no, both, false, false},
	} {
		s := round.Settings{From: 1, To: 2, Tap: tt.tap, Play: tt.play}
		assert.Equal(t, tt.following, s.Following(), "%+v", tt)
		assert.Equal(t, tt.alone, build(t, s).Alone, "%+v", tt)
	}
	assert.Equal(t, left, right.Other())
	assert.Equal(t, right, left.Other())
	assert.Equal(t, no, both.Other())
	assert.Equal(t, no, no.Other())
}

// The tempo is kept between a fifth and twice the passage's own.
func TestTempoLimits(t *testing.T) {
	for percent, want := range map[float64]float64{0: 100, 19: 20, 20: 20, 150: 150, 200: 200, 201: 200} {
		assert.Equal(t, want, build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, Percent: percent}).Settings.Percent)
	}
}

// An ornament before the beat belongs to the measures of the note it adorns,
// even where it sounds before them.
func TestOrnamentsBeforeTheRound(t *testing.T) {
	p, played := waltz()
	p.Chords = []score.Chord{{Onset: music.Int(4), Notes: []score.Note{{ID: "n"}}}}
	small := perf.Note{Onset: music.F(15, 4), Dur: music.F(1, 4), Pitch: music.MustPitch("A4"), Hand: perf.Right, Strength: 0.6, Ornament: "o1", From: "n"}
	played.Notes = append(played.Notes[:5:5], append([]perf.Note{small}, played.Notes[5:]...)...)
	of := func(from, to int) (n int) {
		plan, err := round.Build(p, played, nil, round.Settings{From: from, To: to, Tap: round.RightHand}, rate)
		require.NoError(t, err)
		for _, w := range plan.Wants {
			if w.Ornament != "" {
				n++
				assert.GreaterOrEqual(t, w.At, 0.0)
			}
		}
		return n
	}
	assert.Equal(t, 1, of(2, 3), "its own measure")
	assert.Equal(t, 1, of(1, 3))
}

// rolled is a chord of three notes, each held while the next is struck.
func rolled(t *testing.T, keys bool, change func([]perf.Note)) *round.Plan {
	t.Helper()
	p, played := bars(threeFour, music.Int(3))
	var chord []perf.Note
	for i, pitch := range []string{"C4", "E4", "G4"} {
		onset := music.F(int64(i), 16)
		chord = append(chord, perf.Note{Onset: onset, Dur: music.Int(1).Sub(onset), Pitch: music.MustPitch(pitch), Hand: perf.Right, Strength: 0.6, Ornament: "o1", Index: i})
	}
	change(chord)
	played.Notes = append(chord, played.Notes[1:]...)
	plan, err := round.Build(p, played, nil, round.Settings{From: 0, To: 1, Tap: round.RightHand, Keys: keys}, rate)
	require.NoError(t, err)
	return plan
}

// A hand that only taps cannot roll a chord: one tap stands for it. On an
// instrument, and where each note ends before the next, every note is wanted.
func TestARolledChordIsOneTap(t *testing.T) {
	as := func([]perf.Note) {}
	wants := func(plan *round.Plan) (n int) {
		for _, w := range plan.Wants {
			if w.Ornament != "" {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 1, wants(rolled(t, false, as)))
	assert.Equal(t, 3, wants(rolled(t, true, as)), "on an instrument")
	assert.Equal(t, 3, wants(rolled(t, false, func(c []perf.Note) {
		for i := range c {
			c[i].Dur = music.F(1, 16)
		}
	})), "one after the other, as in a turn")
	assert.Equal(t, 2, wants(rolled(t, false, func(c []perf.Note) { c[0].Dur = music.F(1, 16) })), "the first let go: the other two are rolled")
	assert.Equal(t, 3, wants(rolled(t, false, func(c []perf.Note) {
		for i := range c {
			c[i].Ornament = ""
		}
		c[0].Ornament, c[1].Ornament, c[2].Ornament = "o1", "o2", "o3"
	})), "of three ornaments")
}

// The first note of a hand after an ornament is its landing.
func TestLandingsWithinARound(t *testing.T) {
	p, played := waltz()
	for i := range played.Notes {
		n := &played.Notes[i]
		switch {
		case n.Hand == perf.Right && (n.Onset == music.Int(2) || n.Onset == music.Int(3)):
			n.Ornament = "o1"
		case n.Hand == perf.Right && n.Onset == music.Int(4):
			n.Ornament = "o2"
		}
	}
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 3, Tap: round.RightHand, Repeat: true}, rate)
	require.NoError(t, err)
	var landings []bool
	for _, w := range plan.Wants {
		landings = append(landings, w.Landing)
	}
	assert.Equal(t, []bool{false, false, false, true, true, false}, landings)
}

// Notes struck together by one hand are one onset; it is the ornament's where
// one of them is, and the other notes are known as further keys, each once.
func TestChordsAreOneOnset(t *testing.T) {
	p, played := bars(threeFour, music.Int(3))
	add := func(pitch, ornament string, hand perf.Hand) {
		played.Notes = append(played.Notes, perf.Note{Onset: music.Int(2), Dur: music.Int(1), Pitch: music.MustPitch(pitch), Hand: hand, Strength: 0.6, Ornament: ornament, Index: 4, From: "n"})
	}
	add("B4", "o1", perf.Right)
	add("B4", "", perf.Right)
	add("D5", "", perf.Right)
	add("D5", "", perf.Right)
	add("G2", "", perf.Left)
	plan, err := round.Build(p, played, nil, round.Settings{From: 0, To: 1, Tap: round.BothHands}, rate)
	require.NoError(t, err)
	require.Len(t, plan.Wants, 4)
	w := plan.Wants[2]
	assert.Equal(t, "o1", w.Ornament)
	assert.Equal(t, 4, w.Index)
	assert.Equal(t, 71, w.Key)
	assert.Equal(t, []int{67, 74}, plan.Also[round.Struck{Frame: plan.Frames[2], Hand: perf.Right}])
	assert.Equal(t, 43, plan.Wants[3].Key)
	assert.Len(t, plan.Also, 1)
}

// A fermata is told to the judge, who allows time for it.
func TestFermata(t *testing.T) {
	p, played := bars(threeFour, music.Int(3))
	p.Chords = []score.Chord{{Notes: []score.Note{{ID: "a"}}}, {Onset: music.Int(1), Notes: []score.Note{{ID: "b"}}, Fermata: true}}
	played.Notes[0].From, played.Notes[1].From = "a", "b"
	plan, err := round.Build(p, played, nil, round.Settings{From: 0, To: 1, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	assert.Equal(t, []bool{false, true, false}, []bool{plan.Wants[0].Fermata, plan.Wants[1].Fermata, plan.Wants[2].Fermata})
}

// Another tempo takes over on the beat that stands just there, and after the
// last measure where the old one ends.
func TestJoinOnTheBeat(t *testing.T) {
	p, played := waltz()
	s := round.Settings{From: 1, To: 3, Play: round.BothHands}
	old, err := round.Build(p, played, nil, s, rate)
	require.NoError(t, err)
	s.Percent = 50
	slow, err := round.Build(p, played, nil, s, rate)
	require.NoError(t, err)
	const origin = 500
	r := round.Start(old, origin, &steadyClock{}, nil)
	beat := int64(24000)
	for _, tt := range []struct {
		rendered int64
		want     round.Join
	}{
		{old.Lead - 1, round.Join{At: origin + old.Lead, From: slow.Lead}},
		{old.Lead, round.Join{At: origin + old.Lead, From: slow.Lead}},
		{old.Lead + 2*beat, round.Join{At: origin + old.Lead + 2*beat, From: slow.Lead + 4*beat}},
		{old.Lead + 2*beat + 1, round.Join{At: origin + old.Lead + 3*beat, From: slow.Lead + 6*beat}},
		{old.Lead + 5*beat + 1, round.Join{At: origin + old.Lead + 6*beat, From: slow.Lead + 12*beat}},
	} {
		assert.Equal(t, tt.want, r.JoinAt(slow, origin+tt.rendered), "%d", tt.rendered)
	}

	// It follows the new plan once that is heard, not before.
	join := round.Join{At: origin + old.Lead + 2*beat, From: slow.Lead + 4*beat}
	r.Take(slow, join.At-join.From, join)
	c := &steadyClock{}
	at, _ := c.HeardAt(float64(join.At))
	r.Tick(at-1, c)
	assert.Same(t, old, r.Plan())
	before, _ := r.Place(at-1, c)
	r.Tick(at, c)
	assert.Same(t, slow, r.Plan())
	after, _ := r.Place(at, c)
	assert.InDelta(t, before.Quarters, after.Quarters, 0.01, "the place goes on")
	assert.InDelta(t, 3, after.Quarters, 1e-6)
}
