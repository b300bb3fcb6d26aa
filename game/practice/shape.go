package practice

import (
	"math"
	"slices"

	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/sorting"
	"agremens/realize/tap"
	"agremens/synth"
)

// struck returns how many notes of the chosen way are struck.
func struck(o *realize.Ornament) int {
	n := 0
	for _, note := range chosen(o).Notes {
		if !note.Tied {
			n++
		}
	}
	return n
}

// keep leaves of a plan's wants those that use allows.
func keep(p *round.Plan, use func(i int) bool) {
	wants, frames := p.Wants[:0:0], p.Frames[:0:0]
	for i := range p.Wants {
		if use(i) {
			wants, frames = append(wants, p.Wants[i]), append(frames, p.Frames[i])
		}
	}
	p.Wants, p.Frames = wants, frames
}

// firstNotes leaves the first n notes of every ornament.
func firstNotes(n int) func(*round.Plan) {
	return func(p *round.Plan) {
		before := passed(p)
		keep(p, func(i int) bool { return p.Wants[i].Ornament == "" || before[i] < n })
		part(p)
	}
}

// lastNotes leaves the last n notes of every ornament.
func lastNotes(n int) func(*round.Plan) {
	return func(p *round.Plan) {
		before, all := passed(p), map[string]int{}
		for i := range p.Wants {
			all[p.Wants[i].Ornament]++
		}
		keep(p, func(i int) bool {
			id := p.Wants[i].Ornament
			return id == "" || before[i] >= all[id]-n
		})
		part(p)
	}
}

// passed counts for each want the notes of its ornament before it.
func passed(p *round.Plan) []int {
	n, seen := make([]int, len(p.Wants)), map[string]int{}
	for i := range p.Wants {
		id := p.Wants[i].Ornament
		n[i] = seen[id]
		seen[id]++
	}
	return n
}

// part makes what is left of the ornaments an exact figure: a few notes of a
// free trill are no free trill.
func part(p *round.Plan) {
	for i := range p.Wants {
		if p.Wants[i].Ornament != "" {
			p.Wants[i].Measured = true
		}
	}
}

// beatsAround leaves the ornaments and puts the beats, those counted in too,
// in place of the other notes.
func beatsAround(p *round.Plan) {
	keep(p, func(i int) bool { return p.Wants[i].Ornament != "" })
	ornaments := slices.Clone(p.Wants)
	frames := slices.Clone(p.Frames)
	hand := perf.Right
	if p.Settings.Tap == round.LeftHand {
		hand = perf.Left
	}
	for _, c := range p.Sequence.Clicks {
		if c.Kind == synth.Sub || under(ornaments, frames, c.At, p) {
			continue
		}
		at := music.F(int64(math.Round(p.Quarters(float64(c.At))*960)), 960)
		p.Wants = append(p.Wants, tap.Want{
			At: float64(c.At) * 1000 / float64(p.Rate), Hand: hand, Beat: true, Strong: c.Kind == synth.Strong,
			Onset: at, Written: at, Measured: true, Count: 1,
		})
		p.Frames = append(p.Frames, c.At)
	}
	order(p)
	for i := 1; i < len(p.Wants); i++ {
		p.Wants[i].Landing = p.Wants[i].Ornament == "" && p.Wants[i-1].Ornament != ""
	}
}

// under reports whether a click falls on or into an ornament.
func under(wants []tap.Want, frames []int64, at int64, p *round.Plan) bool {
	const near = 0.03 // seconds: the ornament's own note stands for the beat
	slack := int64(near * float64(p.Rate))
	first, last := map[string]int64{}, map[string]int64{}
	for i, w := range wants {
		if _, ok := first[w.Ornament]; !ok {
			first[w.Ornament] = frames[i]
		}
		last[w.Ornament] = frames[i]
	}
	for id, from := range first {
		if at >= from-slack && at <= last[id]+slack {
			return true
		}
	}
	return false
}

// order sorts wants and frames by time.
func order(p *round.Plan) {
	index := make([]int, len(p.Wants))
	for i := range index {
		index[i] = i
	}
	sorting.Stable(index, func(a, b int) int { return int(p.Frames[a] - p.Frames[b]) })
	wants, frames := make([]tap.Want, len(index)), make([]int64, len(index))
	for to, from := range index {
		wants[to], frames[to] = p.Wants[from], p.Frames[from]
	}
	p.Wants, p.Frames = wants, frames
}
