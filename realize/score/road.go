package score

import "slices"

// Step is one measure on the way through a piece.
type Step struct {
	Measure int // index
	// Pass counts from 1 how often the measure has been played.
	Pass int
}

// RoadOptions say which signs are followed.
type RoadOptions struct {
	// Repeats are played as often as they say, with their endings; else once,
	// with the last ending.
	Repeats bool
	// Jumps (da capo, dal segno, to the coda, fine) are followed.
	Jumps bool
	// Again plays repeats after a da capo or dal segno as well; the rule is
	// that they are then left out (common practice, no source).
	Again bool
}

// maxRoad bounds the way through a piece: no one plays so many measures, and
// a file could ask for millions.
const maxRoad = 20_000

// HasRoad reports whether the piece has signs that [Passage.Road] can follow.
func (p *Passage) HasRoad() bool {
	return slices.ContainsFunc(p.Measures, func(m Measure) bool { return m.RepeatEnd || len(m.Endings) > 0 || m.jump() != "" })
}

// Turns reports whether the measures [from, to) hold repeats with or without
// endings, and a da capo or dal segno.
func (p *Passage) Turns(from, to int) (repeats, jumps bool) {
	for i := max(0, from); i < min(len(p.Measures), to); i++ {
		m := &p.Measures[i]
		repeats = repeats || m.RepeatEnd
		jumps = jumps || m.jump() != ""
	}
	return repeats, jumps
}

// jump returns the jump at the end of a measure, "" if there is none.
func (m *Measure) jump() string {
	for _, j := range []string{"dacapo", "dalsegno"} {
		if slices.Contains(m.Jumps, j) {
			return j
		}
	}
	return ""
}

// Road returns the order in which the measures are played. Without options it
// is the last ending of every repeat and nothing twice. Jumps count from the
// end of their measure, segno and coda are its beginning; fine and "to coda"
// count after a jump only. The way ends after [maxRoad] measures.
func (p *Passage) Road(o RoadOptions) []Step {
	r := &road{p: p, o: o, left: map[int]int{}, played: make([]int, len(p.Measures)), pass: 1}
	for r.at < len(p.Measures) && len(r.steps) < maxRoad {
		if !r.skipped() {
			r.played[r.at]++
			r.steps = append(r.steps, Step{r.at, r.played[r.at]})
			if r.leave() {
				break
			}
			continue
		}
		r.at++
	}
	return r.steps
}

// RoadIn is [Passage.Road] through the measures [from, to) alone: a da capo
// goes back to the first of them.
func (p *Passage) RoadIn(from, to int, o RoadOptions) []Step {
	road := p.Cut(from, to).Road(o)
	for i := range road {
		road[i].Measure += from
	}
	return road
}

// road is the way through a piece while it is walked.
type road struct {
	p      *Passage
	o      RoadOptions
	at     int         // measure to be played
	start  int         // where the repeat goes back to
	pass   int         // of the repeated section, from 1
	left   map[int]int // how often a repeat end has still to go back
	jumped bool        // a da capo or dal segno was followed
	played []int
	steps  []Step
}

// repeating says that repeats are followed here.
func (r *road) repeating() bool { return r.o.Repeats && (!r.jumped || r.o.Again) }

// skipped reports whether the measure lies under an ending that this pass
// leaves out.
func (r *road) skipped() bool {
	m := &r.p.Measures[r.at]
	if m.RepeatStart && r.start != r.at {
		r.start, r.pass = r.at, 1
	}
	if len(m.Endings) == 0 {
		return false
	}
	if r.repeating() {
		return !slices.Contains(m.Endings, r.pass)
	}
	// The last ending: no other follows this bracket.
	return slices.Max(m.Endings) < r.lastEnding()
}

// lastEnding is the highest number of the group of brackets around the measure.
func (r *road) lastEnding() int {
	last := 0
	for i := r.at; i < len(r.p.Measures) && len(r.p.Measures[i].Endings) > 0; i++ {
		if i > r.at && r.p.Measures[i].RepeatStart {
			break
		}
		last = max(last, slices.Max(r.p.Measures[i].Endings))
	}
	return last
}

// leave goes on from the measure that was played and reports the end.
func (r *road) leave() (end bool) {
	m := &r.p.Measures[r.at]
	if m.RepeatEnd && r.goesBack(m) {
		r.at = r.start
		r.pass++
		return false
	}
	if r.o.Jumps && r.jumped {
		if slices.Contains(m.Jumps, "fine") {
			return true
		}
		if slices.Contains(m.Jumps, "tocoda") {
			if to := r.coda(); to >= 0 {
				r.jumpTo(to)
				return false
			}
		}
	}
	if r.o.Jumps && !r.jumped && m.jump() != "" {
		to := 0
		if m.jump() == "dalsegno" {
			to = max(0, r.segno())
		}
		r.jumped = true
		clear(r.left)
		r.jumpTo(to)
		return false
	}
	if m.RepeatEnd {
		r.start, r.pass = r.at+1, 1
	}
	r.at++
	return false
}

func (r *road) jumpTo(to int) { r.at, r.start, r.pass = to, to, 1 }

// goesBack counts a repeat end down. Within endings the brackets say how
// often; a bracket for the last pass that ends with dots repeats no more.
func (r *road) goesBack(m *Measure) bool {
	if !r.repeating() {
		return false
	}
	if len(m.Endings) > 0 {
		return r.pass < max(2, r.groupEnding()) // a first ending may be the only one
	}
	times, counting := r.left[r.at]
	if !counting {
		times = max(m.Times, 2) - 1
	}
	if times == 0 {
		delete(r.left, r.at) // an outer repeat may come by again
		return false
	}
	r.left[r.at] = times - 1
	return true
}

// groupEnding is the highest number of all brackets of the repeat.
func (r *road) groupEnding() int {
	last := r.lastEnding()
	for i := r.at; i >= r.start && len(r.p.Measures[i].Endings) > 0; i-- {
		last = max(last, slices.Max(r.p.Measures[i].Endings))
	}
	return last
}

// coda returns where "to coda" leads: the next coda sign that is not itself a
// "to coda", -1 if there is none.
func (r *road) coda() int {
	for i := r.at + 1; i < len(r.p.Measures); i++ {
		if j := r.p.Measures[i].Jumps; slices.Contains(j, "coda") && !slices.Contains(j, "tocoda") {
			return i
		}
	}
	return -1
}

// segno returns the segno before a dal segno, -1 if there is none.
func (r *road) segno() int {
	for i := r.at; i >= 0; i-- {
		if slices.Contains(r.p.Measures[i].Jumps, "segno") {
			return i
		}
	}
	return -1
}
