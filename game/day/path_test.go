package day_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/cmd/agremens/po"
	"agremens/game/day"
	"agremens/game/practice"
)

func names(d day.Day) (out []string) {
	for _, s := range d.Stones(nil) {
		out = append(out, s.Name+" "+string(s.Mark))
	}
	return out
}

// A teacher's path is listening and her kinds in her order; what is no kind is
// left out, and so is a kind asked for twice.
func TestATeachersPath(t *testing.T) {
	d := day.Along([]string{practice.Echo, "nonsense", practice.Piano, practice.Echo, practice.Climb})
	assert.Equal(t, []string{"Listen now", "Echo later", "At the piano later", "Climb later"}, names(d))
	assert.Equal(t, "Listen", d.Button(nil))
	d = d.After(day.Done{Seconds: 20})
	assert.Equal(t, "Next: echo", d.Button(nil))
	d = d.Next()
	assert.Equal(t, "Hear, then echo", d.Button(nil))
	assert.Equal(t, []string{"Listen done", "Echo now", "At the piano later", "Climb later"}, names(d))
	d = d.Next().Next().After(day.Done{Kind: practice.Climb, Tapped: true, Seconds: 300})
	assert.True(t, d.Enough())
	assert.Equal(t, "To the end of today", d.Button(nil))
	assert.True(t, d.Next().Over())
	assert.Equal(t, []string{"Listen done", "Echo done", "At the piano done", "Climb done"}, names(d.Finish()))
	assert.Equal(t, day.Start(), day.Along(nil), "the ten minutes where she gave none")
	assert.Nil(t, day.Day{}.Stones(nil))
}

// Who goes ahead on her path is not called back; who does something else, or
// something from before, only spends time.
func TestGoingAhead(t *testing.T) {
	d := day.Along([]string{practice.Echo, practice.Alone})
	ahead := d.After(day.Done{Kind: practice.Alone, Tapped: true, Unaided: true, Seconds: 9})
	assert.Equal(t, []string{"Listen done", "Echo done", "Without help now"}, names(ahead))
	assert.Equal(t, 1, ahead.Rounds)
	assert.True(t, ahead.Enough())
	back := ahead.After(day.Done{Kind: practice.Echo, Tapped: true, Seconds: 9})
	assert.Equal(t, 18, back.All)
	assert.Equal(t, 1, back.Rounds)
	other := d.After(day.Done{Kind: practice.Grow, Tapped: true, Seconds: 9})
	assert.Zero(t, other.Step)
	assert.False(t, other.Tried)
	assert.Equal(t, 0, day.Start().After(day.Done{Tapped: true, Plain: true}).Step, "the ten minutes are taken in order")
}

func TestEnough(t *testing.T) {
	echo := day.Along([]string{practice.Echo, practice.Sign}).Next()
	round := day.Done{Kind: practice.Echo, Tapped: true, Seconds: 20}
	clean := round
	clean.Clean = true
	assert.False(t, echo.Enough(), "not tried")
	assert.False(t, echo.After(round).Enough())
	assert.False(t, echo.After(clean).Enough())
	assert.True(t, echo.After(clean).After(round).After(clean).Enough())
	long := round
	long.Seconds = 120
	assert.True(t, echo.After(long).Enough())
	assert.True(t, echo.Next().After(day.Done{Kind: practice.Sign, Seconds: 9}).Enough(), "questions are asked once")
}

// Every kind has its short name, in both languages.
func TestEveryKindIsAStep(t *testing.T) {
	german, err := po.Catalogue("de")
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range practice.Kinds() {
		d := day.Along([]string{k.Key})
		step := d.Next().Current()
		assert.NotEmpty(t, step.Name, k.Key)
		assert.LessOrEqual(t, len([]rune(german.Say(step.Name))), 18, "a step has little room: %s", german.Say(step.Name))
		assert.NotEmpty(t, step.Deed)
		assert.NotEmpty(t, step.Ask)
		assert.Equal(t, d, day.Decode(d.Encode(5), 5))
	}
}

// Each task of a date has a line of its own, the desk's is without a name.
func TestSeveralTasksOfADate(t *testing.T) {
	a, b := day.Along([]string{practice.Echo}).Next(), day.Along([]string{practice.Sign})
	text := day.Keep("", day.Start().Next(), 7, "")
	text = day.Keep(text, a, 7, "task-a")
	text = day.Keep(text, b, 7, "task-b")
	text = day.Keep(text, a.Next(), 7, "task-a")
	assert.Equal(t, a.Next(), day.Kept(text, 7, "task-a"))
	assert.Equal(t, b, day.Kept(text, 7, "task-b"))
	assert.Equal(t, day.Start().Next(), day.Kept(text, 7, ""))
	assert.Equal(t, day.Day{}, day.Kept(text, 8, "task-a"), "another date")
	assert.Equal(t, day.Day{}, day.Kept(text, 7, "task-c"))
	text = day.Keep(text, day.Day{}, 7, "task-b")
	assert.Equal(t, day.Day{}, day.Kept(text, 7, "task-b"))
	assert.Equal(t, "task-z\tday1 8 0 0 0 0 0 0", day.Keep(text, day.Start(), 8, "task-z"), "yesterday's are left out")
}
