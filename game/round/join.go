package round

import "agremens/realize/music"

// Join is where another plan of the same measures, played in the same order, takes over from a running
// one: at an engine frame, with the new plan's own frame.
type Join struct {
	At, From int64
}

// JoinAt returns where p can take over: at the first felt beat after what is
// rendered already, or at the first measure while counting in.
func (r *Round) JoinAt(p *Plan, rendered int64) Join {
	old := r.plan
	origin := r.start
	if q := &old.Sequence; q.Loop && rendered-origin >= q.Length {
		pass := q.Length - q.LoopStart
		origin += (rendered - origin - q.LoopStart) / pass * pass
	}
	in := rendered - origin
	if in < old.Lead {
		return Join{origin + old.Lead, p.Lead}
	}
	for _, b := range old.beats {
		if !b.Less(old.first) && b.Less(old.until) && old.frame(b) >= in {
			return Join{origin + old.frame(b), p.frame(b)}
		}
	}
	return Join{origin + old.frame(old.until), p.frame(p.after())}
}

// after is where the plan goes on behind its last measure: at its own
// beginning when repeated.
func (p *Plan) after() music.Frac {
	if p.Sequence.Loop {
		return p.first
	}
	return p.until
}

// Take lets a joined plan follow the running one. start is the engine frame
// at which the new plan's frame 0 stands. Only a listening round is joined:
// what is tapped stays as it began.
func (r *Round) Take(p *Plan, start int64, j Join) {
	r.next = &joined{plan: p, start: start, at: j.At}
}

type joined struct {
	plan  *Plan
	start int64
	at    int64
}

// follow makes a joined plan the running one once it is heard.
func (r *Round) follow(frame float64) {
	if r.next != nil && frame >= float64(r.next.at) {
		r.plan, r.start, r.next = r.next.plan, r.next.start, nil
	}
}
