package realize

import (
	"slices"
	"strings"

	"agremens/realize/score"
)

// period sorts composers by how today's concert pianists treat them.
type period int8

const (
	baroque   period = iota
	haydn            // and what holds of the classical ones, if nothing closer does
	classical        // Mozart and his circle
	middle           // Beethoven
	later            // Schubert and after
)

// periodOf follows the composer's name, else the tradition.
func periodOf(p *score.Passage, tradition string) period {
	switch who := heading(p); {
	case strings.Contains(who, "beethoven"):
		return middle
	case strings.Contains(who, " haydn "), strings.Contains(who, " hob "):
		return haydn
	}
	switch tradition {
	case romantic.key, chopin.key:
		return later
	case vienna.key, london.key:
		return classical
	}
	return baroque
}

// habit says what concert pianists mostly do: the shapes they prefer, in
// order, and the figure behind it.
type habit struct {
	periods []period // none: all
	figures []figure
	when    []fact
	unless  []fact
	shapes  []string
	figure  string // what was counted, for the reason
	stands  standing
}

// standing says why a habit stands.
type standing int8

const (
	// The zero value is admitted: it changes the first choice in three works or
	// more of the reference, and does not lose, whichever of them is left out.
	_ standing = iota
	// bySources: works disagree, the sources decide, and the figure says that
	// pianists differ.
	bySources
	// byReport: the report on all recordings has it; the reference holds too
	// few works.
	byReport
	// offered: it leads to nothing else than the sources, and has a choice
	// offered or a figure told.
	offered
)

// habits are learnt from note-aligned recordings, (n)ASAP and
// Batik-plays-Mozart: concert and competition pianists on modern pianos. They
// say what has effect today, nothing about style. All that match a place count,
// the first one most. TestHabits admits them.
//
//words:texts figure
var habits = []habit{
	{figures: longTrills, when: []fact{twoTrillSigns}, unless: []fact{suffixWritten}, shapes: []string{"short.four", "short.three", "trill.upper"}, stands: byReport,
		figure: "where one note has both a trill and a short trill sign, 10 of 10 were played as four notes"},
	// Trills. Where the printed notes already turn round the principal no
	// termination is added.
	{periods: []period{baroque}, figures: longTrills, when: []fact{prevUpper}, unless: []fact{suffixWritten}, shapes: []string{"trill.main", "trill.upper", "trill.stop"},
		figure: "of 100 trills in Bach that follow the upper note, only 43 start from above"},
	{periods: []period{baroque}, figures: longTrills, when: []fact{nextUp}, unless: []fact{suffixWritten, suffixNear, prevSame}, shapes: []string{"trill.main", "trill.upper", "trill.main.suffix", "trill.upper.suffix"}, stands: bySources,
		figure: "where the line continues upwards, 15 of 22 trills in Bach start on the main note, at 8 places in 4 pieces; pianists differ"},
	{periods: []period{baroque}, figures: longTrills, shapes: []string{"trill.upper", "trill.main", "trill.upper.suffix"},
		figure: "of 100 trills in Bach, 71 start from above and 24 have a termination"},
	{periods: []period{classical}, figures: longTrills, when: []fact{nextTrilled}, unless: []fact{suffixWritten, short}, shapes: []string{"trill.main", "trill.upper"}, stands: bySources,
		figure: "in a chain of trills many play no termination before the last; pianists differ"},
	{periods: []period{classical, middle, later}, figures: longTrills, when: []fact{short}, unless: []fact{suffixWritten}, shapes: []string{"short.three", "trill.main", "trill.upper", "trill.main.suffix"},
		figure: "in Mozart four of five trills shorter than a quarter of a second have three notes from the main note; of 100 trills this short 7 have a termination"},
	{periods: []period{classical, middle, later}, figures: longTrills, when: []fact{suffixNear}, shapes: []string{"trill.main", "trill.upper", "trill.main.open", "trill.upper.open"}, stands: byReport,
		figure: "where the termination is printed no other is added (97 of 100)"},
	{periods: []period{middle, later}, figures: longTrills, when: []fact{nextSame}, shapes: []string{"trill.upper.open", "trill.main.open", "trill.main"}, stands: bySources,
		figure: "before the same note many stop the trill on the upper note to leave the key free; pianists differ"},
	{periods: []period{classical, middle, later}, figures: longTrills, when: []fact{dotted, nextDown, nextQuick}, unless: []fact{suffixWritten}, shapes: []string{"trill.main", "trill.main.suffix", "trill.upper"}, stands: bySources,
		figure: "a short falling note takes the place of the termination; pianists differ"},
	{periods: []period{haydn}, figures: longTrills, when: []fact{tight}, shapes: []string{"trill.upper", "trill.main"}, stands: byReport,
		figure: "of 100 trills in Haydn, 61 start from above; the shorter ones have no termination"},
	{periods: []period{haydn}, figures: longTrills, shapes: []string{"trill.upper.suffix", "trill.upper", "trill.below", "trill.main"}, stands: byReport,
		figure: "of 100 trills in Haydn, 61 start from above; from half a second up 65 have a termination"},
	{periods: []period{classical}, figures: longTrills, when: []fact{prevSame}, unless: []fact{suffixWritten}, shapes: []string{"trill.upper", "trill.upper.suffix", "trill.main"},
		figure: "after the same note most trills start from above"},
	{periods: []period{classical}, figures: longTrills, when: []fact{tight}, shapes: []string{"trill.main", "trill.upper", "trill.main.straight", "trill.main.suffix"},
		figure: "of 100 trills in Mozart shorter than a second, 65 start on the main note"},
	{periods: []period{classical}, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.upper.suffix", "trill.main", "trill.upper"},
		figure: "of 100 trills in Mozart shorter than a second, 65 start on the main note; from 0.4 seconds up most have a termination"},
	{periods: []period{middle, later}, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.main", "trill.upper", "trill.upper.suffix", "trill.main.straight"},
		figure: "of 100 trills, 92 in Beethoven and 94 in Schubert start on the main note; 77 and 63 have a termination"},
	{figures: longTrills, when: []fact{nextRest}, unless: []fact{suffixWritten}, shapes: []string{"trill.main.open"}, stands: offered,
		figure: "before a rest some stop on the upper note, without a return"},

	{periods: []period{baroque}, figures: shortTrills, when: []fact{prevUpper}, unless: []fact{nextUp}, shapes: []string{"short.three", "short.four"},
		figure: "in Bach more than half the short trills that follow the upper note start on the main note"},
	{periods: []period{later}, figures: shortTrills, shapes: []string{"short.early", "short.three"}, stands: byReport,
		figure: "of 100 short trills in Schubert, 95 have three notes from the main note; 65 are played before the beat, and 85 in Chopin"},
	{periods: []period{classical, middle}, figures: shortTrills, shapes: []string{"short.three", "short.four"}, stands: offered,
		figure: "of 100 short trills, 62 in Haydn and 76 in Beethoven have three notes from the main note"},
	{figures: []figure{shortTrillFigure, trillFigure}, when: []fact{fleeting}, shapes: []string{"short.three", "short.two"}, stands: offered,
		figure: "on very short notes some pianists play two notes only"},

	{figures: mordents, shapes: []string{"mordent.single"}, stands: offered,
		figure: "of 100 mordents, 87 are main note, lower note, main note"},

	// Turns start on the main note and come late, except on short notes.
	{periods: []period{classical, middle, later}, figures: turns, when: []fact{underQuarter, prevUpper}, shapes: []string{"turn.main", "turn.dot", "turn.held"},
		figure: "after the upper note turns start on the main note"},
	{periods: []period{classical}, figures: turns, when: []fact{underQuarter}, unless: []fact{dotted}, shapes: []string{"turn.even", "turn.held", "turn.main"},
		figure: "on notes shorter than a quarter about half start from above, on the beat"},
	{periods: []period{classical, middle, later}, figures: turns, when: []fact{dotted}, shapes: []string{"turn.dot", "turn.dot.quick", "turn.late", "turn.main"},
		figure: "of 100 turns on longer notes, 96 start after the first fifth of the note"},
	{periods: []period{classical, middle, later}, figures: turns, shapes: []string{"turn.late", "turn.late.half", "turn.main", "turn.held"},
		figure: "of 100 turns in Beethoven, 87 start on the main note, three in four of them late"},

	// Small notes. The strongest sign of a long one is what follows it: two
	// notes of half its principal's value.
	{periods: []period{classical}, figures: smallNote, when: []fact{graceUpper, graceRepeats, fullQuarter}, unless: []fact{graceSlash, aSecond}, shapes: []string{"lean.half", "lean.print", "lean.crush", "small.early"},
		figure: "in Mozart a grace note that repeats the note before is an appoggiatura: written short before a quarter note it takes 0.45 of it"},
	{periods: []period{classical}, figures: smallNote, when: []fact{graceUpper, pairOfHalves}, unless: []fact{graceSlash}, shapes: []string{"lean.print", "lean.half", "lean.quarter", "small.early"},
		figure: "before a note and two of half its length, 97 of 100 grace notes from above fall on the beat and take their printed value"},
	{periods: []period{classical, middle}, figures: smallNote, when: []fact{graceUpper, pairOfHalves}, shapes: []string{"lean.half", "lean.print", "lean.quarter", "small.early"}, stands: byReport,
		figure: "before a note and two of half its length, grace notes from above take half, even slashed ones"},
	{periods: []period{middle}, figures: smallNote, when: []fact{graceUpper, prevSame}, shapes: []string{"small.early", "lean.crush", "lean.half", "lean.print"},
		figure: "of 100 grace notes in Beethoven, 63 are played before the beat; between repeated notes 26 of 29, at 20 places in 3 pieces"},
	{periods: []period{later}, figures: smallNote, shapes: []string{"small.early", "lean.crush", "lean.print", "small.astride"}, stands: byReport,
		figure: "in Schubert three of four grace notes are played before the beat, and 94 of 100 in Chopin"},
	{periods: []period{baroque, classical, middle}, figures: smallNote, when: []fact{graceFourth, long}, shapes: []string{"lean.crush", "small.early", "lean.quarter", "small.astride"}, stands: bySources,
		figure: "after a leap into a long note the grace note is short, and many play it on the beat; pianists differ"},
	{periods: []period{baroque, classical}, figures: smallNote, when: []fact{graceUpper}, unless: []fact{graceSlash}, shapes: []string{"lean.print", "lean.half", "lean.crush", "small.early"},
		figure: "of 100 unslashed grace notes from above about 90 fall on the beat and take their printed value"},
	{periods: []period{baroque, classical, middle}, figures: smallNote, when: []fact{graceLower, graceHalf}, unless: []fact{tight}, shapes: []string{"lean.half", "lean.print", "lean.quarter", "small.early"},
		figure: "written half as long as its main note, a grace note from below takes half, on notes of half a second and more"},
	{periods: []period{baroque, classical}, figures: smallNote, when: []fact{graceLower}, unless: []fact{tight}, shapes: []string{"lean.print", "lean.quarter", "small.early", "lean.crush"}, stands: bySources,
		figure: "on notes of half a second and more most grace notes from below take their printed value; pianists differ"},
	{periods: []period{middle}, figures: smallNote, when: []fact{graceUpper, short}, shapes: []string{"lean.quarter", "small.early", "lean.crush", "lean.half"}, stands: bySources,
		figure: "from above on a note shorter than a quarter of a second pianists differ: some play all before the beat, some most on it"},
	{periods: []period{classical, middle}, figures: smallNote, shapes: []string{"small.early", "lean.crush", "lean.print", "lean.quarter"},
		figure: "from below or by leap about half are played before the beat; on the beat they take a tenth to a quarter of the note"},
	{periods: []period{baroque, classical, middle}, figures: smallNotes, when: []fact{graceSlide, graceTiny}, shapes: []string{"small.print", "small.quick", "small.early", "small.around"},
		figure: "three of four slides of two or three notes begin on the beat"},
	{periods: []period{baroque, classical, middle}, figures: smallNotes, when: []fact{graceSlide}, shapes: []string{"small.quick", "small.around", "small.beat", "small.early"},
		figure: "three of four slides of two or three notes begin on the beat"},
	{figures: smallNotes, shapes: []string{"small.early", "small.around", "small.beat", "small.print", "small.ahead"},
		figure: "groups of three start before the beat in 55 to 83 of 100 cases, longer ones always"},
}

// askPerformers gives candidates their places among the habits that match.
func (r *reader) askPerformers(pl *place, found []candidate) {
	order, closest := 0, true
	for i := range habits {
		h := &habits[i]
		if !h.holds(pl) {
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

// counted are the composers in whose music was counted what pianists do.
var recorded = []string{"bach", "haydn", "mozart", "beethoven", "schubert", "chopin"}

// speaksOf reports whether a figure may be told of this score: it names no
// composer, or the score's own.
func (r *reader) speaksOf(figure string) bool {
	figure = strings.ToLower(figure)
	named := slices.DeleteFunc(slices.Clone(recorded), func(who string) bool { return !strings.Contains(figure, who) })
	return len(named) == 0 || slices.ContainsFunc(named, r.isBy)
}

// isBy reports whether the head of the score names a composer.
func (r *reader) isBy(who string) bool {
	return strings.Contains(heading(r.p), " "+strings.ToLower(who)+" ")
}

// holds reports whether a habit speaks of a place.
func (h *habit) holds(pl *place) bool {
	now := periodOf(pl.r.p, pl.r.trad.key)
	return slices.Contains(h.figures, pl.figure) && pl.all(h.when) && !pl.any(h.unless) &&
		(len(h.periods) == 0 || slices.ContainsFunc(h.periods, func(p period) bool { return p.covers(now) }))
}

func (p period) covers(now period) bool { return p == now || p == classical && now == haydn }
