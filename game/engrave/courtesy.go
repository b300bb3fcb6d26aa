package engrave

import "agremens/realize/music"

// courtesy is what a system's end says of the next one: a signature or metre
// that changes there. A clef that changes stands before the bar line, as
// anywhere.
type courtesy struct {
	key   *music.Key
	was   music.Key
	metre *music.Metre
}

// courtesyAt returns what the end of a system before a measure says.
func (e *engraver) courtesyAt(measure int) courtesy {
	var c courtesy
	if measure <= 0 || measure >= len(e.p.Measures) {
		return c
	}
	before, now := &e.p.Measures[measure-1], &e.p.Measures[measure]
	was := before.Key
	if n := len(before.KeyChanges); n > 0 {
		was = before.KeyChanges[n-1].Key
	}
	if was.Fifths != now.Key.Fifths {
		c.key, c.was = &now.Key, was
	}
	if before.Metre != now.Metre && now.Metre.Unit > 0 {
		c.metre = &now.Metre
	}
	return c
}

func (c courtesy) width() float64 {
	w := 0.0
	if c.key != nil {
		w += signPadLeft + keyWidth(*c.key, c.was)
	}
	if c.metre != nil {
		w += signPadLeft + metreWidth(*c.metre)
	}
	if w > 0 {
		w += signPadRight
	}
	return w
}

// drawCourtesy draws it after the last bar line of a system.
func (e *engraver) drawCourtesy(x float64) {
	c := e.courtesyAt(e.to)
	if c.key != nil {
		x += signPadLeft
		for s := range e.staves {
			e.drawKey(s, *c.key, c.was, e.clefAt(s, e.end()), x, 1)
		}
		x += keyWidth(*c.key, c.was)
	}
	if c.metre != nil {
		x += signPadLeft
		for s := range e.staves {
			e.drawMetre(s, *c.metre, x, 1)
		}
	}
}
