package practice_test

import (
	"math/rand"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/tap"
	"agremens/synth/clock"
)

const rate = 48000

// steadyClock hears frame 0 at 0 ms.
type steadyClock struct{}

func (steadyClock) HeardAt(frame float64) (float64, bool) { return frame * 1000 / rate, true }
func (steadyClock) FrameAt(ms float64) (float64, bool)    { return ms * rate / 1000, true }
func (steadyClock) Gaps() int                             { return 0 }
func (steadyClock) Jumps() int                            { return 0 }
func (steadyClock) Doubtful() []clock.Span                { return nil }

// open lays a built-in passage on a desk.
func open(t testing.TB, id string) *desk.Desk {
	t.Helper()
	for _, e := range assets.Passages() {
		if e.ID == id {
			p, _, err := abc.Decode(e.ABC)
			require.NoError(t, err)
			return desk.New(id, p, realize.Taste{})
		}
	}
	t.Fatalf("no passage %s", id)
	return nil
}

// player does what a session asks for.
type player struct {
	now float64
	// late says how late a want is tapped, ms; ok false leaves it out.
	late func(w tap.Want) (ms float64, ok bool)
	// answer picks an option.
	answer func(s *practice.Step) int
	// loops is how many seconds a loop goes on.
	loops    float64
	compared bool // one way was heard once more
	lines    []string
	plans    []*round.Plan
	// clock hears the sound; nil is a steady one.
	clock round.Clock
}

func exact(tap.Want) (float64, bool) { return 0, true }

func right(s *practice.Step) int { return max(0, s.Right) }

// play plays a session to its end. It fails when that does not come.
func (p *player) play(t testing.TB, s *practice.Session) {
	t.Helper()
	for n := 0; !s.Over(); n++ {
		require.Less(t, n, 200, "the session comes to no end")
		step, _ := s.Step()
		p.lines = append(p.lines, step.Line)
		require.NotEmpty(t, step.Line)
		switch step.Act {
		case practice.Ask:
			s.Answer(p.answer(step))
		case practice.Count:
			s.Answer(0)
			s.Answer(0)
			s.Answer(1)
			s.Ready()
		case practice.Compare:
			if p.compared = !p.compared; p.compared {
				s.Answer(len(step.Options) - 1)
			} else {
				s.Ready()
			}
		case practice.Wait:
			s.Ready()
		default:
			p.sound(t, s, step)
		}
	}
}

// sound plays one sounding step.
func (p *player) sound(t testing.TB, s *practice.Session, step *practice.Step) {
	t.Helper()
	plan, err := s.Plan(rate)
	require.NoError(t, err, step.Line)
	p.plans = append(p.plans, plan)
	c := p.clock
	if c == nil {
		c = steadyClock{}
	}
	from := p.now
	frame := int64(p.now * rate / 1000)
	r := round.Start(plan, frame, c, s.Lead())
	r.Tick(p.now, c)
	for i := range plan.Wants {
		if ms, ok := p.late(plan.Wants[i]); ok {
			r.Press(tap.Tap{At: p.now + plan.Wants[i].At + ms, Hand: plan.Wants[i].Hand}, "")
		}
	}
	for ; r.State() != round.Result; p.now += 20 {
		r.Tick(p.now, c)
		if step.Act == practice.Loop && p.now-from > p.loops*1000 {
			r.Stop(p.now, c)
			s.Stop(r, (p.now-from)/1000)
			return
		}
		require.Less(t, p.now-from, 200e3, "the round comes to no end")
	}
	s.Finished(r, (p.now-from)/1000)
}

// human scatters taps like a person: lead and spread in ms.
func human(seed int64, lead, spread float64) func(tap.Want) (float64, bool) {
	r := rand.New(rand.NewSource(seed))
	return func(w tap.Want) (float64, bool) {
		s := spread
		if w.Ornament != "" && w.Index > 0 {
			s /= 3 // quick notes hang together
		}
		return lead + s*r.NormFloat64(), true
	}
}
