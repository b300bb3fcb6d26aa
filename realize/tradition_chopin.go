package realize

import "slices"

// chopin is what his pupils reported and what he wrote into their copies. He
// published no table, and they spoke up decades later: known from memory, so
// that the early Romantic rules stand beside these as the other good ways.
//
//words:texts name years
var chopin = tradition{
	key: "chopin", name: "Chopin's pupils", years: "c. 1832–1849", from: 0, to: -1, // no year decides for one man
	composers: []string{"chopin", "szopen"},
	names:     romantic.names,
	raises:    raisedInTurns,
	rules:     slices.Concat(fromHisPupils, borrowed(romantic.rules, "chopin")),
}

//words:texts why
var fromHisPupils = []rule{
	{figures: longTrills, shape: "trill.main.suffix", weight: 76, when: []fact{graceSame}, unless: []fact{suffixWritten, anticipated, suffixNear, short},
		why: "The grace note on {0} itself asks for the trill to begin there, without striking {0} twice.", from: []string{"chopin-pupils"}},
	{figures: longTrills, shape: "trill.upper.suffix", weight: 74, unless: []fact{suffixWritten, anticipated, suffixNear, short, suspended, graceSame},
		why: "His pupils report that he began trills on the upper note, {+1}, on the beat, and cared more for evenness than for speed.", from: []string{"chopin-pupils"}},
	{figures: longTrills, shape: "trill.upper", weight: 73, unless: []fact{short, graceSame},
		why: "From {+1}, on the beat, as his pupils report.", from: []string{"chopin-pupils"}},
	{figures: []figure{shortTrillFigure}, shape: "short.three", weight: 72,
		why: "{0} {+1} {0}, the first {0} struck with the other hand.", from: []string{"chopin-pupils"}},
	{figures: []figure{graceFigure}, shape: "lean.crush", weight: 74, unless: []fact{graceShort},
		why: "In pupils' copies he drew lines from such notes to the bass: the grace note is struck with it, on the beat.", from: []string{"chopin-pupils"}},
	{figures: []figure{graceFigure}, shape: "lean.crush", weight: 73, when: []fact{graceShort},
		why: "Short, but with the bass and not before it: so the lines in pupils' copies.", from: []string{"chopin-pupils"}},
	{figures: []figure{graceGroupFigure}, shape: "small.beat", weight: 74,
		why: "The first grace note is struck with the bass, as the lines in pupils' copies show.", from: []string{"chopin-pupils"}},
}

// borrowed takes another tradition's rules over as analogies: its sources do
// not speak for this one.
func borrowed(rules []rule, tradition string) []rule {
	out := slices.Clone(rules)
	for i := range out {
		out[i].from = cited(out[i].from, tradition)
	}
	return out
}
