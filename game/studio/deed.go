package studio

import "agremens/game/round"

// Deed is what a button of the student's page does.
type Deed int8

// Deeds.
const (
	NoDeed Deed = iota
	Go          // what the day's step asks for, or the way on
	Again       // the round that the last result led to
)

// Deeds returns what comes next, and what stands beside it: after a round that
// was not enough of its step the round that it led to comes first, else the
// way on.
func (t *Today) Deeds() (next, beside Deed) {
	if t.studio.Rounds.State != round.Result || t.studio.Rounds.Next.Kind == "" || t.Over() {
		return Go, NoDeed
	}
	switch {
	case t.Enough():
		return Go, Again
	case t.Tried:
		return Again, Go
	}
	return Again, NoDeed
}

// Label is what a deed's button says, "" for none.
func (t *Today) Label(d Deed) string {
	switch d {
	case Again:
		return t.studio.Rounds.Next.Label
	case Go:
		if t.On && !t.Over() {
			return t.Button(t.studio.Words)
		}
		return t.studio.Words.Say("To the end of today")
	}
	return ""
}

// Do does a deed.
func (t *Today) Do(d Deed) {
	switch d {
	case Again:
		t.studio.Rounds.TakeNext()
	case Go:
		if !t.On || t.Over() {
			t.studio.page.LastPage()
			return
		}
		t.Go()
	}
}
