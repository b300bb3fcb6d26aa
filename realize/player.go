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
	if (pl.figure.shaken() || turned) && pl.seconds(pl.room) < 3/(burst*r.rate) {
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
// the ones that do not.
func (pl *place) yieldToFaults(options []option) {
	fault := func(o *option) bool {
		sh := shapes[o.candidate.key]
		sh.raised = o.raised
		return slices.ContainsFunc(pl.cautions(&sh, &o.Choice), func(c caution) bool { return c.fault })
	}
	if len(options) == 0 || !fault(&options[0]) {
		return
	}
	faults := map[string]bool{}
	for i := range options {
		faults[options[i].Key] = fault(&options[i])
	}
	sort.SliceStable(options, func(i, j int) bool { return !faults[options[i].Key] && faults[options[j].Key] })
}
