package realize

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/score"
)

// shortReason is how long a reason grows by what stands here, so that it and
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
		return pl.spoken(small) + " over " + pl.spoken(*pl.bass) + " is a " + intervalName(*pl.bass, small) + "; it resolves to " + pl.spoken(pl.pitch) + "."
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
	return "Here: " + strings.Join(parts, ", ") + "."
}

func asks(when []fact, facts ...fact) bool {
	return slices.ContainsFunc(when, func(f fact) bool { return slices.Contains(facts, f) })
}

var valueNames = map[score.ValueType]string{
	score.Breve: "double whole", score.Whole: "whole", score.Half: "half", score.Quarter: "quarter", score.Eighth: "eighth",
	score.N16th: "sixteenth", score.N32nd: "thirty-second", score.N64th: "sixty-fourth",
}

// valueInWords says the principal's value and how long it lasts at the goal
// tempo: "a dotted quarter of 1.3 s".
func (pl *place) valueInWords() string {
	name := valueNames[pl.chord.Value.Type]
	switch {
	case name == "":
		name = "note"
	case pl.chord.Value.Actual == 3:
		name = "triplet " + name
	case pl.chord.Value.Dots == 1:
		name = "dotted " + name
	case pl.chord.Value.Dots > 1:
		name = "double-dotted " + name
	}
	if pl.has(tied) {
		name = "tied " + name
	}
	article := "a "
	if strings.HasPrefix(name, "e") {
		article = "an "
	}
	return article + name + " of " + strconv.FormatFloat(pl.seconds(pl.room), 'f', 1, 64) + " s"
}

func (pl *place) approach() string {
	switch {
	case pl.prev == nil:
		return "after a rest"
	case pl.has(prevSlurred):
		return "slurred from " + pl.spoken(*pl.prev)
	case pl.has(prevDetached):
		return "after a detached " + pl.spoken(*pl.prev)
	}
	return "after " + pl.spoken(*pl.prev)
}

func (pl *place) departure() string {
	switch {
	case pl.next == nil:
		return "before a rest"
	case pl.has(nextTrilled):
		return "before a trilled " + pl.spoken(*pl.next)
	}
	return "before " + pl.spoken(*pl.next)
}

// Why answers "why did you play it like that?" in at most [ReasonWords] words:
// what, why here, who says so and how that is known, and what else would be
// right, as far as there is room.
func (o *Ornament) Why(choice int) string {
	if choice < 0 || choice >= len(o.Choices) {
		return ""
	}
	c := &o.Choices[choice]
	text := strings.ToUpper(c.Name[:1]) + c.Name[1:] + ". " + c.Reason
	said := ""
	if len(c.Sources) > 0 {
		s := &c.Sources[0]
		for i := range c.Sources { // the one that a rule rests on, not the figures
			if c.Sources[i].Status != StatusMeasured {
				s = &c.Sources[i]
				break
			}
		}
		said = s.Text + " (" + string(s.Status) + ")."
	}
	text = clip(text, ReasonWords-len(strings.Fields(said)))
	fits(&text, said)
	for i := range o.Choices {
		if i != choice && o.Choices[i].Key != "plain" {
			fits(&text, "Also right: "+o.Choices[i].Name+".")
			break
		}
	}
	return text
}
