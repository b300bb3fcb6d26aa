package practice_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// Every kind on every passage comes to its end and says something.
func TestEveryKindComesToItsEnd(t *testing.T) {
	for _, passage := range []string{"mordent", "trill", "turn", "appoggiatura"} {
		for _, kind := range practice.Kinds() {
			t.Run(passage+"/"+kind.Key, func(t *testing.T) {
				m := practice.On(open(t, passage))
				m.Names, m.Seed = []string{"Ana", "B."}, 7
				s, err := practice.Start(kind.Key, m)
				if kind.Key == practice.Trill && passage != "trill" {
					var missing practice.Missing
					require.ErrorAs(t, err, &missing)
					return
				}
				require.NoError(t, err)
				p := &player{late: exact, answer: right, loops: 90}
				p.play(t, s)
				o := s.Outcome(0)
				assert.NotEmpty(t, o.Words.Summary)
				for _, text := range append(p.lines, o.Words.Summary, o.Words.Next) {
					for _, word := range []string{"wrong", "fail", "bad ", "perfect", "great", "{", "%!"} {
						assert.NotContains(t, strings.ToLower(text), word)
					}
				}
				if kind.Taps() {
					assert.NotEmpty(t, o.Records)
				}
				for _, c := range o.Records {
					assert.Equal(t, kind.Taps(), c.Judged)
					assert.Equal(t, kind.Key, c.Kind)
					assert.Equal(t, passage, c.Passage)
					assert.Positive(t, c.Goal)
				}
				t.Log(strings.Join(p.lines, " | "))
				t.Logf("%s — %s [%s]", o.Words.Summary, o.Words.Next, o.Next.Label)
			})
		}
	}
}

// An exact tapper's ornaments are clean in every kind that judges.
func TestAnExactTapperIsClean(t *testing.T) {
	for _, kind := range []string{practice.Tap, practice.Echo, practice.One, practice.Both, practice.Inside, practice.Plain,
		practice.Grow, practice.Land, practice.Alone, practice.Trill, practice.Two} {
		s, err := practice.Start(kind, practice.On(open(t, "trill")))
		require.NoError(t, err)
		(&player{late: exact}).play(t, s)
		o := s.Outcome(0)
		require.Len(t, o.Records, 1, kind)
		c := o.Records[0]
		assert.True(t, c.Clean, kind)
		assert.Zero(t, c.Missed+c.Extra, kind)
		assert.Contains(t, c.Findings, tap.CodeClean, kind)
		assert.Equal(t, 1, o.Row, kind)
	}
}

func TestPurposesAreOneSentence(t *testing.T) {
	keys := map[string]bool{}
	for _, k := range practice.Kinds() {
		assert.False(t, keys[k.Key], k.Key)
		keys[k.Key] = true
		assert.Equal(t, 1, strings.Count(k.Purpose, "."), k.Purpose)
		assert.True(t, strings.HasSuffix(k.Purpose, "."), k.Purpose)
		assert.LessOrEqual(t, len(k.Name), 32)
	}
	assert.Equal(t, practice.Tap, practice.Kinds()[0].Key, "the default comes first")
}

func steps(t *testing.T, kind, passage string) (*player, *practice.Session) {
	t.Helper()
	s, err := practice.Start(kind, practice.On(open(t, passage)))
	require.NoError(t, err)
	p := &player{late: exact, answer: right, loops: 70}
	p.play(t, s)
	return p, s
}

func ofOrnaments(p *round.Plan) int {
	n := 0
	for _, w := range p.Wants {
		if w.Ornament != "" {
			n++
		}
	}
	return n
}

func TestGrowAddsNotesToTheSameStart(t *testing.T) {
	p, _ := steps(t, practice.Grow, "mordent")
	require.Len(t, p.plans, 3, "one, two, all three notes of a mordent")
	last := -1
	for _, plan := range p.plans {
		assert.Greater(t, ofOrnaments(plan), last)
		last = ofOrnaments(plan)
	}
	first := func(plan *round.Plan) int64 {
		for i, w := range plan.Wants {
			if w.Ornament != "" {
				return plan.Frames[i]
			}
		}
		return -1
	}
	assert.Equal(t, first(p.plans[2]), first(p.plans[0]), "the first note stays in its place")
}

func TestLandKeepsTheEndAndTheNextBeat(t *testing.T) {
	p, _ := steps(t, practice.Land, "mordent")
	require.Len(t, p.plans, 2, "the last two, then all three notes of a mordent")
	for i, w := range p.plans[0].Wants {
		if w.Ornament != "" && w.Index == 2 {
			require.Less(t, i+1, len(p.plans[0].Wants))
			assert.True(t, p.plans[0].Wants[i+1].Landing || p.plans[0].Wants[i+1].Ornament != "")
		}
		assert.False(t, w.Ornament != "" && w.Index == 0 && !w.Landing, "the first note is left out")
	}
}

func TestAStepThatWasNotCleanComesOnceMore(t *testing.T) {
	s, err := practice.Start(practice.Grow, practice.On(open(t, "mordent")))
	require.NoError(t, err)
	p := &player{late: func(w tap.Want) (float64, bool) {
		if w.Ornament != "" {
			return 120, true
		}
		return 0, true
	}}
	p.play(t, s)
	assert.Len(t, p.plans, 5, "one and two notes twice each, all once")
	assert.Equal(t, tap.CodeLateStart, s.Outcome(0).Records[0].Findings[0])
}

func TestInsideTheCountBeatsStandAroundTheOrnament(t *testing.T) {
	p, _ := steps(t, practice.Inside, "trill")
	plan := p.plans[0]
	assert.Empty(t, plan.Sequence.Notes, "nothing but the count sounds")
	beats, last := 0, int64(-1)
	for i, w := range plan.Wants {
		assert.Greater(t, plan.Frames[i], last, "in order")
		last = plan.Frames[i]
		if w.Ornament == "" {
			assert.True(t, w.Beat)
			beats++
		}
	}
	assert.GreaterOrEqual(t, beats, 6, "enough plain beats to know the player's lead")
	assert.Less(t, plan.Frames[0], plan.Lead, "the bar that is counted in is tapped too")
}

func TestEchoIsTappedToTheBeatAlone(t *testing.T) {
	p, s := steps(t, practice.Echo, "mordent")
	require.GreaterOrEqual(t, len(p.plans), 4)
	assert.NotEmpty(t, p.plans[0].Sequence.Notes)
	assert.Empty(t, p.plans[1].Sequence.Notes)
	assert.NotEmpty(t, p.plans[1].Wants)
	assert.Equal(t, len(p.plans)/2*2, len(p.plans))
	assert.False(t, s.Outcome(0).Records[0].Help.Line)
}

func TestPlainComesBeforeTheOrnament(t *testing.T) {
	p, _ := steps(t, practice.Plain, "turn")
	require.Len(t, p.plans, 2)
	assert.Zero(t, ofOrnaments(p.plans[0]))
	assert.Positive(t, ofOrnaments(p.plans[1]))
}

func TestWithoutHelpNothingHelps(t *testing.T) {
	d := open(t, "mordent")
	d.Beat = true
	s, err := practice.Start(practice.Alone, practice.On(d))
	require.NoError(t, err)
	(&player{late: exact}).play(t, s)
	assert.True(t, s.Outcome(0).Records[0].Help.Unaided())
}

func TestTheLongTrillIsMeasured(t *testing.T) {
	d := open(t, "trill")
	m := practice.On(d)
	s, err := practice.Start(practice.Trill, m)
	require.NoError(t, err)
	p := &player{late: exact}
	p.play(t, s)
	require.Len(t, p.plans, 3, "heard, tapped, tapped")
	plan := p.plans[1]
	var frames []int64
	for i, w := range plan.Wants {
		if w.Ornament != "" && w.Count > 6 {
			frames = append(frames, plan.Frames[i])
			assert.True(t, w.Measured)
		}
	}
	require.Greater(t, len(frames), 4)
	for i := 2; i+1 < len(frames); i++ {
		assert.InDelta(t, frames[1]-frames[0], frames[i]-frames[i-1], 2, "even")
	}
	// What the player can manage bounds the number of notes.
	m.Rate = 2
	slow, err := practice.Start(practice.Trill, m)
	require.NoError(t, err)
	step, _ := slow.Step()
	assert.Contains(t, step.Line, "2 notes to each note of the left hand")
	m.Rate = 16
	quick, err := practice.Start(practice.Trill, m)
	require.NoError(t, err)
	step, _ = quick.Step()
	assert.Contains(t, step.Line, "4 notes to each note of the left hand")
}

func TestAtThePianoNothingIsJudgedAndMinutesAreTold(t *testing.T) {
	_, s := steps(t, practice.Piano, "mordent")
	o := s.Outcome(0)
	assert.Contains(t, o.Words.Summary, "1 minute")
	require.Len(t, o.Records, 1)
	assert.False(t, o.Records[0].Judged)
	assert.InDelta(t, 70, o.Records[0].Seconds, 1)
}

func TestTwoCleanRoundsLeadToThePiano(t *testing.T) {
	_, s := steps(t, practice.Tap, "trill")
	o := s.Outcome(1)
	assert.Equal(t, practice.Piano, o.Next.Kind)
	assert.Equal(t, tap.English().Piano, o.Words.Next)
	assert.NotEqual(t, practice.Piano, s.Outcome(0).Next.Kind)
}

func TestTheEarIsAskedTheSameBySeed(t *testing.T) {
	m := practice.On(open(t, "trill"))
	order := func(seed uint64) []int {
		m.Seed = seed
		s, err := practice.Start(practice.Which, m)
		require.NoError(t, err)
		var rights []int
		(&player{late: exact, answer: func(s *practice.Step) int { rights = append(rights, s.Right); return s.Right }}).play(t, s)
		o := s.Outcome(0)
		assert.Equal(t, o.Records[0].Asked, o.Records[0].Right)
		return rights
	}
	assert.Equal(t, order(3), order(3))
	seen := map[int]bool{}
	for seed := range uint64(8) {
		for _, k := range order(seed) {
			seen[k] = true
		}
	}
	assert.Len(t, seen, 2, "A and B both come")
}

// Right and not right answers are counted as what they are.
func TestEarCounts(t *testing.T) {
	for _, kind := range []string{practice.Which, practice.Sign, practice.First} {
		s, err := practice.Start(kind, practice.On(open(t, "trill")))
		require.NoError(t, err)
		n := 0
		p := &player{late: exact, answer: func(s *practice.Step) int {
			require.Less(t, s.Right, len(s.Options))
			require.GreaterOrEqual(t, len(s.Options), 2)
			labels := map[string]bool{}
			for _, o := range s.Options {
				labels[o.Label] = true
			}
			assert.Len(t, labels, len(s.Options), "no answer stands there twice")
			assert.NotEmpty(t, s.Reveal)
			if n++; n == 1 {
				return (s.Right + 1) % len(s.Options)
			}
			return s.Right
		}}
		p.play(t, s)
		c := s.Outcome(0).Records[0]
		assert.Equal(t, n, c.Asked, kind)
		assert.Equal(t, n-1, c.Right, kind)
	}
}

func TestTheVoteIsExplainedAfterwards(t *testing.T) {
	p, s := steps(t, practice.Vote, "trill")
	for _, line := range p.lines {
		assert.NotContains(t, line, "trill", "nothing is told before the vote")
	}
	o := s.Outcome(0)
	assert.Equal(t, "A: 2, B: 1.", o.Words.Summary)
	require.Len(t, o.Words.Notes, 2)
	assert.Contains(t, o.Words.Notes[0], "A is ")
}

func TestNamesForTheRoundOfPlayers(t *testing.T) {
	assert.Equal(t, []string{"Ana", "B. C."}, practice.ParseNames(" Ana, B.  C. ,, Ana"))
	assert.Len(t, practice.ParseNames("a,b,c,d,e,f,g,h,i,j"), 8)
	_, err := practice.Start(practice.Pass, practice.On(open(t, "trill")))
	var missing practice.Missing
	assert.ErrorAs(t, err, &missing)
}

func TestWhatAGroupWorksOnTogether(t *testing.T) {
	m := practice.On(open(t, "trill"))
	m.Names = []string{"Ana", "Ben", "Cleo"}
	s, err := practice.Start(practice.Pass, m)
	require.NoError(t, err)
	p := &player{}
	p.late = func(w tap.Want) (float64, bool) {
		step, _ := s.Step()
		if w.Ornament != "" && step.Player != "Cleo" {
			return 120, true
		}
		return 0, true
	}
	p.play(t, s)
	o := s.Outcome(0)
	require.Len(t, o.Records, 3)
	assert.Equal(t, "Ana", o.Records[0].Player)
	assert.True(t, o.Records[2].Clean, "results are kept apart")
	assert.False(t, o.Records[0].Clean)
	assert.Contains(t, o.Words.Summary, "What we work on together")
	for _, name := range m.Names {
		assert.NotContains(t, o.Words.Summary+strings.Join(o.Words.Notes, ""), name, "nobody is named")
	}
	assert.Equal(t, practice.Grow, o.Next.Kind)
}

func TestTwoPlayersAreToldApart(t *testing.T) {
	s, err := practice.Start(practice.Two, practice.On(open(t, "mordent")))
	require.NoError(t, err)
	(&player{late: func(w tap.Want) (float64, bool) { return 0, w.Hand == perf.Right || w.Beat && w.Strong }}).play(t, s)
	notes := strings.Join(s.Outcome(0).Words.Notes, "\n")
	assert.Contains(t, notes, "Right hand: ")
	assert.Contains(t, notes, "Left hand: ")
}

func TestStoppingInTheMiddleKeepsWhatWasDone(t *testing.T) {
	s, err := practice.Start(practice.Which, practice.On(open(t, "trill")))
	require.NoError(t, err)
	s.Stop(nil, 3)
	assert.True(t, s.Over())
	assert.Empty(t, s.Outcome(0).Records)
	s.Answer(0)
	s.Ready()
	assert.True(t, s.Over())
}

func TestEveryStepLeadsToAKind(t *testing.T) {
	for _, code := range tap.Codes() {
		next, ok := practice.StepFor(code)
		assert.True(t, ok, code)
		if next.Kind != "" {
			_, ok = practice.Find(next.Kind)
			assert.True(t, ok, code)
		}
	}
}

// A player who taps everything 40 ms early is told of no fault in any kind:
// the steps together hold enough plain notes to know the lead.
func TestALeadIsNoFaultInAnyKind(t *testing.T) {
	for _, kind := range []string{practice.Tap, practice.Echo, practice.One, practice.Both, practice.Inside, practice.Plain,
		practice.Grow, practice.Land, practice.Alone, practice.Two} {
		s, err := practice.Start(kind, practice.On(open(t, "mordent")))
		require.NoError(t, err)
		(&player{late: human(11, -40, 10)}).play(t, s)
		o := s.Outcome(0)
		require.NotNil(t, o.Result)
		for _, f := range o.Result.Findings {
			assert.False(t, f.Fault, "%s: %s", kind, f.Teacher)
		}
		assert.True(t, o.Result.Certain, kind)
		assert.InDelta(t, -40, o.Result.MeanMS, 8, kind)
	}
}
