package hear

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

const (
	plainly   = 2.0 // odds of a strike that has to be explained
	mostly    = 0.6 // share of these that the passes must explain
	enough    = 6   // notes found, or all but one of fewer
	leastPart = 0.45
)

// refuse says why the passes are none of these notes, or "". Chance finds a
// few notes of any piece in any other; what it leaves unexplained tells.
func (p *plan) refuse(passes []pass, way pass, strikes []Strike) string {
	if len(way.times) == 0 {
		return OtherMusic
	}
	explained := map[int]int{}
	for i, one := range passes {
		for note, c := range p.assign(one, strikes) {
			if c.strike >= 0 {
				explained[c.strike] = note
			}
		}
		_ = i
	}
	want, found, part := 0, 0, 0.0
	first, last := p.stretch(way)
	for note, c := range p.assign(way, strikes) {
		n := p.notes[note]
		if n.Program || !(n.At >= first-samePlace && n.At <= last+samePlace) {
			continue
		}
		want++
		if c.strike >= 0 {
			found++
			part += confidence(c.odds + 2)
		}
	}
	from := passes[0].times[0] - 0.1
	all, loose := 0.0, 0.0
	for k := firstFrom(strikes, from); k < len(strikes); k++ {
		s := strikes[k]
		if s.Odds < plainly || p.sentNear(s) {
			continue
		}
		all++
		if _, ok := explained[k]; !ok && !p.explained(s, explained, strikes) {
			loose++
		}
	}
	switch {
	case all > 0 && loose > (1-mostly)*all, part < leastPart*float64(want):
		return OtherMusic
	case found < min(enough, len(p.own)-1):
		return TooShort
	}
	return ""
}

// A hand that takes a wrong turn goes on playing, but not what is written: as
// many notes in a row as lost are missing, and other keys are struck meanwhile.
const (
	lost      = 5
	lostFound = 2   // notes lost that one played as written makes up for
	lostOther = 0.5 // other keys for each note lost
)

// strayed reports whether a hand went elsewhere for a while: its notes there
// are not wrong one by one.
func (p *plan) strayed(r *Report) bool {
	for hand := range p.hands {
		sum, gone := 0, 0
		from := 0.0
		for _, i := range p.own {
			n, h := p.notes[i], r.Notes[i]
			switch {
			case int(n.Hand) != hand || !h.Reached || h.Unsure:
			case h.Played:
				if sum -= lostFound; sum <= 0 {
					sum, gone = 0, 0
				}
			default:
				if sum == 0 {
					from = h.At
				}
				sum, gone = sum+1, gone+1
				if sum >= lost && float64(p.others(r, from, h.At)) >= lostOther*float64(gone) {
					return true
				}
			}
		}
	}
	return false
}

// others counts the keys struck that are written nowhere near, between two times.
func (p *plan) others(r *Report, from, to float64) int {
	n := 0
	for _, x := range r.Extra {
		if x.At > from-0.1 && x.At < to+0.1 && x.Confidence > 0.5 {
			n++
		}
	}
	return n
}
