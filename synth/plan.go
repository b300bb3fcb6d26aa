package synth

import (
	"cmp"
	"math"
	"slices"

	"agremens/realize/sorting"
)

// plan is a sequence made ready to be played: sorted, doubled notes merged,
// and every key let go a moment before it is struck again.
type plan struct {
	notes     []Note
	lean      []int64 // frames each note is held over on instruments without touch
	clicks    []Click
	length    int64
	loop      bool
	loopStart int64
}

// liftMS is how long before its next stroke a key comes up, where the note is
// long enough.
const liftMS = 45

func newPlan(seq Sequence, rate int) *plan {
	p := &plan{
		clicks: slices.Clone(seq.Clicks),
		length: seq.Length, loopStart: seq.LoopStart,
		loop: seq.Loop && seq.Length > seq.LoopStart,
	}
	sorting.Stable(p.clicks, func(a, b Click) int { return cmp.Compare(a.At, b.At) })
	p.notes = merged(seq.Notes)
	lift := int64(liftMS * rate / 1000)
	last := map[int]int{} // key → index of its latest note
	for i, n := range p.notes {
		if j, ok := last[n.Key]; ok {
			p.notes[j].End = lifted(p.notes[j], n.Start, lift)
		}
		last[n.Key] = i
	}
	if p.loop {
		p.liftAcrossLoop(last, lift)
	}
	p.lean = make([]int64, len(p.notes))
	next := map[int]int64{} // key → where it must be up
	for i := len(p.notes) - 1; i >= 0; i-- {
		n := p.notes[i]
		up, ok := next[n.Key]
		if !ok {
			up = math.MaxInt64
		}
		p.lean[i] = max(0, min(leaning(n.Strength, rate), up-n.End))
		next[n.Key] = n.Start - lift
	}
	return p
}

// leanMS is the most an appoggiatura is held over what follows.
const leanMS = 90

// leaning returns how long a note stronger than plain is held over where it
// cannot be louder: harpsichord and organ lean by length.
func leaning(strength float32, rate int) int64 {
	over := min(max(float64(strength-plain), 0)/0.3, 1)
	return int64(over * leanMS / 1000 * float64(rate))
}

// plain is the strength of a note without stress.
const plain = 0.6

// merged sorts the notes and makes one note of those that strike the same key
// at the same frame: the longest and strongest of them.
func merged(notes []Note) []Note {
	sorted := slices.Clone(notes)
	sorting.Stable(sorted, func(a, b Note) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.Key, b.Key))
	})
	out := sorted[:0]
	for _, n := range sorted {
		if k := len(out) - 1; k >= 0 && out[k].Start == n.Start && out[k].Key == n.Key {
			out[k].End = max(out[k].End, n.End)
			out[k].Strength = max(out[k].Strength, n.Strength)
			continue
		}
		out = append(out, n)
	}
	return out
}

// lifted returns where n ends when its key is struck again at next: lift
// frames before, but never less than two thirds of the way.
func lifted(n Note, next, lift int64) int64 {
	return min(n.End, next-min(lift, (next-n.Start)/3))
}

// liftAcrossLoop does the same where the loop closes.
func (p *plan) liftAcrossLoop(last map[int]int, lift int64) {
	seen := map[int]bool{}
	for _, n := range p.notes {
		if n.Start < p.loopStart || n.Start >= p.length || seen[n.Key] {
			continue
		}
		seen[n.Key] = true
		if j := last[n.Key]; p.notes[j].Start < p.length {
			p.notes[j].End = lifted(p.notes[j], n.Start+p.length-p.loopStart, lift)
		}
	}
}

// firstNote returns the index of the first note at or after a frame;
// firstClick the same of clicks.
func (p *plan) firstNote(at int64) int {
	i, _ := slices.BinarySearchFunc(p.notes, at, func(n Note, at int64) int { return cmp.Compare(n.Start, at) })
	return i
}

func (p *plan) firstClick(at int64) int {
	i, _ := slices.BinarySearchFunc(p.clicks, at, func(c Click, at int64) int { return cmp.Compare(c.At, at) })
	return i
}

// holding returns the end of the note that holds a key down over frame at.
func (p *plan) holding(key int, at int64) (end int64, ok bool) {
	for _, n := range p.notes {
		if n.Start >= at {
			break
		}
		if n.Key == key && n.End > at {
			end, ok = n.End, true
		}
	}
	return end, ok
}
