package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/cmd/agremens/po"
	"agremens/game/desk"
	"agremens/game/practice"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/tap"
)

// Every kind on every passage, by a desk that speaks German: no line of it, no
// answer and no outcome is left in English.
func TestEveryKindInGerman(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	seen := 0
	said := func(texts ...string) {
		for _, text := range texts {
			seen++
			assert.Empty(t, po.English(text), text)
			assert.NotContains(t, text, "{")
		}
	}
	for _, passage := range []string{"mordent", "trill"} {
		for _, kind := range practice.Kinds() {
			for _, late := range []float64{0, 120} {
				if late > 0 && kind.Key == practice.Climb {
					continue // it would never arrive
				}
				d := desk.New(passage, open(t, passage).Passage, realize.Taste{Words: german, Naming: music.GermanNames})
				m := practice.On(d)
				m.Names, m.Seed = []string{"Ana", "B."}, 7
				s, err := practice.Start(kind.Key, m)
				if err != nil {
					said(err.Error())
					continue
				}
				p := &player{answer: right, loops: 90, late: func(w tap.Want) (float64, bool) {
					if w.Ornament == "" {
						return 0, true
					}
					return late, true
				}}
				p.play(t, s)
				o := s.Outcome(0)
				said(p.lines...)
				said(o.Words.First()...)
				said(o.Words.Rest()...)
				k := kind.In(german)
				said(o.Next.Label, k.Name, k.Purpose, k.Group)
			}
		}
	}
	require.Greater(t, seen, 500)
}
