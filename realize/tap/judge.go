package tap

import (
	"math"
	"slices"

	"agremens/realize/perf"
	"agremens/realize/sorting"
)

// beatGuess stands for the beat where neither options nor wants tell it.
const beatGuess = 600.0

// certainLeast is how many hits a round needs to be spoken of.
const certainLeast = 6

// Judge aligns taps with wants, hand by hand, and says what was heard. Wants
// and taps may come in any order; indexes in the result are theirs.
func Judge(want []Want, taps []Tap, o Options) Result {
	if !(o.BeatMS > 0) || !finite(o.BeatMS) {
		o.BeatMS = beatOf(want)
	}
	o.said = WordsIn(o.Words)
	var sides [2]*side
	var played [2][]OrnamentResult
	for h := range sides {
		s := newSide(perf.Hand(h), want, taps, o)
		s.match(o.BeatMS)
		s.gather()
		s.learnLead(o.Lead, o.BeatMS)
		sides[h] = s
	}
	expected := [2]expectation{expect(o, sides[perf.Left]), expect(o, sides[perf.Right])}
	for h, s := range sides {
		s.reconsider(expected[h])
		played[h] = s.ornaments()
	}
	r := Result{}
	for h, s := range sides {
		other := sides[1-h]
		for k := range played[h] {
			s.measure(&played[h][k])
			s.measureRelease(&played[h][k], taps)
		}
		for k := range played[h] {
			p := &played[h][k]
			s.measureAfter(p, o.BeatMS)
			s.measureBehind(p, o.BeatMS)
			if other.tapped() {
				p.measureWait(s, other, o.BeatMS)
				p.againstOther(s, other)
			}
			p.judgeClean(o.BeatMS)
		}
		if s.tapped() {
			r.Ornaments = append(r.Ornaments, played[h]...)
		}
		r.Leads[h] = s.lead
	}
	sorting.Stable(r.Ornaments, func(a, b OrnamentResult) int { return cmp(a.At, b.At) })
	r.Lead = r.Leads[perf.Right]
	if len(sides[perf.Left].strokes) > len(sides[perf.Right].strokes) {
		r.Lead = r.Leads[perf.Left]
	}
	r.mark(sides, want, taps)
	if r.Spoilt = r.spoilt(want, taps, o.Gaps); r.Spoilt != "" {
		r.withhold(o)
		return r
	}
	r.Together = together(sides[perf.Right], sides[perf.Left])
	r.Certain = r.Hit >= certainLeast && (len(r.Ornaments) == 0 || r.Lead.Known())
	r.speak(sides, want, o)
	r.Clean = r.clean(o.BeatMS)
	return r
}

// tapped reports whether the hand took part.
func (s *side) tapped() bool { return len(s.strokes) > 0 }

// mark lists what belongs together and counts it.
func (r *Result) mark(sides [2]*side, want []Want, taps []Tap) {
	var errs []float64
	type timed struct {
		at float64
		Mark
	}
	var marks []timed
	for _, s := range sides {
		r.swapped += s.swapped(want, taps)
		for i, o := range s.onsets {
			if s.hit[i] < 0 {
				free := o.inner()
				if !free {
					r.Missed++
				}
				marks = append(marks, timed{o.At, Mark{o.index, -1, 0, free}})
				continue
			}
			t := s.strokes[s.hit[i]]
			errs = append(errs, s.err(i))
			r.Hit++
			marks = append(marks, timed{o.At, Mark{o.index, t.all[0], s.err(i), false}})
			r.WrongKeys += wrongKeys(o, t, want, taps)
		}
		for j, t := range s.strokes {
			if s.of[j] < 0 {
				free := s.inFreeTrill(t.at)
				if !free {
					r.Extra++
				}
				marks = append(marks, timed{t.at, Mark{-1, t.all[0], 0, free}})
			}
		}
	}
	sorting.Stable(marks, func(a, b timed) int { return cmp(a.at, b.at) })
	for _, m := range marks {
		r.Marks = append(r.Marks, m.Mark)
	}
	r.Wanted = r.Hit + r.Missed
	r.MeanMS, r.SpreadMS = mean(errs), deviation(errs)
}

// wrongKeys counts the keys of a stroke that its onset does not hold. Where a
// key is unknown nothing is wrong.
func wrongKeys(o onset, t stroke, want []Want, taps []Tap) int {
	keys := map[int]bool{}
	for _, i := range o.all {
		if want[i].Key == 0 {
			return 0
		}
		keys[want[i].Key] = true
	}
	n := 0
	for _, i := range t.all {
		if k := taps[i].Key; k != 0 && !keys[k] {
			n++
		}
	}
	return n
}

// swapped counts neighbours whose keys changed places.
func (s *side) swapped(want []Want, taps []Tap) int {
	keys := func(i int) (planned, played int) {
		if s.hit[i] < 0 || len(s.onsets[i].all) > 1 {
			return 0, 0
		}
		return want[s.onsets[i].index].Key, taps[s.strokes[s.hit[i]].all[0]].Key
	}
	n := 0
	for i := 1; i < len(s.onsets); i++ {
		a, playedA := keys(i - 1)
		b, playedB := keys(i)
		if a != 0 && b != 0 && a != b && playedA == b && playedB == a {
			n++
		}
	}
	return n
}

// beatOf works the beat out of the wants: the usual distance between onsets
// on felt beats.
func beatOf(want []Want) float64 {
	var at []float64
	for _, w := range want {
		if w.Beat && finite(w.At) {
			at = append(at, w.At)
		}
	}
	slices.Sort(at)
	var gaps []float64
	for i := 1; i < len(at); i++ {
		if d := at[i] - at[i-1]; d > sameOnset {
			gaps = append(gaps, d)
		}
	}
	if len(gaps) == 0 {
		return beatGuess
	}
	return median(gaps)
}

// quarterOf returns the usual length of a quarter, ms, or 0.
func quarterOf(want []Want) float64 {
	order := make([]int, len(want))
	for i := range order {
		order[i] = i
	}
	sorting.Stable(order, func(a, b int) int { return cmp(want[a].At, want[b].At) })
	var quarters []float64
	for k := 1; k < len(order); k++ {
		a, b := want[order[k-1]], want[order[k]]
		if d := b.Onset.Sub(a.Onset).Float(); d > 0 && b.At > a.At {
			quarters = append(quarters, (b.At-a.At)/d)
		}
	}
	q := median(quarters)
	if math.IsInf(q, 0) || math.IsNaN(q) {
		return 0
	}
	return q
}
