package engrave

import (
	"agremens/realize/score"
)

// direct ranks the voices that share a staff in a measure and gives every
// chord its stem direction. Where the file says one, it stands.
func (e *engraver) direct() {
	for lo := 0; lo < len(e.chords); {
		hi := lo
		for hi < len(e.chords) && e.chords[hi].src.Measure == e.chords[lo].src.Measure {
			hi++
		}
		for s := range e.staves {
			e.rank(lo, hi, s)
		}
		lo = hi
		e.yield()
	}
	for i := range e.chords {
		c := &e.chords[i]
		if c.rest() {
			continue
		}
		c.dir = e.direction(c)
	}
}

// rank sorts the voices of one staff in one measure by their mean height.
func (e *engraver) rank(lo, hi, staff int) {
	type line struct {
		voice        string
		sum, n, stem int
	}
	var lines []line
	for i := lo; i < hi; i++ {
		c := &e.chords[i]
		if c.staff != staff {
			continue
		}
		k := 0
		for k < len(lines) && lines[k].voice != c.src.Voice {
			k++
		}
		if k == len(lines) {
			lines = append(lines, line{voice: c.src.Voice})
		}
		for _, h := range c.heads {
			lines[k].sum += h.pos - 7*(h.staff-staff)*2
			lines[k].n++
		}
		if !c.grace() {
			switch c.src.Stem {
			case score.StemUp:
				lines[k].stem++
			case score.StemDown:
				lines[k].stem--
			}
		}
	}
	if len(lines) < 2 {
		return
	}
	// The upper voice is the one whose stems the file points up, else the higher.
	higher := func(a, b line) bool {
		if (a.stem > 0) != (b.stem > 0) && a.stem*b.stem < 0 {
			return a.stem > 0
		}
		if a.n == 0 || b.n == 0 {
			return a.voice < b.voice
		}
		if d := a.sum*b.n - b.sum*a.n; d != 0 {
			return d > 0
		}
		return a.voice < b.voice
	}
	for i := lo; i < hi; i++ {
		c := &e.chords[i]
		if c.staff != staff {
			continue
		}
		mine, above := line{}, 0
		for _, l := range lines {
			if l.voice == c.src.Voice {
				mine = l
			}
		}
		for _, l := range lines {
			if l.voice != mine.voice && higher(l, mine) {
				above++
			}
		}
		c.voice = 1
		if above*2 >= len(lines) {
			c.voice = 2
		}
	}
}

func (e *engraver) direction(c *chord) int {
	if !hasStem(c.src) {
		return 0
	}
	switch c.src.Stem {
	case score.StemUp:
		return 1
	case score.StemDown:
		return -1
	}
	switch {
	case c.voice == 1:
		return 1
	case c.voice == 2:
		return -1
	case c.grace():
		return 1
	}
	return lean(c.bottomHead().pos, c.topHead().pos)
}

// lean returns the stem direction of heads between two positions: away from
// the one farther from the middle line, down where they are as far.
func lean(low, high int) int {
	if -low > high {
		return 1
	}
	return -1
}
