package realize

import (
	"slices"
	"strings"
)

// period sorts composers by how today's concert pianists treat them.
type period int8

const (
	anyPeriod period = iota
	baroque
	haydn     // and what holds of the classical ones, if nothing closer does
	classical // Mozart and his circle
	middle    // Beethoven
	later     // Schubert and after
)

// periodOf follows the composer's name, else the tradition.
func (r *reader) periodOf() period {
	switch who := heading(r.p); {
	case strings.Contains(who, "beethoven"):
		return middle
	case strings.Contains(who, "haydn"):
		return haydn
	}
	switch r.trad {
	case &romantic:
		return later
	case &vienna, &london:
		return classical
	}
	return baroque
}

// habit says what concert pianists mostly do: the shapes they prefer, in
// order, and the figure behind it.
type habit struct {
	period  period
	figures []figure
	when    []fact
	unless  []fact
	shapes  []string
	figure  string // what was counted, for the reason
}

// habits are learnt from note-aligned recordings, (n)ASAP and
// Batik-plays-Mozart: concert and competition pianists on modern pianos, 4,062
// printed ornaments. They say what has effect today, nothing about style. All
// that match a place count, the first one most.
//
//words:texts figure
var habits = []habit{
	// Trills. Where the printed notes already turn round the principal no
	// second ending is added.
	{period: baroque, figures: longTrills, when: []fact{prevUpper}, unless: []fact{suffixWritten}, shapes: []string{"trill.main", "trill.upper", "trill.stop"},
		figure: "of 100 trills in Bach that follow the upper note, only 43 start from above"},
	{period: baroque, figures: longTrills, when: []fact{nextUp}, unless: []fact{suffixWritten, prevSame}, shapes: []string{"trill.main", "trill.upper", "trill.main.suffix", "trill.upper.suffix"},
		figure: "where the line continues upwards, 15 of 22 trills in Bach start on the main note, at 8 places in 4 pieces"},
	{period: baroque, figures: longTrills, when: []fact{suffixNear}, unless: []fact{suffixWritten}, shapes: []string{"trill.upper", "trill.main", "trill.main.open"},
		figure: "of 100 trills in Bach, 71 start from above; where the termination is printed no other is added (97 of 100)"},
	{period: baroque, figures: longTrills, shapes: []string{"trill.upper", "trill.main", "trill.upper.suffix"},
		figure: "of 100 trills in Bach, 71 start from above and 24 have a termination"},
	{period: haydn, figures: longTrills, when: []fact{nextDown, underQuarter}, unless: []fact{suffixNear, prevUpper, suffixWritten}, shapes: []string{"trill.upper", "trill.main"},
		figure: "of 100 trills in Haydn, 61 start from above; the shorter ones have no termination"},
	{period: classical, figures: longTrills, when: []fact{nextTrilled}, unless: []fact{suffixWritten}, shapes: []string{"trill.main", "trill.upper"},
		figure: "in a chain of trills there is no termination before the last"},
	{period: haydn, figures: longTrills, unless: []fact{short, underQuarter, suffixNear, prevUpper, suffixWritten}, shapes: []string{"trill.upper.suffix", "trill.upper", "trill.below", "trill.main.suffix", "trill.main"},
		figure: "of 100 trills in Haydn, 61 start from above; from half a second up 65 have a termination"},
	{period: classical, figures: longTrills, when: []fact{prevSame}, unless: []fact{short, underQuarter, suffixNear}, shapes: []string{"trill.upper.suffix", "trill.main.suffix", "trill.upper", "trill.main"},
		figure: "of 100 trills in Haydn that follow the same note, 81 start from above; most of the longer ones have a termination"},
	{period: classical, figures: longTrills, when: []fact{prevSame}, unless: []fact{short}, shapes: []string{"trill.upper", "trill.main"},
		figure: "of 100 trills in Haydn that follow the same note, 81 start from above"},
	{period: classical, figures: longTrills, when: []fact{short}, shapes: []string{"short.three", "trill.upper", "trill.main"},
		figure: "in Mozart four of five trills shorter than a quarter of a second have three notes from the main note"},
	{period: classical, figures: longTrills, when: []fact{suffixNear}, shapes: []string{"trill.main", "trill.upper", "trill.upper.open", "trill.main.open"},
		figure: "where the termination is printed no other is added (97 of 100); most trills shorter than a second start on the main note"},
	{period: classical, figures: longTrills, when: []fact{aSecond}, shapes: []string{"trill.upper.suffix", "trill.main.suffix", "trill.upper", "trill.main"},
		figure: "of 100 trills in Mozart that last a second or more, 57 start from above"},
	{period: classical, figures: longTrills, when: []fact{underQuarter, nextUp}, unless: []fact{suffixWritten}, shapes: []string{"trill.main", "trill.main.suffix", "trill.main.straight", "trill.upper"},
		figure: "where the line continues upwards, 67 of 71 trills start on the main note, in 4 pieces"},
	{period: classical, figures: longTrills, when: []fact{underQuarter}, shapes: []string{"trill.main", "trill.upper", "trill.main.suffix", "trill.upper.suffix"},
		figure: "of 100 trills in Mozart shorter than a second, 65 start on the main note"},
	{period: classical, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.upper.suffix", "trill.main", "trill.upper"},
		figure: "of 100 trills in Mozart shorter than a second, 65 start on the main note; from 0.4 seconds up most have a termination"},
	{period: middle, figures: longTrills, when: []fact{nextSame}, unless: []fact{short}, shapes: []string{"trill.upper.open", "trill.main.open", "trill.main"},
		figure: "before the same note the trill stops on the upper note to leave the key free"},
	{period: middle, figures: longTrills, when: []fact{dotted, nextDown, nextQuick}, shapes: []string{"trill.main", "trill.main.suffix"},
		figure: "of 100 trills in Beethoven, 92 start on the main note; a short falling note takes the place of the termination"},
	{period: middle, figures: longTrills, when: []fact{short}, shapes: []string{"short.three", "trill.main", "trill.main.suffix"},
		figure: "of 100 trills shorter than a quarter of a second, 7 have a termination"},
	{period: middle, figures: longTrills, when: []fact{suffixNear}, shapes: []string{"trill.main", "trill.main.suffix"},
		figure: "where the termination is printed no other is added (97 of 100)"},
	{period: middle, figures: longTrills, when: []fact{nextLeap, long}, shapes: []string{"trill.main", "trill.main.suffix"},
		figure: "before a leap 9 of 9 trills have no termination, at 4 places in 1 piece"},
	{period: middle, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.main", "trill.upper.suffix", "trill.main.straight", "trill.upper"},
		figure: "of 100 trills in Beethoven, 92 start on the main note and 77 have a termination"},
	{period: later, figures: longTrills, when: []fact{brief}, shapes: []string{"trill.main", "short.three", "trill.main.suffix"},
		figure: "of 100 trills in Schubert, 94 start on the main note"},
	{period: later, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.main", "trill.main.straight"},
		figure: "of 100 trills in Schubert, 94 start on the main note; from half a second up most have a termination"},

	{period: baroque, figures: []figure{shortTrillFigure}, when: []fact{prevUpper}, unless: []fact{nextUp}, shapes: []string{"short.three", "short.four"},
		figure: "in Bach more than half the short trills that follow the upper note start on the main note"},
	{period: baroque, figures: []figure{shortTrillFigure}, shapes: []string{"short.four", "short.three", "short.six"},
		figure: "of 100 short trills in Bach, 42 start from above and 30 from the main note"},
	{period: classical, figures: []figure{shortTrillFigure}, shapes: []string{"short.three", "short.four"},
		figure: "of 100 short trills in Haydn, 62 have three notes from the main note"},
	{period: middle, figures: []figure{shortTrillFigure}, shapes: []string{"short.three", "short.four"},
		figure: "of 100 short trills in Beethoven, 76 have three notes from the main note, on the beat"},
	{period: later, figures: []figure{shortTrillFigure}, shapes: []string{"short.early", "short.three"},
		figure: "of 100 short trills in Schubert, 95 have three notes from the main note, two thirds of them before the beat"},

	{figures: []figure{shortTrillFigure, trillFigure}, when: []fact{short}, shapes: []string{"short.two"},
		figure: "on very short notes some pianists play two notes only"},

	{figures: []figure{shortTrillFigure}, when: []fact{tight, prevUpper, nextDown}, shapes: []string{"short.two"},
		figure: "in a falling line some pianists play two notes only"},

	{figures: mordents, shapes: []string{"mordent.single"},
		figure: "of 100 mordents, 87 are main note, lower note, main note"},

	// Turns start on the main note and come late, except on short notes.
	{period: classical, figures: turns, when: []fact{underQuarter}, unless: []fact{dotted}, shapes: []string{"turn.held", "turn.even", "turn.main"},
		figure: "on notes shorter than a quarter about half start from above, on the beat"},
	{period: baroque, figures: turns, shapes: []string{"turn.held", "turn.even", "turn.main"},
		figure: "the few turns counted in Bach all start from above"},
	{figures: turns, when: []fact{dotted}, shapes: []string{"turn.dot", "turn.dot.quick", "turn.late", "turn.main"},
		figure: "of 100 turns on longer notes, 96 start after the first fifth of the note"},
	{figures: turns, shapes: []string{"turn.late", "turn.late.half", "turn.main", "turn.held"},
		figure: "of 100 turns in Beethoven, 87 start on the main note, three in four of them late"},

	// Small notes. Between two strikes of the same note they are short.
	{period: middle, figures: []figure{graceFigure}, when: []fact{graceUpper, prevSame}, shapes: []string{"small.early", "lean.crush", "lean.half", "lean.print"},
		figure: "of 100 grace notes in Beethoven, 63 are played before the beat; between repeated notes 26 of 29, at 20 places in 3 pieces"},
	{period: classical, figures: []figure{graceFigure}, when: []fact{graceUpper, graceRepeats, fullQuarter}, unless: []fact{graceSlash}, shapes: []string{"lean.half", "lean.print", "lean.crush", "small.early"},
		figure: "in Mozart a grace note that repeats the note before is an appoggiatura: written short before a quarter note it takes 0.45 of it"},
	// From above on a short note they share it evenly.
	{figures: []figure{graceFigure}, when: []fact{graceUpper, underQuarter}, unless: []fact{graceSlash}, shapes: []string{"lean.half", "lean.print", "lean.quarter", "small.early"},
		figure: "written as long as half the main note or more, they fall on the beat in 84 to 95 of 100 cases and take half"},
	{period: later, figures: []figure{graceFigure}, shapes: []string{"small.early", "lean.crush", "lean.print", "small.astride"},
		figure: "in Schubert three of four grace notes are played before the beat"},
	{period: middle, figures: []figure{graceFigure}, shapes: []string{"small.early", "lean.crush", "lean.print", "small.astride"},
		figure: "of 100 grace notes in Beethoven, 63 are played before the beat; of 100 slashed ones, 84"},
	{figures: []figure{graceFigure}, when: []fact{graceUpper}, unless: []fact{graceSlash}, shapes: []string{"lean.print", "lean.half", "lean.crush", "small.early"},
		figure: "unslashed grace notes from above fall on the beat in about 90 of 100 cases and take their printed value"},
	{figures: []figure{graceFigure}, when: []fact{graceSlash}, shapes: []string{"small.early", "lean.crush", "lean.half"},
		figure: "in Haydn about half the slashed grace notes are played before the beat"},
	{figures: []figure{graceFigure}, when: []fact{graceLower}, unless: []fact{graceShort}, shapes: []string{"lean.print", "lean.half", "small.early"},
		figure: "grace notes written longer than a sixteenth take their printed value"},
	{period: baroque, figures: []figure{graceFigure}, shapes: []string{"lean.half", "lean.print", "lean.crush"},
		figure: "in Bach all unslashed grace notes fall on the beat"},
	{figures: []figure{graceFigure}, shapes: []string{"small.early", "lean.crush", "lean.print"},
		figure: "from below or by leap about half are played before the beat; on the beat they take a tenth to a quarter of the note"},
	{figures: []figure{graceGroupFigure}, shapes: []string{"small.early", "small.around", "small.beat", "small.print", "small.ahead"},
		figure: "groups of three start before the beat in 55 to 83 of 100 cases, longer ones always"},
}

// askPerformers gives candidates their places among the habits that match.
func (r *reader) askPerformers(pl *place, found []candidate) {
	now, order, closest := r.periodOf(), 0, true
	for i := range habits {
		h := &habits[i]
		if !h.period.covers(now) || !slices.Contains(h.figures, pl.figure) || !pl.all(h.when) || pl.any(h.unless) {
			continue
		}
		for at, key := range h.shapes {
			k := slices.IndexFunc(found, func(c candidate) bool { return c.key == key && !c.other })
			if k < 0 || found[k].habit >= 0 {
				continue
			}
			found[k].habit = order
			if closest && at == 0 {
				found[k].measured = h.figure
			}
			order++
		}
		closest = false
	}
}

func (p period) covers(now period) bool {
	return p == anyPeriod || p == now || p == classical && now == haydn
}
