package tap

import (
	"math"
	"slices"

	"agremens/realize/perf"
	"agremens/realize/score"
)

// OrnamentResult is what one playing of one ornament was like. Times are
// measured from the player's own lead.
type OrnamentResult struct {
	Ornament string
	Name     string
	Note     score.ID
	Hand     perf.Hand
	At       float64 // its first struck note, ms
	// Wanted and Tapped count struck notes, from the first to before the landing.
	Wanted, Tapped int
	Free           bool // a free trill: the count is the player's own

	// Start is how late it starts against the other hand where that was
	// tapped at the same moment, else against the beat, ms.
	Start Amount
	// Landing is how late the next note after it comes, ms; unknown where no
	// note follows or a fermata lies between.
	Landing Amount
	// Bump is how much longer than planned the step from its last note to
	// the landing took, ms.
	Bump Amount
	// Uneven is the scatter of its quick intervals, as a share of them.
	Uneven Amount
	// Limp is the length of upper notes over that of lower ones, planned 1.
	Limp Amount
	// Crowd is the length of the first quick intervals over the last ones, planned 1.
	Crowd Amount
	// Pace is the played length of the quick notes over the planned one: under 1 is rushed.
	Pace Amount
	// Held is how late the quick notes begin after a held first one, ms.
	Held Amount
	// Last is the third interval of a turn's three quick notes over the mean
	// of the first two, planned 1.
	Last Amount
	// Lean is how late the main note follows a single leaning one, beyond the start's own lateness, ms.
	Lean Amount
	// Release is how late the keys were let go, on average, ms; known where
	// wants and taps both tell it.
	Release Amount
	// Rate is the played speed of the quick notes, notes a second.
	Rate Amount
	// After is the played length of the two beats after it over the planned
	// one: under 1 rushes.
	After Amount
	// Behind is how late its landing and the plain notes of the two beats after
	// it are on average, ms.
	Behind Amount
	// Wait is the length the other hand gave to the time under it over the planned one.
	Wait Amount

	// BeforeBeat: the small notes came before the beat and the main note on it.
	BeforeBeat bool
	// NoEnding: its last two notes were left out.
	NoEnding bool
	// Clean says that it met the standard: start and landing within
	// max(40 ms, 5 % of the beat), even, no note missing (a free trill's inner
	// notes aside), the other hand within 5 %.
	Clean bool

	onsets  []int
	landing int // onset index, -1 none
	fermata bool
	fixed   bool   // a figure of one number of notes: no alternation that may go on
	upper   bool   // holds a note above its principal
	still   Amount // how late the later half of these is, ms
	own     Amount // start against the hand's own lead, whatever the other hand did
	end     Amount // last stroke against the last note, ms
}

// Amount is a number that may be unknown, with its standard error; a ratio's
// error is relative.
type Amount struct {
	V, SE float64
	Known bool
}

func amount(v, se float64) Amount { return Amount{v, se, true} }

// Limits of a clean ornament. Start, landing and the other hand are the
// climb's written definition; the other three are ours, set where a listener
// would clearly hear it: about 6 ms in 100 are just noticeable for one tone
// (Friberg and Sundberg 1995), and a hand's own scatter is twice that.
const (
	cleanMS     = 40.0
	cleanBeat   = 0.05
	cleanWait   = 0.05
	cleanUneven = 0.30
	cleanLimp   = 0.75 // or its inverse
	heldRatio   = 1.5  // an interval this much longer than the quickest is no quick one
	second      = 1000.0
)

func cleanLimit(beat float64) float64 { return math.Max(cleanMS, cleanBeat*beat) }

// ornaments finds every playing of every ornament in the hand's onsets.
func (s *side) ornaments() []OrnamentResult {
	var found []OrnamentResult
	open := map[string]int{}
	for i, o := range s.onsets {
		if o.Ornament == "" {
			continue
		}
		k, ok := open[o.Ornament]
		// A lower index, or the same again, is the next time through.
		if ok && s.onsets[found[k].onsets[len(found[k].onsets)-1]].Index >= o.Index {
			ok = false
		}
		if !ok {
			k = len(found)
			open[o.Ornament] = k
			found = append(found, OrnamentResult{
				Ornament: o.Ornament, Name: o.Name, Note: o.Note, Hand: s.hand, At: o.At, landing: -1,
			})
		}
		r := &found[k]
		r.onsets = append(r.onsets, i)
		r.Free = r.Free || !o.Measured
		r.fermata = r.fermata || o.Fermata
	}
	for k := range found {
		r := &found[k]
		r.Wanted = len(r.onsets)
		r.fixed, r.upper = !r.Free && !s.alternates(r), s.hasUpper(r)
		if next := r.onsets[len(r.onsets)-1] + 1; next < len(s.onsets) {
			r.landing = next
			r.fermata = r.fermata || s.onsets[next].Fermata
		}
	}
	return found
}

// alternates reports whether an ornament is a row of two notes in turn, as
// trills are, whatever leads into it and out of it: four notes or more, of
// which one more or less may be right. A mordent's three are not.
func (s *side) alternates(r *OrnamentResult) bool {
	n := len(r.onsets)
	if n < 4 {
		return false
	}
	degree := func(k int) int { return s.onsets[r.onsets[k]].Degree }
	for k := 0; k+3 < n; k++ {
		if degree(k) == degree(k+2) && degree(k+1) == degree(k+3) && degree(k) != degree(k+1) {
			return true
		}
	}
	return false
}

func (s *side) hasUpper(r *OrnamentResult) bool {
	return slices.ContainsFunc(r.onsets, func(i int) bool { return s.onsets[i].Degree > 0 })
}

// window returns the strokes that belong to an ornament: those between the
// stroke before it and its landing, as the alignment has them, less those
// that other onsets hold.
func (s *side) window(r *OrnamentResult) []int {
	first, last := r.onsets[0], r.onsets[len(r.onsets)-1]
	var from, to float64
	if prev := first - 1; prev >= 0 {
		if s.hit[prev] >= 0 {
			from = s.strokes[s.hit[prev]].at
		} else {
			at := (s.onsets[prev].At + s.onsets[first].At) / 2
			from = at + s.lead.at(at)
		}
	} else {
		from = s.onsets[first].At - reachMost
	}
	if r.landing >= 0 {
		if s.hit[r.landing] >= 0 {
			to = s.strokes[s.hit[r.landing]].at
		} else {
			at := (s.onsets[last].At + s.onsets[r.landing].At) / 2
			to = at + s.lead.at(at)
		}
	} else {
		to = s.onsets[last].At + reachMost
	}
	own := map[int]bool{}
	for _, i := range r.onsets {
		own[i] = true
	}
	var inside []int
	for j, t := range s.strokes {
		if t.at > from && t.at < to && (s.of[j] < 0 || own[s.of[j]]) {
			inside = append(inside, j)
		}
	}
	return inside
}

// measure fills in what one playing was like.
func (s *side) measure(r *OrnamentResult) {
	inside := s.window(r)
	r.Tapped = len(inside)
	if r.Tapped == r.Wanted {
		// As many as planned: they are the planned ones, in order.
		for k, i := range r.onsets {
			s.hit[i] = inside[k]
		}
		s.link()
	}
	s.measureEdges(r, inside)
	s.measureEnding(r, inside)
	s.measureQuick(r)
	s.measureLean(r)
}

// late returns how late an onset was hit against the player's lead.
func (s *side) late(i int) (float64, bool) {
	if i < 0 || s.hit[i] < 0 {
		return 0, false
	}
	return s.err(i) - s.lead.at(s.onsets[i].At), true
}

func (s *side) measureEdges(r *OrnamentResult, inside []int) {
	first, last := r.onsets[0], r.onsets[len(r.onsets)-1]
	if e, ok := s.late(first); ok && s.lead.Known() {
		r.Start = amount(e, s.spread)
		r.own = r.Start
	}
	if r.landing < 0 || r.fermata {
		return
	}
	e, ok := s.late(r.landing)
	if !ok {
		return
	}
	if s.lead.Known() {
		r.Landing = amount(e, s.spread)
	}
	if before, ok := s.late(last); ok && r.Tapped == r.Wanted {
		r.Bump = amount(e-before, s.spread*math.Sqrt2)
	} else if r.Free && r.Tapped >= 3 {
		// The player's own last step is what the landing is held against.
		gaps := s.gaps(inside)
		own := s.strokes[s.hit[r.landing]].at - s.strokes[inside[len(inside)-1]].at
		r.Bump = amount(own-median(gaps), s.spread*math.Sqrt2)
	}
}

// measureEnding looks for small notes squeezed in before the beat and for an
// ending left out.
func (s *side) measureEnding(r *OrnamentResult, inside []int) {
	n := len(r.onsets)
	if n < 2 || len(inside) < 2 {
		return
	}
	at := func(k int) float64 { return s.onsets[r.onsets[k]].At }
	tap := func(j int) float64 { t := s.strokes[inside[j]].at; return t - s.lead.at(t) }
	last := len(inside) - 1
	length := at(n-1) - at(0)
	r.end = amount(tap(last)-at(n-1), s.spread)
	if !s.heldFirst(r) && length >= 60 && (len(inside) == n || n > 3 && len(inside) == n-1) &&
		math.Abs(tap(last)-at(0)) <= math.Max(cleanMS, 0.3*length) && tap(0) < at(0)-math.Max(30, 0.2*math.Min(length, 200)) &&
		s.holdsLast(r) {
		r.BeforeBeat = true
	}
	ends := n >= 6 && s.onsets[r.onsets[n-2]].Degree < s.onsets[r.onsets[n-1]].Degree && s.onsets[r.onsets[n-2]].Degree < 0
	if ends && len(inside) == n-2 {
		quick := at(n-1) - at(n-2)
		r.NoEnding = math.Abs(tap(last)-at(n-3)) < math.Abs(tap(last)-at(n-1)) &&
			math.Abs(tap(last)-at(n-3)) < 0.8*quick
	}
}

// heldFirst reports whether the first note is held before the quick ones, as
// in a turn after the note.
func (s *side) heldFirst(r *OrnamentResult) bool {
	n := len(r.onsets)
	return n >= 3 && s.planned(r, 0) > heldRatio*s.planned(r, 1)
}

// holdsLast reports whether the last note is held longer than the others, as
// in short trills, mordents and appoggiaturas; a shake to the end is never
// played before the beat.
func (s *side) holdsLast(r *OrnamentResult) bool {
	n := len(r.onsets)
	if r.landing < 0 {
		return true
	}
	return s.planned(r, n-1) >= 0.9*s.planned(r, n-2) && (n <= 3 || s.planned(r, n-1) > heldRatio*s.planned(r, n-2))
}
