package realize

import (
	"slices"
	"sort"
	"strings"
)

// burst is how much faster than the sustained rate a player manages a few
// notes. Common practice, no source.
const burst = 3

// forThePlayer changes the order for this player: the quickest measured trill
// within the rate on a long note over an even bass; the plain note where even
// three notes are too many.
//
//words:texts why
func (r *reader) forThePlayer(pl *place, found []candidate) {
	top := -1
	for i := range found {
		if top < 0 || found[top].weight < found[i].weight {
			top = i
		}
	}
	if top < 0 {
		return
	}
	if pl.has(evenBelow) && pl.has(veryLong) && found[top].key == "trill.upper" {
		best := -1
		for i := range found {
			k := map[string]float64{"trill.two": 2, "trill.three": 3, "trill.four": 4}[found[i].key]
			if k > 0 && k/pl.seconds(pl.grid) <= r.rate {
				best = i
			}
		}
		if best >= 0 {
			found[best].weight = found[top].weight + 1
		}
	}
	turned := slices.Contains(turns, pl.figure) || slices.Contains(inverted, pl.figure)
	if turned && pl.seconds(pl.room) < 9/(burst*r.rate) {
		// A turn squeezed before the dot has a third of the note for three of
		// its notes: too quick here, so that it takes the whole note.
		for i := range found {
			if strings.HasPrefix(found[i].key, "turn.dot") {
				found[i].weight = min(found[i].weight, 21)
			}
		}
	}
	// Only a tempo and a rate that somebody gave can make a note too short.
	known := r.taste.Rate > 0 && !r.tempoAssumed
	if known && (pl.figure.shaken() || turned) && pl.seconds(pl.room) < 3/(burst*r.rate) {
		for i := range found {
			switch found[i].key {
			case "plain":
				found[i].weight = 92
				found[i].why = "The note is too short for your speed: at this tempo even three notes are too many. Without the ornament the rhythm stays intact."
			case "leaning.upper":
				found[i].weight = 91
			}
		}
	}
}

// yieldToFaults moves options that make a fault against another voice behind
// the ones that do not, and names the fault that the usual one makes.
//
//words:texts why
func (pl *place) yieldToFaults(options []option) {
	fault := func(o *option) string {
		sh := shapes[o.candidate.key]
		sh.raised = o.raised
		for _, c := range pl.cautions(&sh, &o.Choice) {
			if c.fault {
				return c.text
			}
		}
		return ""
	}
	if len(options) == 0 || fault(&options[0]) == "" {
		return
	}
	faults := map[string]bool{}
	for i := range options {
		faults[options[i].Key] = fault(&options[i]) != ""
	}
	usual, made := options[0].Name, fault(&options[0])
	sort.SliceStable(options, func(i, j int) bool { return !faults[options[i].Key] && faults[options[j].Key] })
	if options[0].Name != usual {
		options[0].instead = pl.say("Otherwise first here, \"{choice}\" makes a fault: {fault}.", "{choice}", usual, "{fault}", made)
		if options[0].Key == "plain" {
			options[0].why = "Left out, because of another voice."
		}
	}
}

// yieldToRate lets a trill within the player's rate lead where the first one
// is too fast and both tempo and rate are known. Two hands that trill at once
// keep their one grid.
func (pl *place) yieldToRate(options []option) {
	if pl.r.taste.Rate <= 0 || pl.r.tempoAssumed || pl.partner.Sign() > 0 || len(options) == 0 {
		return
	}
	trill := func(o *option) bool { return shapes[o.candidate.key].time == shake }
	fast := func(o *option) bool { return float64(len(o.Notes))/pl.seconds(pl.room) > pl.r.rate*1.05 }
	if !trill(&options[0]) || !fast(&options[0]) {
		return
	}
	k := slices.IndexFunc(options, func(o option) bool { return trill(&o) && !fast(&o) })
	if k < 0 {
		return
	}
	leads := options[k]
	leads.instead = pl.say("Otherwise first here, \"{choice}\" is faster than your {rate} notes per second.",
		"{choice}", options[0].Name, "{rate}", pl.r.taste.Words.Number(pl.r.rate, 0))
	copy(options[1:k+1], options[:k])
	options[0] = leads
}
