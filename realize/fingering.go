package realize

import (
	"strconv"
	"strings"
)

// fingering suggests fingers for the hand the ornament lies in. Right hand:
// upper and lower fingers 3-2, or 4-3 where the next notes rise; left hand
// 1-2 or 2-3. The ending goes on with the next finger down: after 3-2 it is
// 1-2, after 4-3 it is 2-3. Couperin 1716, C.P.E. Bach 1753 (3 §10) and
// Clementi 1801 agree. Empty where a chord or a wide figure leaves no rule.
func (pl *place) fingering(sh *shape, notes []Note) []string {
	if len(pl.chord.Notes) > 1 || len(notes) < 2 || sh.time == roll || sh.time == strokes {
		return nil
	}
	// fingers by scale step, from two below to two above
	fingers := map[int]int{1: 3, 0: 2, -1: 1, 2: 4}
	if pl.has(nextUp) {
		fingers = map[int]int{1: 4, 0: 3, -1: 2, 2: 5, -2: 1}
	}
	if pl.has(leftHand) {
		fingers = map[int]int{1: 1, 0: 2, -1: 3, -2: 4}
		if pl.has(nextUp) {
			fingers = map[int]int{2: 1, 1: 2, 0: 3, -1: 4, -2: 5}
		}
	}
	if !pl.has(leftHand) && hasStep(notes, -2) {
		fingers = map[int]int{-2: 1, -1: 2, 0: 3, 1: 4, 2: 5}
	}
	out := make([]string, len(notes))
	for i, n := range notes {
		f, ok := fingers[n.Degree]
		if !ok {
			return nil
		}
		out[i] = strconv.Itoa(f)
	}
	return out
}

func hasStep(notes []Note, step int) bool {
	for _, n := range notes {
		if n.Degree == step {
			return true
		}
	}
	return false
}

// Fingers prints a fingering in one word, "3 2 3 2 1 2".
func (c *Choice) Fingers() string { return strings.Join(c.Fingering, " ") }
