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
		figure: "after the upper neighbour only 43 of 100 Bach trills are started above"},
	{period: baroque, figures: longTrills, when: []fact{nextUp}, unless: []fact{suffixWritten, prevSame}, shapes: []string{"trill.main", "trill.upper", "trill.main.suffix", "trill.upper.suffix"},
		figure: "where the line goes on upwards 15 of 22 performances at 8 places in 4 pieces start on the main note"},
	{period: baroque, figures: longTrills, when: []fact{suffixNear}, unless: []fact{suffixWritten}, shapes: []string{"trill.upper", "trill.main", "trill.main.open"},
		figure: "71 of 100 Bach trills start above; where the ending is printed no other is added (97 of 100)"},
	{period: baroque, figures: longTrills, shapes: []string{"trill.upper", "trill.main", "trill.upper.suffix"},
		figure: "71 of 100 Bach trills start above, 24 get an ending"},
	{period: haydn, figures: longTrills, when: []fact{nextDown, underQuarter}, unless: []fact{suffixNear, prevUpper, suffixWritten}, shapes: []string{"trill.upper", "trill.main"},
		figure: "61 of 100 Haydn trills start above, shorter ones without an ending"},
	{period: classical, figures: longTrills, when: []fact{nextTrilled}, unless: []fact{suffixWritten}, shapes: []string{"trill.main", "trill.upper"},
		figure: "in a chain of trills no ending is played before the last"},
	{period: haydn, figures: longTrills, unless: []fact{short, underQuarter, suffixNear, prevUpper, suffixWritten}, shapes: []string{"trill.upper.suffix", "trill.upper", "trill.below", "trill.main.suffix", "trill.main"},
		figure: "61 of 100 Haydn trills start above; from half a second up 65 get an ending"},
	{period: classical, figures: longTrills, when: []fact{prevSame}, unless: []fact{short, underQuarter, suffixNear}, shapes: []string{"trill.upper.suffix", "trill.main.suffix", "trill.upper", "trill.main"},
		figure: "after the same note 81 of 100 Haydn trills start above; longer ones mostly get an ending"},
	{period: classical, figures: longTrills, when: []fact{prevSame}, unless: []fact{short}, shapes: []string{"trill.upper", "trill.main"},
		figure: "after the same note 81 of 100 Haydn trills start above"},
	{period: classical, figures: longTrills, when: []fact{short}, shapes: []string{"short.three", "trill.upper", "trill.main"},
		figure: "under a quarter of a second four of five Mozart trills are three notes from the main note"},
	{period: classical, figures: longTrills, when: []fact{suffixNear}, shapes: []string{"trill.main", "trill.upper", "trill.upper.open", "trill.main.open"},
		figure: "where the ending is printed no other is added (97 of 100); under a second most start on the main note"},
	{period: classical, figures: longTrills, when: []fact{aSecond}, shapes: []string{"trill.upper.suffix", "trill.main.suffix", "trill.upper", "trill.main"},
		figure: "from a second up 57 of 100 Mozart trills start above"},
	{period: classical, figures: longTrills, when: []fact{underQuarter, nextUp}, unless: []fact{suffixWritten}, shapes: []string{"trill.main", "trill.main.suffix", "trill.main.straight", "trill.upper"},
		figure: "where the line goes on upwards 67 of 71 performances in 4 pieces start on the main note"},
	{period: classical, figures: longTrills, when: []fact{underQuarter}, shapes: []string{"trill.main", "trill.upper", "trill.main.suffix", "trill.upper.suffix"},
		figure: "Mozart trills under a second start on the main note in 65 of 100"},
	{period: classical, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.upper.suffix", "trill.main", "trill.upper"},
		figure: "Mozart trills under a second start on the main note in 65 of 100; from 0.4 seconds most get an ending"},
	{period: middle, figures: longTrills, when: []fact{nextSame}, unless: []fact{short}, shapes: []string{"trill.upper.open", "trill.main.open", "trill.main"},
		figure: "before the same note the shake stops above, so that the key is free"},
	{period: middle, figures: longTrills, when: []fact{dotted, nextDown, nextQuick}, shapes: []string{"trill.main", "trill.main.suffix"},
		figure: "92 of 100 Beethoven trills start on the main note; a short falling note stands for the ending"},
	{period: middle, figures: longTrills, when: []fact{short}, shapes: []string{"short.three", "trill.main", "trill.main.suffix"},
		figure: "under a quarter of a second an ending is played in 7 of 100"},
	{period: middle, figures: longTrills, when: []fact{suffixNear}, shapes: []string{"trill.main", "trill.main.suffix"},
		figure: "where the ending is printed no other is added (97 of 100)"},
	{period: middle, figures: longTrills, when: []fact{nextLeap, long}, shapes: []string{"trill.main", "trill.main.suffix"},
		figure: "before a leap 9 of 9 performances at 4 places in 1 piece leave the ending out"},
	{period: middle, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.main", "trill.upper.suffix", "trill.main.straight", "trill.upper"},
		figure: "92 of 100 Beethoven trills start on the main note, 77 get an ending"},
	{period: later, figures: longTrills, when: []fact{brief}, shapes: []string{"trill.main", "short.three", "trill.main.suffix"},
		figure: "94 of 100 Schubert trills start on the main note"},
	{period: later, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.main", "trill.main.straight"},
		figure: "94 of 100 Schubert trills start on the main note; from half a second up most get an ending"},

	{period: baroque, figures: []figure{shortTrillFigure}, when: []fact{prevUpper}, unless: []fact{nextUp}, shapes: []string{"short.three", "short.four"},
		figure: "after the upper neighbour more than half start on the main note"},
	{period: baroque, figures: []figure{shortTrillFigure}, shapes: []string{"short.four", "short.three", "short.six"},
		figure: "42 of 100 Bach short trills are played from above, 30 from the main note"},
	{period: classical, figures: []figure{shortTrillFigure}, shapes: []string{"short.three", "short.four"},
		figure: "62 of 100 Haydn short trills are three notes from the main note"},
	{period: middle, figures: []figure{shortTrillFigure}, shapes: []string{"short.three", "short.four"},
		figure: "76 of 100 Beethoven short trills are three notes from the main note, on the beat"},
	{period: later, figures: []figure{shortTrillFigure}, shapes: []string{"short.early", "short.three"},
		figure: "95 of 100 Schubert short trills are three notes from the main note, two thirds of them before the beat"},

	{figures: []figure{shortTrillFigure, trillFigure}, when: []fact{short}, shapes: []string{"short.two"},
		figure: "where the note is very short some play two notes only"},

	{figures: []figure{shortTrillFigure}, when: []fact{tight, prevUpper, nextDown}, shapes: []string{"short.two"},
		figure: "in a falling line some play two notes only"},

	{figures: mordents, shapes: []string{"mordent.single"},
		figure: "87 of 100 mordents are main, lower, main"},

	// Turns start on the main note and come late, except on short notes.
	{period: classical, figures: turns, when: []fact{underQuarter}, unless: []fact{dotted}, shapes: []string{"turn.held", "turn.even", "turn.main"},
		figure: "on values under a quarter about half start above, on the beat"},
	{period: baroque, figures: turns, shapes: []string{"turn.held", "turn.even", "turn.main"},
		figure: "the few Bach turns all start above"},
	{figures: turns, when: []fact{dotted}, shapes: []string{"turn.dot", "turn.dot.quick", "turn.late", "turn.main"},
		figure: "on longer values 96 of 100 turns come after the first fifth of the note"},
	{figures: turns, shapes: []string{"turn.late", "turn.late.half", "turn.main", "turn.held"},
		figure: "87 of 100 Beethoven turns start on the main note, three of four late"},

	// Small notes. Between two strikes of the same note they are short.
	{period: middle, figures: []figure{graceFigure}, when: []fact{graceUpper, prevSame}, shapes: []string{"small.early", "lean.crush", "lean.half", "lean.print"},
		figure: "63 of 100 small notes in Beethoven come before the beat; between repeated notes 26 of 29 performances at 20 places in 3 pieces"},
	{period: classical, figures: []figure{graceFigure}, when: []fact{graceUpper, graceRepeats, fullQuarter}, unless: []fact{graceSlash}, shapes: []string{"lean.half", "lean.print", "lean.crush", "small.early"},
		figure: "a small note that repeats the note before leans: written short before a quarter it takes 0.45 of it in Mozart"},
	// From above on a short note they share it evenly.
	{figures: []figure{graceFigure}, when: []fact{graceUpper, underQuarter}, unless: []fact{graceSlash}, shapes: []string{"lean.half", "lean.print", "lean.quarter", "small.early"},
		figure: "written as long as half the note or more, they fall on the beat in 84 to 95 of 100 and take half"},
	{period: later, figures: []figure{graceFigure}, shapes: []string{"small.early", "lean.crush", "lean.print", "small.astride"},
		figure: "three of four small notes in Schubert come before the beat"},
	{period: middle, figures: []figure{graceFigure}, shapes: []string{"small.early", "lean.crush", "lean.print", "small.astride"},
		figure: "63 of 100 small notes in Beethoven come before the beat, stroked ones in 84"},
	{figures: []figure{graceFigure}, when: []fact{graceUpper}, unless: []fact{graceSlash}, shapes: []string{"lean.print", "lean.half", "lean.crush", "small.early"},
		figure: "unstroked small notes from above fall on the beat in about 90 of 100 and take the value they print"},
	{figures: []figure{graceFigure}, when: []fact{graceSlash}, shapes: []string{"small.early", "lean.crush", "lean.half"},
		figure: "about half the stroked small notes in Haydn come before the beat"},
	{figures: []figure{graceFigure}, when: []fact{graceLower}, unless: []fact{graceShort}, shapes: []string{"lean.print", "lean.half", "small.early"},
		figure: "written longer than a sixteenth, small notes take their printed value"},
	{period: baroque, figures: []figure{graceFigure}, shapes: []string{"lean.half", "lean.print", "lean.crush"},
		figure: "all unstroked small notes in Bach fall on the beat"},
	{figures: []figure{graceFigure}, shapes: []string{"small.early", "lean.crush", "lean.print"},
		figure: "from below or by leap about half come before the beat; on the beat they take a tenth to a quarter"},
	{figures: []figure{graceGroupFigure}, shapes: []string{"small.early", "small.around", "small.beat", "small.print", "small.ahead"},
		figure: "groups of three start before the beat in 55 to 83 of 100, longer ones always"},
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
