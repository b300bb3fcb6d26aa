package hear

import "math"

// refuseSound says why a sound is not worth comparing with the notes, or "".
func (l *Listener) refuseSound(p *plan, strikes []Strike) string {
	switch {
	case len(p.own) == 0:
		return NothingDue
	case !l.gauge.silentInput && l.gauge.peak < 2e-4:
		return Silent
	}
	sure := 0
	for _, s := range strikes {
		if s.Odds > 0 {
			sure++
		}
	}
	if sure < 2 {
		return NotMusic
	}
	return ""
}

// refuse says why the best way through the notes is none, or "".
func (p *plan) refuse(way pass, strikes []Strike) string {
	if len(way.times) == 0 {
		return OtherMusic
	}
	claims := p.assign(way, strikes)
	want, found := 0.0, 0.0
	first, last := p.groups[way.from].at, p.groups[way.to()-1].at
	explained := map[int]bool{}
	for _, i := range p.own {
		if at := p.notes[i].At; at < first-samePlace || at > last+samePlace {
			continue
		}
		want++
		if c := claims[i]; c.strike >= 0 {
			explained[c.strike] = true
			found += confidence(c.odds)
		}
	}
	from, to := way.times[0]-0.1, way.times[len(way.times)-1]+0.1
	sure, loose := 0.0, 0.0
	for k, s := range strikes {
		if s.Odds < 1 || s.At < from || s.At > to {
			continue
		}
		sure++
		if !explained[k] {
			loose++
		}
	}
	switch {
	case want < 4 && len(p.own) >= 8:
		return TooShort
	case found < 0.45*want || loose > 0.5*math.Max(sure, 1):
		return OtherMusic
	}
	return ""
}
