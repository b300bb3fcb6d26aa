package hear

import (
	"hash/fnv"
	"math"
)

// Ways to play that differ in their ornaments alone are aligned once: when the
// plain notes came does not depend on how an ornament between them is taken.

// alignment is where the groups of some notes were found.
type alignment struct {
	plain  uint64 // what was aligned, without the ornaments
	groups []group
	passes []pass
}

// mostAlignments is how many are kept: both hands, and each by itself.
const mostAlignments = 4

// follow is [plan.follow], or what it found for the same plain notes before.
func (l *Listener) follow(p *plan, strikes []Strike, asked bool) []pass {
	plain := p.plainly(strikes, asked)
	for _, a := range l.aligned {
		if a.plain == plain {
			return p.along(a)
		}
	}
	passes := p.follow(strikes, asked)
	if len(l.aligned) == mostAlignments {
		l.aligned = l.aligned[:copy(l.aligned, l.aligned[1:])]
	}
	l.aligned = append(l.aligned, alignment{plain, p.groups, passes})
	return passes
}

// plainly tells apart what is aligned but for the ornaments.
func (p *plan) plainly(strikes []Strike, asked bool) uint64 {
	h := fnv.New64a()
	put := func(v uint64) {
		var b [8]byte
		for i := range b {
			b[i] = byte(v >> (8 * i))
		}
		h.Write(b[:])
	}
	put(math.Float64bits(p.quarter))
	if asked {
		put(1)
	}
	for _, i := range p.own {
		if n := p.notes[i]; n.Ornament == "" {
			put(uint64(n.Key))
			put(math.Float64bits(n.At))
			put(uint64(n.Hand))
		}
	}
	put(uint64(len(strikes)))
	for _, s := range strikes {
		put(math.Float64bits(s.At + float64(s.Key)))
		put(math.Float64bits(s.Odds))
	}
	return h.Sum64()
}

// along puts the groups on the passes of others that differ in ornaments.
func (p *plan) along(a alignment) []pass {
	var passes []pass
	for _, one := range a.passes {
		at := a.groups[one.from:one.to()]
		whole := [2]bool{one.from == 0, one.to() == len(a.groups)}
		moved := pass{score: one.score}
		k := 0
		for i, g := range p.groups {
			if !whole[0] && g.at < at[0].at-samePlace || !whole[1] && g.at > at[len(at)-1].at+samePlace {
				continue
			}
			if moved.times == nil {
				moved.from = i
			}
			for k+2 < len(at) && at[k+1].at < g.at {
				k++
			}
			t := one.times[k]
			if k+1 < len(at) {
				t += (g.at - at[k].at) * (one.times[k+1] - t) / (at[k+1].at - at[k].at)
			}
			moved.times = append(moved.times, t)
		}
		if moved.times != nil {
			passes = append(passes, moved)
		}
	}
	return passes
}
