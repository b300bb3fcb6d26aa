package realize

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/music"
)

// count is how often something was played: by how many performances, at how
// many places, in how many pieces.
type count struct{ performances, places, pieces int }

// ways counts what was played at one kind of sign. Signs are told apart by
// their degrees, repeated alternations once: "1 0 -1 0"; "1 0 once" is a single
// appoggiatura. One small note is "before" the beat or on it for a "short" part of the note, below a fifth, a
// "third" of it, from a fifth to two fifths, or its "half", from there up.
// Several small notes begin "before" the beat or "on" it.
type ways map[string]count

// tally holds what concert pianists did in one composer's music.
type tally struct {
	period   period
	composer string
	figures  []figure
	all      count
	ways     ways
}

var (
	shortTrills = []figure{shortTrillFigure}
	smallNote   = []figure{graceFigure}
	smallNotes  = []figure{graceGroupFigure}
)

// tallies are counted in (n)ASAP v2.1 (source "counted"), where the alignment
// tells; what was played only once is left out. A movement recorded from two
// scores, with and without its repeats, is one piece, its places are counted in
// each.
var tallies = []tally{
	{baroque, "Bach", longTrills, count{56, 31, 13}, ways{
		"1 0": {22, 17, 7}, "0 1 0": {19, 11, 7}, "1 0 -1 0": {5, 3, 2}, "0 1": {3, 3, 3}, "0 1 0 -1 0": {3, 2, 2},
	}},
	{baroque, "Bach", shortTrills, count{94, 42, 13}, ways{
		"1 0": {37, 15, 8}, "0 1 0": {29, 20, 10}, "-1 0 1 0": {7, 2, 2}, "-1 0 1 -1 0": {3, 3, 1}, "-1 0 1 0 -1 0": {3, 3, 1}, "1 0 -1 0 1 0": {3, 1, 1}, "0": {2, 2, 1}, "0 1": {2, 2, 2}, "1 0 1 -1 0": {2, 2, 1}, "1 0 once": {2, 2, 1},
	}},
	{baroque, "Bach", mordents, count{26, 15, 5}, ways{
		"0 -1 0": {23, 13, 4}, "0 -1": {2, 2, 2},
	}},
	{baroque, "Bach", turns, count{3, 3, 1}, ways{
		"1 0 -1 0": {3, 3, 1},
	}},
	{baroque, "Bach", smallNote, count{26, 11, 5}, ways{
		"half": {17, 8, 3}, "third": {8, 5, 4},
	}},
	{baroque, "Bach", smallNotes, count{8, 1, 1}, ways{
		"on": {5, 1, 1}, "before": {3, 1, 1},
	}},
	{haydn, "Haydn", longTrills, count{46, 34, 3}, ways{
		"1 0": {17, 11, 2}, "0 1 0": {15, 13, 2}, "-1 0 1 0": {6, 4, 1}, "0": {3, 2, 1}, "1 0 -1 0": {3, 2, 1},
	}},
	{haydn, "Haydn", shortTrills, count{47, 17, 3}, ways{
		"1 0": {27, 10, 3}, "0 1 0": {16, 6, 1}, "0 1": {2, 1, 1},
	}},
	{haydn, "Haydn", turns, count{7, 3, 2}, ways{
		"0 1 0 -1 0": {6, 2, 1},
	}},
	{haydn, "Haydn", smallNote, count{89, 36, 4}, ways{
		"half": {66, 23, 3}, "before": {9, 6, 2}, "third": {8, 4, 2}, "short": {6, 5, 2},
	}},
	{haydn, "Haydn", smallNotes, count{76, 31, 3}, ways{
		"before": {61, 26, 2}, "on": {15, 9, 2},
	}},
	{classical, "Mozart", longTrills, count{83, 19, 2}, ways{
		"0 1 0": {30, 13, 1}, "1 0": {18, 12, 2}, "1 0 -1 0": {14, 4, 1}, "0 1 0 -1 0": {6, 2, 1}, "1 0 1": {6, 4, 1}, "1 0 once": {6, 6, 1}, "0 1": {3, 3, 1},
	}},
	{classical, "Mozart", turns, count{7, 7, 1}, ways{
		"0 1 0 -1 0": {6, 6, 1},
	}},
	{classical, "Mozart", smallNote, count{93, 25, 2}, ways{
		"half": {62, 15, 1}, "before": {21, 16, 2}, "third": {10, 9, 1},
	}},
	{middle, "Beethoven", longTrills, count{70, 24, 6}, ways{
		"0 1 0": {24, 6, 2}, "0 1 0 -1 0": {18, 14, 4}, "1 0 1": {13, 2, 1}, "0 1": {7, 3, 2}, "1 0 -1 0": {3, 2, 2}, "1 0": {2, 2, 1},
	}},
	{middle, "Beethoven", shortTrills, count{85, 44, 1}, ways{
		"0 1 0": {75, 43, 1}, "0 1": {9, 8, 1},
	}},
	{middle, "Beethoven", turns, count{33, 21, 3}, ways{
		"0 1 0 -1 0": {18, 8, 2}, "1 0 -1 0": {10, 10, 1}, "0 -1 0": {3, 3, 2},
	}},
	{middle, "Beethoven", smallNote, count{972, 170, 7}, ways{
		"before": {677, 125, 7}, "short": {140, 42, 4}, "half": {107, 54, 1}, "third": {48, 41, 4},
	}},
	{middle, "Beethoven", smallNotes, count{179, 43, 6}, ways{
		"before": {140, 28, 4}, "on": {39, 16, 5},
	}},
	{later, "Schubert", longTrills, count{54, 16, 1}, ways{
		"0 1 0": {37, 16, 1}, "0 1 0 -1 0": {10, 6, 1}, "0 1 -1 0": {3, 2, 1}, "0 -1 1 0": {2, 2, 1},
	}},
	{later, "Schubert", shortTrills, count{17, 4, 2}, ways{
		"0 1 0": {17, 4, 2},
	}},
	{later, "Schubert", turns, count{65, 16, 1}, ways{
		"0 1 0 -1 0": {33, 11, 1}, "0": {31, 16, 1},
	}},
	{later, "Schubert", smallNote, count{45, 13, 2}, ways{
		"before": {36, 13, 2}, "short": {8, 4, 1},
	}},
	{later, "Schubert", smallNotes, count{4, 1, 1}, ways{
		"on": {3, 1, 1},
	}},
}

// effect says how often pianists play a choice, in a sentence; "" where that
// was not counted.
func (pl *place) effect(c *Choice) string {
	now := periodOf(pl.r.p, pl.r.trad.key)
	for i := range tallies {
		t := &tallies[i]
		if t.period != now || !slices.Contains(t.figures, pl.figure) || !pl.r.isBy(t.composer) {
			continue
		}
		n, played := t.ways[pl.way(c)]
		if !played {
			return ""
		}
		c := pl.r.taste.Words
		return c.Say("Played today, in {composer}: {n} of {all} times {places} {pieces} (concert and competition pianists, modern pianos).",
			"{composer}", t.composer, "{n}", strconv.Itoa(n.performances), "{all}", strconv.Itoa(t.all.performances),
			"{places}", c.Count(n.places, "at {n} place", "at {n} places"), "{pieces}", c.Count(n.pieces, "in {n} piece", "in {n} pieces"))
	}
	return ""
}

// way names a choice as the tallies do.
func (pl *place) way(c *Choice) string {
	small := pl.figure == graceFigure || pl.figure == graceGroupFigure
	share := entry(c).Div(pl.room)
	switch early := c.Notes[0].Onset.Sign() < 0; {
	case small && len(c.Notes) == 1:
		return "left out"
	case small && early:
		return "before"
	case pl.figure == graceGroupFigure:
		return "on"
	case small && share.Less(music.F(1, 5)):
		return "short"
	case small && share.Less(music.F(2, 5)):
		return "third"
	case small:
		return "half"
	}
	return wayOf(struck(c))
}

func wayOf(degrees []int) string {
	var words []string
	for _, d := range collapsed(degrees) {
		words = append(words, strconv.Itoa(d))
	}
	if slices.Equal(degrees, []int{1, 0}) {
		words = append(words, "once")
	}
	return strings.Join(words, " ")
}

// struck lists the degrees of the notes that are struck.
func struck(c *Choice) []int {
	var degrees []int
	for i := range c.Notes {
		if !c.Notes[i].Tied {
			degrees = append(degrees, c.Notes[i].Degree)
		}
	}
	return degrees
}
