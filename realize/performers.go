package realize

import (
	"slices"
	"strings"
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
func (r *reader) periodOf() period {
	switch who := heading(r.p); {
	case strings.Contains(who, "beethoven"):
		return middle
	case strings.Contains(who, " haydn "), strings.Contains(who, " hob "):
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
		figure: "where a trill sign and a short trill's stand on one note 10 of 10 performances play four notes"},
	// Trills. Where the printed notes already turn round the principal no
	// termination is added.
	{periods: []period{baroque}, figures: longTrills, when: []fact{prevUpper}, unless: []fact{suffixWritten}, shapes: []string{"trill.main", "trill.upper", "trill.stop"},
		figure: "after the upper neighbour only 43 of 100 Bach trills are started above"},
	{periods: []period{baroque}, figures: longTrills, when: []fact{nextUp}, unless: []fact{suffixWritten, suffixNear, prevSame}, shapes: []string{"trill.main", "trill.upper", "trill.main.suffix", "trill.upper.suffix"}, stands: bySources,
		figure: "where the line goes on upwards 15 of 22 performances at 8 places in 4 pieces start on the main note; pianists differ"},
	{periods: []period{baroque}, figures: longTrills, shapes: []string{"trill.upper", "trill.main", "trill.upper.suffix"},
		figure: "71 of 100 Bach trills start above, 24 get a termination"},
	{periods: []period{classical}, figures: longTrills, when: []fact{nextTrilled}, unless: []fact{suffixWritten, short}, shapes: []string{"trill.main", "trill.upper"}, stands: bySources,
		figure: "in a chain of trills many play no termination before the last; pianists differ"},
	{periods: []period{classical, middle, later}, figures: longTrills, when: []fact{short}, unless: []fact{suffixWritten}, shapes: []string{"short.three", "trill.main", "trill.upper", "trill.main.suffix"},
		figure: "under a quarter of a second four of five Mozart trills are three notes from the main note; 7 of 100 trills this short get a termination"},
	{periods: []period{classical, middle, later}, figures: longTrills, when: []fact{suffixNear}, shapes: []string{"trill.main", "trill.upper", "trill.main.open", "trill.upper.open"}, stands: byReport,
		figure: "where the termination is printed no other is added (97 of 100)"},
	{periods: []period{middle, later}, figures: longTrills, when: []fact{nextSame}, shapes: []string{"trill.upper.open", "trill.main.open", "trill.main"}, stands: bySources,
		figure: "before the same note many stop the shake above, so that the key is free; pianists differ"},
	{periods: []period{classical, middle, later}, figures: longTrills, when: []fact{dotted, nextDown, nextQuick}, unless: []fact{suffixWritten}, shapes: []string{"trill.main", "trill.main.suffix", "trill.upper"}, stands: bySources,
		figure: "a short falling note stands for the termination; pianists differ"},
	{periods: []period{haydn}, figures: longTrills, when: []fact{tight}, shapes: []string{"trill.upper", "trill.main"}, stands: byReport,
		figure: "61 of 100 Haydn trills start above, shorter ones without a termination"},
	{periods: []period{haydn}, figures: longTrills, shapes: []string{"trill.upper.suffix", "trill.upper", "trill.below", "trill.main"}, stands: byReport,
		figure: "61 of 100 Haydn trills start above; from half a second up 65 get a termination"},
	{periods: []period{classical}, figures: longTrills, when: []fact{prevSame}, unless: []fact{suffixWritten}, shapes: []string{"trill.upper", "trill.upper.suffix", "trill.main"},
		figure: "after the same note most start above"},
	{periods: []period{classical}, figures: longTrills, when: []fact{tight}, shapes: []string{"trill.main", "trill.upper", "trill.main.straight", "trill.main.suffix"},
		figure: "Mozart trills under a second start on the main note in 65 of 100"},
	{periods: []period{classical}, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.upper.suffix", "trill.main", "trill.upper"},
		figure: "Mozart trills under a second start on the main note in 65 of 100; from 0.4 seconds most get a termination"},
	{periods: []period{middle, later}, figures: longTrills, shapes: []string{"trill.main.suffix", "trill.main", "trill.upper", "trill.upper.suffix", "trill.main.straight"},
		figure: "92 of 100 Beethoven trills and 94 of 100 Schubert trills start on the main note; 77 and 63 get a termination"},

	{periods: []period{baroque}, figures: shortTrills, when: []fact{prevUpper}, unless: []fact{nextUp}, shapes: []string{"short.three", "short.four"},
		figure: "after the upper neighbour more than half start on the main note"},
	{periods: []period{later}, figures: shortTrills, shapes: []string{"short.early", "short.three"}, stands: byReport,
		figure: "95 of 100 Schubert short trills are three notes from the main note; 65 come before the beat, and 85 of Chopin's"},
	{periods: []period{classical, middle}, figures: shortTrills, shapes: []string{"short.three", "short.four"}, stands: offered,
		figure: "62 of 100 Haydn short trills and 76 of Beethoven's are three notes from the main note"},
	{figures: []figure{shortTrillFigure, trillFigure}, when: []fact{fleeting}, shapes: []string{"short.three", "short.two"}, stands: offered,
		figure: "where the note is very short some play two notes only"},

	{figures: mordents, shapes: []string{"mordent.single"}, stands: offered,
		figure: "87 of 100 mordents are main, lower, main"},

	// Turns start on the main note and come late, except on short notes.
	{periods: []period{classical, middle, later}, figures: turns, when: []fact{underQuarter, prevUpper}, shapes: []string{"turn.main", "turn.dot", "turn.held"},
		figure: "after the upper neighbour turns start on the main note"},
	{periods: []period{classical}, figures: turns, when: []fact{underQuarter}, unless: []fact{dotted}, shapes: []string{"turn.even", "turn.held", "turn.main"},
		figure: "on values under a quarter about half start above, on the beat"},
	{periods: []period{classical, middle, later}, figures: turns, when: []fact{dotted}, shapes: []string{"turn.dot", "turn.dot.quick", "turn.late", "turn.main"},
		figure: "on longer values 96 of 100 turns come after the first fifth of the note"},
	{periods: []period{classical, middle, later}, figures: turns, shapes: []string{"turn.late", "turn.late.half", "turn.main", "turn.held"},
		figure: "87 of 100 Beethoven turns start on the main note, three of four late"},

	// Small notes. The strongest sign of a long one is what follows it: two
	// notes of half its principal's value.
	{periods: []period{classical}, figures: smallNote, when: []fact{graceUpper, graceRepeats, fullQuarter}, unless: []fact{graceSlash, aSecond}, shapes: []string{"lean.half", "lean.print", "lean.crush", "small.early"},
		figure: "a small note that repeats the note before leans: written short before a quarter it takes 0.45 of it in Mozart"},
	{periods: []period{classical}, figures: smallNote, when: []fact{graceUpper, pairOfHalves}, unless: []fact{graceSlash}, shapes: []string{"lean.print", "lean.half", "lean.quarter", "small.early"},
		figure: "before a note and two of half its length small notes from above fall on the beat in 97 of 100 and take the value they print"},
	{periods: []period{classical, middle}, figures: smallNote, when: []fact{graceUpper, pairOfHalves}, shapes: []string{"lean.half", "lean.print", "lean.quarter", "small.early"}, stands: byReport,
		figure: "before a note and two of half its length small notes from above take half, even slashed ones"},
	{periods: []period{middle}, figures: smallNote, when: []fact{graceUpper, prevSame}, shapes: []string{"small.early", "lean.crush", "lean.half", "lean.print"},
		figure: "63 of 100 small notes in Beethoven come before the beat; between repeated notes 26 of 29 performances at 20 places in 3 pieces"},
	{periods: []period{later}, figures: smallNote, shapes: []string{"small.early", "lean.crush", "lean.print", "small.astride"}, stands: byReport,
		figure: "three of four small notes in Schubert come before the beat, and 94 of 100 in Chopin"},
	{periods: []period{baroque, classical, middle}, figures: smallNote, when: []fact{graceFourth, long}, shapes: []string{"lean.crush", "small.early", "lean.quarter", "small.astride"}, stands: bySources,
		figure: "after a leap into a long note the small note is short, on the beat with many; pianists differ"},
	{periods: []period{baroque, classical}, figures: smallNote, when: []fact{graceUpper}, unless: []fact{graceSlash}, shapes: []string{"lean.print", "lean.half", "lean.crush", "small.early"},
		figure: "unslashed small notes from above fall on the beat in about 90 of 100 and take the value they print"},
	{periods: []period{baroque, classical, middle}, figures: smallNote, when: []fact{graceLower, graceHalf}, unless: []fact{tight}, shapes: []string{"lean.half", "lean.print", "lean.quarter", "small.early"},
		figure: "written half as long as its note, a small note from below takes half, on notes of half a second and more"},
	{periods: []period{baroque, classical}, figures: smallNote, when: []fact{graceLower}, unless: []fact{tight}, shapes: []string{"lean.print", "lean.quarter", "small.early", "lean.crush"}, stands: bySources,
		figure: "on notes of half a second and more most small notes from below take the value they print; pianists differ"},
	{periods: []period{middle}, figures: smallNote, when: []fact{graceUpper, short}, shapes: []string{"lean.quarter", "small.early", "lean.crush", "lean.half"}, stands: bySources,
		figure: "from above on a note under a quarter of a second; pianists differ, from all before the beat to most on it"},
	{periods: []period{classical, middle}, figures: smallNote, shapes: []string{"small.early", "lean.crush", "lean.print", "lean.quarter"},
		figure: "from below or by leap about half come before the beat; on the beat they take a tenth to a quarter"},
	{periods: []period{baroque, classical, middle}, figures: smallNotes, when: []fact{graceSlide, graceTiny}, shapes: []string{"small.print", "small.quick", "small.early", "small.around"},
		figure: "slides of two or three notes begin on the beat in three of four"},
	{periods: []period{baroque, classical, middle}, figures: smallNotes, when: []fact{graceSlide}, shapes: []string{"small.quick", "small.around", "small.beat", "small.early"},
		figure: "slides of two or three notes begin on the beat in three of four"},
	{figures: smallNotes, shapes: []string{"small.early", "small.around", "small.beat", "small.print", "small.ahead"},
		figure: "groups of three start before the beat in 55 to 83 of 100, longer ones always"},
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
	now := pl.r.periodOf()
	return slices.Contains(h.figures, pl.figure) && pl.all(h.when) && !pl.any(h.unless) &&
		(len(h.periods) == 0 || slices.ContainsFunc(h.periods, func(p period) bool { return p.covers(now) }))
}

func (p period) covers(now period) bool { return p == now || p == classical && now == haydn }
