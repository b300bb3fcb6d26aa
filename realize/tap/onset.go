package tap

import (
	"math"
	"slices"
	"sort"

	"agremens/realize/perf"
	"agremens/realize/sorting"
)

const (
	// Wants this close are one onset: two voices of one hand.
	sameOnset = 5.0
	// A tap this close to a hit, and itself without an onset, belongs to it:
	// two keys caught by one finger, or a switch that bounces. The fastest
	// trills have 60 ms a note.
	bounce = 12.0
	// Keys of a chord struck by hand fall within this (common practice, no source).
	chordSpread = 50.0

	reachLeast, reachMost = 60.0, 500.0
)

// onset is what one hand strikes at one moment.
type onset struct {
	Want
	index int   // of the want that stands for it
	all   []int // every want struck then
	// early and late are the intervals to the neighbours, bounded.
	early, late float64
}

// plain reports whether an onset may teach the player's lead: no ornament,
// and not the note that an ornament or the end of the bars leads to.
func (o onset) plain() bool { return o.Ornament == "" && !o.Landing && !o.Fermata }

// inner reports whether an onset is one of the uncounted notes of a free
// trill: all but its first.
func (o onset) inner() bool {
	return o.Ornament != "" && !o.Measured && o.Index > 0
}

// stroke is one movement of a hand: a tap, with those that belong to it.
type stroke struct {
	at  float64
	all []int // taps, its own first
}

// side is one hand's part of a round.
type side struct {
	hand    perf.Hand
	onsets  []onset
	strokes []stroke
	hit     []int // stroke of each onset, -1 missed
	of      []int // onset of each stroke, -1 extra
	lead    LeadInfo
	// spread is the standard deviation of one tap to reckon with: that of the
	// plain errors around the lead, more where few show it.
	spread float64
	// scatter is what these show, jitter the same between neighbours; 0 unknown.
	scatter, jitter float64
}

// err returns the raw error of a hit onset.
func (s *side) err(i int) float64 { return s.strokes[s.hit[i]].at - s.onsets[i].At }

func newSide(hand perf.Hand, want []Want, taps []Tap, o Options) *side {
	s := &side{hand: hand}
	order := make([]int, 0, len(want))
	for i, w := range want {
		if w.Hand == hand && !w.Tied && finite(w.At) && !inGap(o.Gaps, w.At) {
			order = append(order, i)
		}
	}
	sorting.Stable(order, func(a, b int) int { return cmp(want[a].At, want[b].At) })
	for _, i := range order {
		if last := len(s.onsets) - 1; last >= 0 && want[i].At-s.onsets[last].At <= sameOnset &&
			(want[i].Ornament == "" || want[i].Ornament != s.onsets[last].Ornament) {
			s.onsets[last].join(want[i], i)
			continue
		}
		s.onsets = append(s.onsets, onset{Want: want[i], index: i, all: []int{i}})
	}
	most := math.Min(reachMost, 0.75*o.BeatMS)
	for i := range s.onsets {
		o := &s.onsets[i]
		o.early, o.late = most, most
		if i > 0 {
			o.early = clamp(o.At-s.onsets[i-1].At, reachLeast, most)
		}
		if i+1 < len(s.onsets) {
			o.late = clamp(s.onsets[i+1].At-o.At, reachLeast, most)
		}
	}
	s.strokes = newStrokes(hand, taps, o.Gaps)
	return s
}

// join adds a want of the same moment. An ornament's note stands for the
// onset before a plain one.
func (o *onset) join(w Want, index int) {
	o.all = append(o.all, index)
	landing, fermata := o.Landing || w.Landing, o.Fermata || w.Fermata
	if o.Ornament == "" && w.Ornament != "" {
		o.Want, o.index = w, index
	}
	o.Landing, o.Fermata = landing, fermata
}

func clamp(x, least, most float64) float64 { return math.Max(least, math.Min(x, most)) }

func newStrokes(hand perf.Hand, taps []Tap, gaps []Span) []stroke {
	var order []int
	for i, t := range taps {
		if t.Hand == hand && finite(t.At) && !inGap(gaps, t.At) {
			order = append(order, i)
		}
	}
	sorting.Stable(order, func(a, b int) int { return cmp(taps[a].At, taps[b].At) })
	var strokes []stroke
	for _, i := range order {
		strokes = append(strokes, stroke{taps[i].At, []int{i}})
	}
	return strokes
}

// match aligns the hand's strokes with its onsets.
func (s *side) match(beat float64) {
	targets := make([]target, len(s.onsets))
	for i, o := range s.onsets {
		targets[i] = target{o.At, o.early, o.late, 1}
		if o.inner() {
			targets[i].miss = freeNote
		}
	}
	sources := make([]source, len(s.strokes))
	for j, t := range s.strokes {
		sources[j] = source{t.at, 1}
		switch {
		case j > 0 && t.at-s.strokes[j-1].at <= s.oneStroke(t.at):
			sources[j].extra = besideNote
		case s.inFreeTrill(t.at):
			sources[j].extra = freeNote
		}
	}
	s.hit, _ = newAligner(beat).align(targets, sources)
	// A player without help may keep another tempo than the one wanted and end
	// seconds away: follow the line the first alignment shows, while that
	// finds more.
	for range 4 {
		bend := s.localSlope()
		if len(targets) == 0 || math.Abs(bend)*(targets[len(targets)-1].at-targets[0].at) < offsetRange/2 {
			break
		}
		bent := slices.Clone(targets)
		for i := range bent {
			bent[i].at += bend * (s.onsets[i].At - s.onsets[0].At)
		}
		hit, _ := newAligner(beat).align(bent, sources)
		if hits(hit) <= hits(s.hit) {
			break
		}
		s.hit = hit
	}
	s.link()
}

// oneStroke returns how close taps of one stroke may lie at a time: those of a
// chord come one after the other.
func (s *side) oneStroke(t float64) float64 {
	i := s.before(t)
	for k := max(0, i); k <= i+1 && k < len(s.onsets); k++ {
		if o := s.onsets[k]; len(o.all) > 1 && math.Abs(o.At-t) <= offsetUsual+chordSpread {
			return chordSpread
		}
	}
	return bounce
}

func hits(hit []int) int {
	n := 0
	for _, j := range hit {
		if j >= 0 {
			n++
		}
	}
	return n
}

// localSlope returns the median slope of errors between hits a few notes apart.
func (s *side) localSlope() float64 {
	const apart = 8
	var at, errs, slopes []float64
	for i := range s.onsets {
		if s.hit[i] >= 0 {
			at, errs = append(at, s.onsets[i].At), append(errs, s.err(i))
		}
	}
	for k := 0; k+apart < len(at); k++ {
		slopes = append(slopes, (errs[k+apart]-errs[k])/(at[k+apart]-at[k]))
	}
	return median(slopes)
}

// link rebuilds the way back from strokes to onsets.
func (s *side) link() {
	s.of = make([]int, len(s.strokes))
	for j := range s.of {
		s.of[j] = -1
	}
	for i, j := range s.hit {
		if j >= 0 {
			s.of[j] = i
		}
	}
}

// inFreeTrill reports whether a time lies between the first note of a free
// trill and the onset after it.
func (s *side) inFreeTrill(t float64) bool {
	i := s.before(t)
	return i >= 0 && s.onsets[i].Ornament != "" && !s.onsets[i].Measured
}

// before returns the last onset at or before a time, or -1.
func (s *side) before(t float64) int {
	return sort.Search(len(s.onsets), func(i int) bool { return s.onsets[i].At > t }) - 1
}

// gather gives a hit the strokes beside it that no onset has: keys of a chord
// do not come down at once, and switches bounce.
func (s *side) gather() {
	absorbed := make([]bool, len(s.strokes))
	for j := range s.strokes {
		if s.of[j] >= 0 {
			continue
		}
		if i := s.ownerNear(j); i >= 0 {
			owner := &s.strokes[s.hit[i]]
			owner.all = append(owner.all, s.strokes[j].all...)
			absorbed[j] = true
		}
	}
	var kept []stroke
	place := make([]int, len(s.strokes))
	for j, t := range s.strokes {
		place[j] = len(kept)
		if !absorbed[j] {
			kept = append(kept, t)
		}
	}
	s.strokes = kept
	for i, j := range s.hit {
		if j >= 0 {
			s.hit[i] = place[j]
		}
	}
	s.link()
}

// ownerNear returns the onset whose hit stands so near that stroke j belongs
// to it, or -1.
func (s *side) ownerNear(j int) int {
	for _, by := range [2]int{-1, 1} {
		for k := j + by; k >= 0 && k < len(s.strokes); k += by {
			apart := math.Abs(s.strokes[k].at - s.strokes[j].at)
			if apart > chordSpread {
				break
			}
			if s.of[k] < 0 {
				continue
			}
			if apart <= bounce || len(s.onsets[s.of[k]].all) > len(s.strokes[k].all) {
				return s.of[k]
			}
			break
		}
	}
	return -1
}

func inGap(gaps []Span, t float64) bool {
	return slices.ContainsFunc(gaps, func(g Span) bool { return g.holds(t) })
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func cmp(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
