package practice_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/synth/clock"
)

// start begins a kind of round on a built-in passage, changed.
func start(t *testing.T, kind, passage string, change func(*practice.Material)) *practice.Session {
	t.Helper()
	m := practice.On(open(t, passage))
	change(&m)
	s, err := practice.Start(kind, m)
	require.NoError(t, err)
	return s
}

func unchanged(*practice.Material) {}

// doubtfulClock had a hole in its sound, somewhere before the round.
type doubtfulClock struct{ steadyClock }

func (doubtfulClock) Doubtful() []clock.Span { return []clock.Span{{From: 1, To: 2}} }

// A row of clean rounds leads to the piano: only rounds in which enough was
// heard to judge by belong to it.
func TestOnlyCertainRoundsMakeARow(t *testing.T) {
	for _, tt := range []struct {
		name  string
		clock round.Clock
		late  float64 // of ornaments
		row   int
		piano bool
	}{
		{"clean", nil, 0, 2, true},
		{"clean as far as it was heard", doubtfulClock{}, 0, 0, false},
		{"not clean", nil, 150, 0, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := start(t, practice.Tap, "mordent", unchanged)
			p := &player{clock: tt.clock, late: func(w tap.Want) (float64, bool) {
				if w.Ornament != "" {
					return tt.late, true
				}
				return 0, true
			}}
			p.play(t, s)
			o := s.Outcome(1)
			assert.Equal(t, tt.clock == nil, o.Result.Certain)
			assert.Equal(t, tt.late == 0, o.Result.Clean)
			assert.Equal(t, tt.row, o.Row)
			assert.Equal(t, tt.piano, o.Next.Kind == practice.Piano)
			assert.Equal(t, tt.clock == nil, o.Records[0].Certain)
			assert.True(t, o.Records[0].Judged)
		})
	}
}

// A round that was broken off before its half tells nothing: it is kept as
// time, not as a judgement.
func TestABrokenOffRound(t *testing.T) {
	for _, hand := range []round.Hands{round.RightHand, round.LeftHand} {
		m := practice.On(open(t, "mordent"))
		m.Settings.Tap, m.Settings.Play = hand, hand.Other()
		probe, err := practice.Start(practice.Tap, m)
		require.NoError(t, err)
		plan, err := probe.Plan(rate)
		require.NoError(t, err)
		n := len(plan.Wants)
		for _, heard := range []int{(n + 1) / 2, (n+1)/2 - 1} {
			s, err := practice.Start(practice.Tap, m)
			require.NoError(t, err)
			c := steadyClock{}
			r := round.Start(plan, 0, c, nil)
			r.Tick(0, c)
			for i := range plan.Wants {
				r.Tap(plan.Wants[i].At, perf.Right)
			}
			at := plan.Wants[heard-1].At + 1
			r.Tick(at, c)
			r.Stop(at, c)
			require.Equal(t, round.Result, r.State())
			wants, _, _ := r.Judged()
			require.Len(t, wants, heard)
			s.Stop(r, 12)
			o := s.Outcome(0)
			require.Len(t, o.Records, 1)
			assert.Equal(t, 2*heard >= n, o.Records[0].Judged, "%d of %d notes were heard", heard, n)
			assert.Equal(t, 2*heard >= n, o.Records[0].Hit > 0)
			assert.Equal(t, 12.0, o.Records[0].Seconds)
		}
	}
}

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

// lines plays a session exactly and returns what it asked for.
func lines(t *testing.T, s *practice.Session) []string {
	t.Helper()
	p := &player{late: exact, answer: right, loops: 70}
	p.play(t, s)
	return p.lines
}

// An ornament grows by one, two, four notes to all it has, and is landed from
// two, four, all: never as many twice.
func TestHowAnOrnamentGrowsAndLands(t *testing.T) {
	for _, tt := range []struct {
		passage, selected string
		grow, land        []string
	}{
		{"mordent", "o1", // three notes
			[]string{"Only the first note of the ornament", "Only the first 2 notes of the ornament", "All 3 notes"},
			[]string{"Only the last 2 notes and the next beat", "All 3 notes and the next beat"}},
		{"turn", "o2", // four
			[]string{"Only the first note of the ornament", "Only the first 2 notes of the ornament", "All 4 notes"},
			[]string{"Only the last 2 notes and the next beat", "All 4 notes and the next beat"}},
		{"turn", "o1", // five
			[]string{"Only the first note of the ornament", "Only the first 2 notes of the ornament", "Only the first 4 notes of the ornament", "All 5 notes"},
			[]string{"Only the last 2 notes and the next beat", "Only the last 4 notes and the next beat", "All 5 notes and the next beat"}},
	} {
		pick := func(m *practice.Material) { m.Selected = tt.selected }
		assert.Equal(t, tt.grow, lines(t, start(t, practice.Grow, tt.passage, pick)))
		assert.Equal(t, tt.land, lines(t, start(t, practice.Land, tt.passage, pick)))
	}
}

// Where both hands are set, the clock of the other hand comes first.
func TestGrowWithBothHands(t *testing.T) {
	s := start(t, practice.Grow, "mordent", func(m *practice.Material) { m.Settings.Tap = round.BothHands })
	p := &player{late: exact}
	p.play(t, s)
	assert.Equal(t, "First the left hand alone", p.lines[0])
	assert.Equal(t, round.LeftHand, p.plans[0].Settings.Tap)
	assert.Equal(t, round.NoHand, p.plans[0].Settings.Play)
	for _, plan := range p.plans[1:] {
		assert.Equal(t, round.BothHands, plan.Settings.Tap)
		assert.Equal(t, round.NoHand, plan.Settings.Play)
	}
}

// The kinds for one hand take the hand that is set, the right one for both.
func TestWhichHandAKindTakes(t *testing.T) {
	for _, tt := range []struct{ set, taken round.Hands }{
		{round.RightHand, round.RightHand}, {round.LeftHand, round.LeftHand}, {round.BothHands, round.RightHand},
	} {
		for _, kind := range []string{practice.One, practice.Plain} {
			s := start(t, kind, "mordent", func(m *practice.Material) { m.Settings.Tap = tt.set })
			step, _ := s.Step()
			assert.Equal(t, tt.taken, step.Settings.Tap, kind)
			assert.Equal(t, tt.taken.Other(), step.Settings.Play, kind)
		}
		s := start(t, practice.Piano, "mordent", func(m *practice.Material) { m.Settings.Tap = tt.set })
		step, _ := s.Step()
		assert.Equal(t, tt.taken.Other(), step.Settings.Play, "at the piano the other hand sounds")
		assert.True(t, step.Settings.Beat && step.Settings.Repeat)
	}
}

// The ornament comes three times inside the count.
func TestHowOftenInsideTheCount(t *testing.T) {
	got := lines(t, start(t, practice.Inside, "mordent", unchanged))
	assert.Equal(t, []string{
		"Tap the beat, the ornament in its place: 1 of 3", "Tap the beat, the ornament in its place: 2 of 3", "Tap the beat, the ornament in its place: 3 of 3",
	}, got)
}

// Beats stand around the ornament, not on or under it, where its own notes
// stand for them; the first beat after it is its landing. The left hand's
// ornament is counted by the left hand.
func TestBeatsAroundTheOrnament(t *testing.T) {
	for _, tt := range []struct {
		passage, selected string
		hand              perf.Hand
		beats             []float64 // quarters from the beginning of the measure, counted in too
		landing           int       // which of all is the landing
	}{
		// In half notes: a mordent between the beats, on the second, on the first.
		{"mordent", "o2", perf.Right, []float64{-4, -2, 0, 2}, 6},
		{"mordent", "o4", perf.Left, []float64{-4, -2, 0}, 6},
		{"mordent", "o5", perf.Right, []float64{-4, -2, 2}, 5},
		// A trill on the third and fourth beat, whose notes reach over the fourth.
		{"trill", "o5", perf.Right, []float64{-4, -3, -2, -1, 0, 1}, -1},
	} {
		s := start(t, practice.Inside, tt.passage, func(m *practice.Material) { m.Selected = tt.selected })
		plan, err := s.Plan(rate)
		require.NoError(t, err)
		step, _ := s.Step()
		m := practice.On(open(t, tt.passage))
		begin := m.Passage.Measures[step.Settings.From].Onset
		var beats []float64
		landing := -1
		for i, w := range plan.Wants {
			if w.Landing {
				require.Equal(t, -1, landing, "one landing")
				landing = i
			}
			if w.Ornament == "" && w.Onset.Less(m.Passage.Measures[step.Settings.From].End()) {
				beats = append(beats, w.Onset.Sub(begin).Float())
				assert.Equal(t, tt.hand, w.Hand)
				assert.Equal(t, float64(plan.Frames[i])*1000/rate, w.At)
			}
		}
		assert.Equal(t, tt.beats, beats, tt.selected)
		if tt.landing >= 0 {
			assert.Equal(t, tt.landing, landing, tt.selected)
		}
	}
}

// Minutes are told to the nearest, seconds are not.
func TestMinutesAreTold(t *testing.T) {
	for _, tt := range []struct {
		seconds float64
		said    string
	}{{59, "less than a minute"}, {60, "1 minute"}, {89, "1 minute"}, {90, "2 minutes"}, {600, "10 minutes"}} {
		for kind, before := range map[string]string{practice.Piano: "At the piano: ", practice.Clap: "Clapped: "} {
			s := start(t, kind, "mordent", unchanged)
			c := steadyClock{}
			plan, err := s.Plan(rate)
			require.NoError(t, err)
			r := round.Start(plan, 0, c, nil)
			s.Stop(r, tt.seconds)
			o := s.Outcome(0)
			assert.Equal(t, before+tt.said+". Nothing was judged.", o.Words.Summary)
			assert.Equal(t, tt.seconds, o.Records[0].Seconds)
		}
	}
	assert.Empty(t, start(t, practice.Piano, "mordent", unchanged).Outcome(0).Records, "nothing was done")
}

// Seven questions of one kind would tire: a session by ear has four.
func TestHowManyQuestions(t *testing.T) {
	for _, kind := range []string{practice.Which, practice.Sign, practice.First} {
		s := start(t, kind, "mordent", func(m *practice.Material) { m.Seed = 5 })
		n := 0
		p := &player{late: exact, answer: func(s *practice.Step) int { n++; return s.Right }}
		p.play(t, s)
		assert.Equal(t, 4, n, kind)
		o := s.Outcome(0)
		assert.Equal(t, "4 of 4 recognized by ear.", o.Words.Summary)
		assert.Equal(t, practice.Echo, o.Next.Kind, "all right: now tap it")
		assert.Equal(t, 4, o.Records[0].Asked)
		assert.Equal(t, 4, o.Records[0].Right)
	}
	s := start(t, practice.First, "mordent", unchanged)
	p := &player{late: exact, answer: func(s *practice.Step) int { return (s.Right + 1) % len(s.Options) }}
	p.play(t, s)
	o := s.Outcome(0)
	assert.Equal(t, "0 of 4 recognized by ear.", o.Words.Summary)
	assert.Equal(t, practice.First, o.Next.Kind, "once more")
}

// The first note is asked among three that a player could take for it.
func TestChoicesForTheFirstNote(t *testing.T) {
	for _, passage := range []string{"mordent", "trill", "turn", "appoggiatura"} {
		places := map[int]bool{}
		for seed := range uint64(6) {
			s := start(t, practice.First, passage, func(m *practice.Material) { m.Seed = seed })
			p := &player{late: exact, answer: func(s *practice.Step) int {
				assert.Len(t, s.Options, 3, s.Line)
				assert.Contains(t, s.Reveal, "It begins on "+s.Options[s.Right].Label+":")
				places[s.Right] = true
				return s.Right
			}}
			p.play(t, s)
		}
		assert.Len(t, places, 3, "the right one has no place of its own")
	}
}

// Votes are counted as they come, for what is there to vote on.
func TestVotes(t *testing.T) {
	s := start(t, practice.Vote, "trill", unchanged)
	p := &player{late: exact}
	for step, ok := s.Step(); ok && step.Act != practice.Count; step, ok = s.Step() {
		assert.Nil(t, s.Votes())
		p.sound(t, s, step)
	}
	s.Answer(-1)
	s.Answer(2)
	s.Answer(1)
	s.Answer(1)
	assert.Equal(t, []int{0, 2}, s.Votes())
	s.Ready()
	assert.True(t, s.Over())
	o := s.Outcome(0)
	assert.Equal(t, "A: 0, B: 2.", o.Words.Summary)
	assert.Empty(t, o.Records, "a vote is no practice")
}

// Where a session stands, while steps are added on the way.
func TestPlaceInASession(t *testing.T) {
	s := start(t, practice.Grow, "mordent", unchanged)
	at, of := s.Place()
	assert.Equal(t, [2]int{1, 3}, [2]int{at, of})
	p := &player{late: func(w tap.Want) (float64, bool) {
		if w.Ornament != "" {
			return 150, true
		}
		return 0, true
	}}
	step, _ := s.Step()
	p.sound(t, s, step)
	at, of = s.Place()
	assert.Equal(t, [2]int{2, 4}, [2]int{at, of}, "not clean: once more")
	step, _ = s.Step()
	assert.Equal(t, "Once more: only the first note of the ornament", step.Line)
	p.sound(t, s, step)
	at, of = s.Place()
	assert.Equal(t, [2]int{3, 4}, [2]int{at, of}, "but only once")
}

// The lead is learned from each player's own plain notes.
func TestWhoseLeadIsLearned(t *testing.T) {
	known := -70.0
	s := start(t, practice.Pass, "mordent", func(m *practice.Material) { m.Names, m.Lead = []string{"Ana", "Ben"}, &known })
	assert.Equal(t, &known, s.Lead())
	p := &player{late: func(tap.Want) (float64, bool) { return -35, true }}
	s.Ready()
	step, _ := s.Step()
	p.sound(t, s, step)
	require.NotNil(t, s.Lead())
	assert.InDelta(t, -35, *s.Lead(), 1)
	assert.NotNil(t, s.Outcome(0).Records)
}

// A step that is too hard is taken once more, slower; another finding leads
// to the round that helps.
func TestWhatFollows(t *testing.T) {
	late := func(w tap.Want) (float64, bool) {
		if w.Ornament != "" {
			return 150, true
		}
		return 0, true
	}
	for _, tt := range []struct {
		kind string
		late func(tap.Want) (float64, bool)
		want practice.Next
	}{
		{practice.Tap, late, practice.Next{Kind: practice.Grow, Times: 1, Label: "Grow from the first note"}},
		{practice.Grow, late, practice.Next{Kind: practice.Grow, Times: 0.9, Label: "Once more, a step slower"}},
		{practice.Tap, exact, practice.Next{Kind: practice.Tap, Times: 1, Label: "Once more"}},
		{practice.One, exact, practice.Next{Kind: practice.Tap, Times: 0, Label: "Now the whole passage"}},
	} {
		s := start(t, tt.kind, "mordent", unchanged)
		(&player{late: tt.late}).play(t, s)
		assert.Equal(t, tt.want, s.Outcome(0).Next, tt.kind)
	}
}

// What most of a group share comes first, whoever they are; where all were
// clean it is the piano, and where nobody tapped nothing is said of anybody.
func TestAGroup(t *testing.T) {
	group := func(late func(name string, w tap.Want) (float64, bool)) practice.Outcome {
		s := start(t, practice.Pass, "mordent", func(m *practice.Material) { m.Names = []string{"A", "B", "C", "D", "E", "F", "G", "H", "I"} })
		p := &player{}
		p.late = func(w tap.Want) (float64, bool) {
			step, _ := s.Step()
			return late(step.Player, w)
		}
		p.play(t, s)
		return s.Outcome(0)
	}
	clean := group(func(string, tap.Want) (float64, bool) { return 0, true })
	assert.Equal(t, "8 players, one round each.", clean.Words.Figures, "eight at most")
	assert.Equal(t, practice.Piano, clean.Next.Kind)
	assert.Len(t, clean.Records, 8)

	none := group(func(string, tap.Want) (float64, bool) { return 0, false })
	assert.Contains(t, none.Words.Summary, "Too few taps")
	assert.Equal(t, practice.Pass, none.Next.Kind)

	most := group(func(name string, w tap.Want) (float64, bool) {
		switch {
		case name < "D" && w.Ornament != "":
			return -150, true // three early
		case name < "H" && w.Ornament != "":
			return 150, true // four late
		}
		return 0, true
	})
	assert.Contains(t, most.Words.Summary, "What we work on together")
	require.Len(t, most.Words.Notes, 1, "the other thing, once")
	other := group(func(name string, w tap.Want) (float64, bool) {
		if name < "D" && w.Ornament != "" {
			return -150, true
		}
		return 0, true
	})
	assert.NotEqual(t, most.Words.Summary, other.Words.Summary)
	assert.Contains(t, most.Words.Notes[0], strings.TrimPrefix(other.Words.Summary, "What we work on together: "))
}

// Two players are told of their own hand alone.
func TestTwoPlayersCounted(t *testing.T) {
	s := start(t, practice.Two, "mordent", unchanged)
	plan, err := s.Plan(rate)
	require.NoError(t, err)
	var n [2]int
	for _, w := range plan.Wants {
		n[w.Hand]++
	}
	(&player{late: func(w tap.Want) (float64, bool) { return 0, w.Hand == perf.Right }}).play(t, s)
	notes := s.Outcome(0).Words.Notes
	assert.Contains(t, notes[perf.Right], "("+strconv.Itoa(n[perf.Right])+" of "+strconv.Itoa(n[perf.Right])+" notes)")
	assert.Contains(t, notes[perf.Left], "(0 of "+strconv.Itoa(n[perf.Left])+" notes)")
}

// The tempo of a record is in felt beats a minute, of the goal's.
func TestTempoOfARecord(t *testing.T) {
	for percent, want := range map[float64]float64{0: 80, 100: 80, 50: 40} {
		s := start(t, practice.Tap, "mordent", func(m *practice.Material) { m.Settings.Percent = percent })
		(&player{late: exact}).play(t, s)
		r := s.Outcome(0).Records[0]
		assert.InDelta(t, want, r.Tempo, 1e-9)
		assert.Equal(t, 80.0, r.Goal)
	}
}

// A loop takes another tempo while it sounds; other steps keep theirs.
func TestAdjust(t *testing.T) {
	for kind, want := range map[string]float64{practice.Piano: 50, practice.Tap: 100} {
		s := start(t, kind, "mordent", func(m *practice.Material) { m.Settings.Percent = 100 })
		m := practice.On(open(t, "mordent"))
		m.Settings.Percent = 50
		s.Adjust(m)
		step, _ := s.Step()
		assert.Equal(t, want, step.Settings.Percent, kind)
	}
}

// A climb starts at the tempo that is set, or at a comfortable one where that
// is the goal already, and says where it stands.
func TestWhereAClimbStarts(t *testing.T) {
	for percent, want := range map[float64]float64{0: 0.6, 100: 0.6, 120: 0.6, 99: 0.99, 45: 0.45} {
		s := start(t, practice.Climb, "mordent", func(m *practice.Material) { m.Settings.Percent = percent })
		c, ok := s.Climb()
		assert.True(t, ok)
		assert.InDelta(t, want*80, c.Tempo, 1e-9)
		step, _ := s.Step()
		assert.InDelta(t, 100*want, step.Settings.Percent, 1e-9)
		assert.True(t, step.Settings.Beat)
		assert.Contains(t, step.Line, strconv.Itoa(int(want*80+0.5))+" of 80")
	}
	_, ok := start(t, practice.Tap, "mordent", unchanged).Climb()
	assert.False(t, ok)
}

// What a climb says on its way, and at its end.
func TestWhatAClimbSays(t *testing.T) {
	s := start(t, practice.Climb, "mordent", func(m *practice.Material) { m.Settings.Percent = 95 })
	late := 0.0
	p := &player{late: func(w tap.Want) (float64, bool) {
		if w.Ornament != "" {
			return late, true
		}
		return 0, true
	}}
	next := func() string {
		step, ok := s.Step()
		require.True(t, ok)
		p.sound(t, s, step)
		if step, ok = s.Step(); !ok {
			return ""
		}
		return step.Line
	}
	assert.Empty(t, s.Outcome(0).Words.Summary, "nothing was tapped yet")
	late = 150
	assert.Contains(t, next(), "Not even yet: some steps down.")
	late = 0
	for range 20 {
		line := next()
		if line == "" {
			break
		}
		if c, _ := s.Climb(); c.Tempo < c.Goal {
			assert.Contains(t, line, "Clean: a step up.")
		}
	}
	c, _ := s.Climb()
	assert.Equal(t, tap.Arrived, c.State)
	o := s.Outcome(0)
	assert.Equal(t, "Arrived: two clean rounds at 80, after "+strconv.Itoa(c.Round)+".", o.Words.Summary)
	assert.Equal(t, practice.Piano, o.Next.Kind)
	assert.Len(t, o.Records, c.Round)

	s = start(t, practice.Climb, "mordent", func(m *practice.Material) { m.Settings.Percent = 50 })
	next()
	s.Stop(nil, 1)
	o = s.Outcome(0)
	assert.Contains(t, o.Words.Summary, "1 round, from 40 to ")
	assert.Equal(t, practice.Climb, o.Next.Kind)
	assert.Equal(t, "Go on climbing", o.Next.Label)
}

// Three rounds that are not even call for a rest, after which it goes on or
// stops for the day.
func TestARestWhileClimbing(t *testing.T) {
	for answer, over := range []bool{false, true} {
		s := start(t, practice.Climb, "mordent", unchanged)
		p := &player{late: func(w tap.Want) (float64, bool) {
			if w.Ornament != "" {
				return 150, true
			}
			return 0, true
		}}
		for range 3 {
			step, _ := s.Step()
			require.Equal(t, practice.Strike, step.Act)
			p.sound(t, s, step)
		}
		step, _ := s.Step()
		require.Equal(t, practice.Ask, step.Act)
		assert.Contains(t, step.Line, "Three rounds in a row were not even yet.")
		s.Answer(answer)
		assert.Equal(t, over, s.Over())
		if !over {
			step, _ = s.Step()
			assert.Contains(t, step.Line, "Rested.")
		}
		assert.NotContains(t, s.Outcome(0).Next.Label, "climbing", "after a pause nothing is urged")
	}
}
