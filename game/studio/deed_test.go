package studio

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/conduct"
	"agremens/game/day"
	"agremens/game/practice"
	"agremens/game/round"
)

// One button is always what comes next: the step, the round that a result led
// to, or the way on once the step has had enough.
func TestWhatComesNext(t *testing.T) {
	echo := day.Along([]string{practice.Echo, practice.Piano}).Next()
	tapped := day.Done{Kind: practice.Echo, Tapped: true, Seconds: 20}
	clean := tapped
	clean.Clean = true
	again := practice.Next{Kind: practice.Echo, Times: 1, Label: "Once more"}
	for name, tt := range map[string]struct {
		day          day.Day
		state        round.State
		next         practice.Next
		first, other Deed
		label        string
	}{
		"before the step":                 {echo, round.Ready, practice.Next{}, Go, NoDeed, "Hear, then echo"},
		"after a round":                   {echo.After(tapped), round.Result, again, Again, Go, "Once more"},
		"after two clean rounds":          {echo.After(clean).After(clean), round.Result, again, Go, Again, "Next: at the piano"},
		"after a round of something else": {echo, round.Result, again, Again, NoDeed, "Once more"},
		"after what leads nowhere":        {echo.After(tapped), round.Result, practice.Next{}, Go, NoDeed, "Next: at the piano"},
		"at the end":                      {echo.Finish(), round.Ready, practice.Next{}, Go, NoDeed, "To the end of today"},
		"where no day began":              {day.Day{}, round.Ready, practice.Next{}, Go, NoDeed, "To the end of today"},
	} {
		t.Run(name, func(t *testing.T) {
			today := Today{Day: tt.day, studio: &Studio{Rounds: &conduct.Conductor{State: tt.state, Next: tt.next}}}
			first, other := today.Deeds()
			assert.Equal(t, tt.first, first)
			assert.Equal(t, tt.other, other)
			assert.Equal(t, tt.label, today.Label(first))
		})
	}
}
