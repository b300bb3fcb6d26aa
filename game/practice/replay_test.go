package practice_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/practice"
	"agremens/game/round"
)

// Whatever happens in whatever order, a session takes it, ends when stopped,
// and tells the same when the same happens again.
func TestSessionsCanBeReplayed(t *testing.T) {
	passages := []string{"mordent", "trill", "turn", "appoggiatura"}
	kinds := practice.Kinds()
	rapid.Check(t, func(r *rapid.T) {
		passage := rapid.SampledFrom(passages).Draw(r, "passage")
		kind := rapid.SampledFrom(kinds).Draw(r, "kind").Key
		d := open(t, passage)
		from := rapid.IntRange(0, 6).Draw(r, "from")
		d.From, d.To = from, rapid.IntRange(from+1, 8).Draw(r, "to")
		d.Tap = rapid.SampledFrom([]round.Hands{round.RightHand, round.LeftHand, round.BothHands}).Draw(r, "hand")
		m := practice.On(d)
		m.Names, m.Seed = []string{"A"}, rapid.Uint64().Draw(r, "seed")
		events := rapid.SliceOfN(rapid.IntRange(0, 5), 0, 12).Draw(r, "events")
		one, two := replay(r, m, kind, events), replay(r, m, kind, events)
		require.Equal(r, one, two)
	})
}

func replay(r *rapid.T, m practice.Material, kind string, events []int) []string {
	s, err := practice.Start(kind, m)
	if err != nil {
		return []string{err.Error()}
	}
	var told []string
	for _, e := range events {
		switch e {
		case 0, 1, 2:
			s.Answer(e)
		case 3:
			s.Ready()
		case 4:
			s.Finished(nil, 1)
		case 5:
			if _, err := s.Plan(rate); err != nil {
				told = append(told, err.Error())
			}
		}
		if step, ok := s.Step(); ok {
			told = append(told, step.Line)
		}
	}
	s.Stop(nil, 1)
	require.True(r, s.Over())
	return append(told, s.Outcome(0).Words.Summary)
}
