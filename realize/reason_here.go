package realize

import (
	"slices"
	"strings"

	"agremens/realize/score"
)

// shortReason is how long a reason grows by what is here, so that it and
// its first source stay within [ReasonWords].
const shortReason = ReasonWords - 14

// here says what at this place decides for a choice: the dissonance of a
// small note and where it goes, the value and its length at the goal tempo,
// what comes before and after, whichever the rule asks for.
func (pl *place) here(c *candidate, sh *shape) string {
	if sh.time == plain {
		return ""
	}
	if sh.time == lean && sh.lean != byCrush && pl.has(graceForeign) && pl.bass != nil && len(pl.prefixTones) > 0 {
		small := pl.prefixTones[len(pl.prefixTones)-1].pitch
		return pl.say("{note} over {bass} is a {interval}; it resolves to {goal}.", "{note}", pl.spoken(small), "{bass}", pl.spoken(*pl.bass),
			"{interval}", pl.in("interval", intervalName(*pl.bass, small)), "{goal}", pl.spoken(pl.pitch))
	}
	var parts []string
	before := asks(c.when, prevSame, prevUpper, prevLower, prevLeap, prevRest, prevSlurred, prevDetached, prevRising, prevTrilled, graceRepeats, graceFills)
	after := asks(c.when, nextSame, nextUp, nextDown, nextLeap, nextRest, nextSlurred, nextTrilled, anticipated, suffixNear, nextQuick, nextHalf, cadence, nextFalls3)
	if !before && !after || asks(c.when, dotted, fillsBar, tiny, short, brief, long, aSecond, veryLong, slow, quick, underQuarter, fullQuarter, moreThanQuarter) {
		parts = append(parts, pl.valueInWords())
	}
	if before {
		parts = append(parts, pl.approach())
	}
	if after || len(parts) == 1 && !before {
		parts = append(parts, pl.departure())
	}
	return pl.say("Here: {facts}.", "{facts}", strings.Join(parts, ", "))
}

func asks(when []fact, facts ...fact) bool {
	return slices.ContainsFunc(when, func(f fact) bool { return slices.Contains(facts, f) })
}

//words:texts
var valueNames = map[score.ValueType]string{
	score.Breve: "double whole", score.Whole: "whole", score.Half: "half", score.Quarter: "quarter", score.Eighth: "eighth",
	score.N16th: "sixteenth", score.N32nd: "thirty-second", score.N64th: "sixty-fourth",
}

// valueInWords says the principal's value and how long it lasts at the goal
// tempo: "a dotted quarter of 1.3 s".
func (pl *place) valueInWords() string {
	value, known := valueNames[pl.chord.Value.Type]
	name := pl.say(value)
	switch {
	case !known:
		name = pl.say("note")
	case pl.chord.Value.Actual == 3:
		name = pl.say("triplet {value}", "{value}", name)
	case pl.chord.Value.Dots == 1:
		name = pl.say("dotted {value}", "{value}", name)
	case pl.chord.Value.Dots > 1:
		name = pl.say("double-dotted {value}", "{value}", name)
	}
	seconds := pl.r.taste.Words.Number(pl.seconds(pl.room), 1)
	switch {
	case pl.has(tied):
		return pl.say("a tied {value} note ({s} s)", "{value}", name, "{s}", seconds)
	case strings.HasPrefix(name, "e"): // an eighth
		return pl.say("an {value} note ({s} s)", "{value}", name, "{s}", seconds)
	}
	return pl.say("a {value} note ({s} s)", "{value}", name, "{s}", seconds)
}

func (pl *place) approach() string {
	switch {
	case pl.before == nil:
		return pl.say("as the first note of its voice")
	case pl.prev == nil:
		return pl.say("after a rest")
	case pl.has(prevSlurred):
		return pl.say("slurred from {note}", "{note}", pl.spoken(*pl.prev))
	case pl.has(prevDetached):
		return pl.say("after a detached {note}", "{note}", pl.spoken(*pl.prev))
	}
	return pl.say("after {note}", "{note}", pl.spoken(*pl.prev))
}

func (pl *place) departure() string {
	switch {
	case pl.after == nil:
		return pl.say("as the last note of its voice")
	case pl.next == nil:
		return pl.say("before a rest")
	case pl.has(nextTrilled):
		return pl.say("before a trilled {note}", "{note}", pl.spoken(*pl.next))
	}
	return pl.say("before {note}", "{note}", pl.spoken(*pl.next))
}

// Why answers "why did you play it like that?" in at most [ReasonWords] words:
// what, why here, who says so and how that is known, and what else would be
// right, as far as there is room.
func (o *Ornament) Why(choice int) string {
	if choice < 0 || choice >= len(o.Choices) {
		return ""
	}
	c := &o.Choices[choice]
	text := capital(c.Name) + ". " + c.Reason
	said := ""
	if len(c.Sources) > 0 {
		s := &c.Sources[0]
		for i := range c.Sources { // the one that a rule rests on, not the figures
			if c.Sources[i].Status != StatusMeasured {
				s = &c.Sources[i]
				break
			}
		}
		said = s.Text + " (" + s.Status.In(c.Words) + ")."
	}
	text = clip(text, ReasonWords-len(strings.Fields(said)))
	fits(&text, said)
	for i := range o.Choices {
		if i != choice && o.Choices[i].Key != "plain" {
			fits(&text, c.Words.Say("Also right: {choice}.", "{choice}", o.Choices[i].Name))
			break
		}
	}
	return text
}
