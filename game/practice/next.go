package practice

import (
	"agremens/realize/tap"
)

// Next is the round that a result leads to.
type Next struct {
	Kind string
	// Times is what the tempo is multiplied by; 0 goes back to what it was
	// before a slower step.
	Times float64
	Label string // for a button
}

const (
	aStepSlower = 0.9
	half        = 0.5
	asBefore    = 0
	// cleanForPiano is how many clean rounds in a row lead to the piano.
	cleanForPiano = 2
)

//words:texts
const (
	onceMore       = "Once more"
	onceMoreSlower = "Once more, a step slower"
	tryAgain       = "Try again"
)

// steps says which round takes the step that each finding's words ask for.
//
//words:texts
var steps = map[string]Next{
	tap.CodeBroken:       {"", 1, tryAgain},
	tap.CodeUntapped:     {"", 1, tryAgain},
	tap.CodeHardly:       {"", aStepSlower, "Try again, a step slower"},
	tap.CodeTooFew:       {"", 1, onceMore},
	tap.CodeFewPlain:     {"", 1, onceMore},
	tap.CodeReacting:     {"", 1, "Once more, with a bar counted aloud"},
	tap.CodeBeforeBeat:   {Grow, 1, ""},
	tap.CodeLateStart:    {Grow, 1, ""},
	tap.CodeEarlyStart:   {Grow, 1, ""},
	tap.CodeHandWaits:    {Grow, 1, ""},
	tap.CodeHandsApart:   {Plain, 1, ""},
	tap.CodeNoEnding:     {Land, 1, ""},
	tap.CodeShort:        {Inside, half, ""},
	tap.CodeFewerNotes:   {Grow, 1, ""},
	tap.CodeMoreNotes:    {Echo, aStepSlower, ""},
	tap.CodeTurnEarly:    {Inside, 1, ""},
	tap.CodeTurnTwoQuick: {Inside, half, ""},
	tap.CodeLimps:        {Inside, half, ""},
	tap.CodeLimpsLower:   {Inside, half, ""},
	tap.CodeCrowdedFront: {Inside, half, ""},
	tap.CodeCrowdedBack:  {Inside, half, ""},
	tap.CodeRushed:       {Inside, 1, ""},
	tap.CodeDragged:      {Land, aStepSlower, ""},
	tap.CodeLeanShort:    {Inside, 1, ""},
	tap.CodeLeanLong:     {Inside, 1, ""},
	tap.CodeLetsGo:       {"", 1, "Once more, holding the appoggiatura"},
	tap.CodeLateAfter:    {Land, 1, "Land first, and go straight on"},
	tap.CodeBump:         {Land, 1, ""},
	tap.CodeLandsLate:    {Land, 1, ""},
	tap.CodeLandsEarly:   {Land, 1, ""},
	tap.CodeRushesAfter:  {Plain, 1, ""},
	tap.CodeSlowsAfter:   {Plain, 1, ""},
	tap.CodeDrift:        {Plain, 1, ""},
	tap.CodeWrongHand:    {One, 1, ""},
	tap.CodeSwapped:      {Echo, aStepSlower, ""},
	tap.CodeOtherKeys:    {Echo, aStepSlower, ""},
	tap.CodeMissed:       {"", aStepSlower, onceMoreSlower},
	tap.CodeExtra:        {Echo, 1, ""},
	tap.CodeUneven:       {Inside, half, ""},
	tap.CodeUnsteady:     {Plain, 1, ""},
	tap.CodeClean:        {"", 1, onceMore},
	tap.CodeNearly:       {"", 1, onceMore},
	tap.CodeCount:        {"", 1, onceMore},
	tap.CodeTied:         {"", 1, onceMore},
	tap.CodeLead:         {"", 1, onceMore},
	tap.CodeTired:        {"", 1, "Once more, after a rest"},
}

// follow returns the round that takes a result's next step. row is how many
// rounds in a row were clean, this one included.
//
//words:texts
func (s *Session) follow(r *tap.Result, row int) Next {
	if r.Spoilt != "" {
		return s.to(steps[r.Spoilt])
	}
	if row >= cleanForPiano {
		return s.to(Next{Piano, 1, ""})
	}
	if len(r.Findings) == 0 {
		return s.to(Next{"", 1, onceMore})
	}
	n := steps[r.Findings[0].Code]
	// Who has just taken that step takes it once more, slower.
	if n.Kind == s.Kind.Key {
		n = Next{"", aStepSlower, onceMoreSlower}
	}
	if r.Findings[0].Code == tap.CodeClean && s.Kind.Key != Tap && s.Kind.Key != Climb {
		n = Next{Tap, asBefore, "Now the whole passage"}
	}
	return s.to(n)
}

// to fills in what a step leaves open, and says it in the session's language.
func (s *Session) to(n Next) Next {
	if n.Kind == "" {
		n.Kind = s.Kind.Key
	}
	if n.Label == "" {
		kind := s.say(mustFind(n.Kind).Name)
		switch n.Times {
		case half:
			n.Label = s.say("{kind}, half the speed", "{kind}", kind)
		case aStepSlower:
			n.Label = s.say("{kind}, a step slower", "{kind}", kind)
		default:
			n.Label = kind
		}
		return n
	}
	n.Label = s.say(n.Label)
	return n
}

func mustFind(key string) Kind {
	k, _ := Find(key)
	return k
}

// StepFor returns the step that a finding leads to; Kind "" is the same round
// once more.
func StepFor(code string) (n Next, ok bool) {
	n, ok = steps[code]
	return n, ok
}
