package engrave

import (
	"agremens/assets/font"
	"agremens/realize/score"
)

var tupletDigits = [10]font.Glyph{font.Tuplet0, font.Tuplet1, font.Tuplet2, font.Tuplet3, font.Tuplet4,
	font.Tuplet5, font.Tuplet6, font.Tuplet7, font.Tuplet8, font.Tuplet9}

// drawTuplets draws number and bracket of the tuplets that lie in the list.
func (e *engraver) drawTuplets(list []int) {
	if len(list) == 0 {
		return
	}
	in := map[int]bool{}
	for _, i := range list {
		in[i] = true
	}
	for _, t := range e.p.Tuplets {
		from, to := t.From-e.first, t.To-e.first
		if from < 0 || to >= len(e.byIndex) || !t.ShowNumber && !t.Bracket {
			continue
		}
		a, b := e.byIndex[from], e.byIndex[to]
		if a < 0 || b < 0 || !in[a] || !in[b] {
			continue
		}
		e.drawTuplet(a, b, t)
	}
}

func (e *engraver) drawTuplet(from, to int, t score.Tuplet) {
	a, b := &e.chords[from], &e.chords[to]
	up, sum := t.Above, 0
	beamed := a.group >= 0 && a.group == b.group && e.groups[a.group].chords[0] == from &&
		e.groups[a.group].chords[len(e.groups[a.group].chords)-1] == to
	if !t.Placed || beamed && !t.Bracket {
		for i := from; i <= to; i++ {
			if c := &e.chords[i]; c.src.Voice == a.src.Voice {
				sum += c.dir
			}
		}
		up = sum >= 0
	}
	gs := number(t.Actual, &tupletDigits)
	w := advance(gs)
	x0, x1 := a.x-blackHead()/2, b.x+b.right
	if a.rest() {
		x0 = a.x - 0.6
	}
	mid := (x0 + x1) / 2
	side := -1.0
	if up {
		side = 1
	}
	clear := func(l, r float64) float64 {
		if up {
			return e.above(a.staff, l, r) - 0.35
		}
		return e.below(a.staff, l, r) + 0.35
	}
	y := clear(mid-w/2, mid+w/2)
	bracket := t.Bracket || !(a.group >= 0 && a.group == b.group)
	digit := font.Bounds(gs[0])
	if bracket {
		y = clear(x0, x1) - side*0.4
		if t.ShowNumber { // the digit stands in the bracket, and higher than it
			half := float64(digit.Bottom-digit.Top) / 2
			if inner := clear(mid-w/2, mid+w/2) - side*half; (inner-y)*side < 0 {
				y = inner
			}
		}
	} else if a.group >= 0 && a.group == b.group && !e.groups[a.group].mixed {
		// Beside the beam's middle, not above everything.
		g := &e.groups[a.group]
		l, r := e.stemX(a), e.stemX(b)
		mid = (l + r) / 2
		if (float64(a.dir) > 0) == up {
			y = g.y0 + g.slope*(mid-g.x0) - side*0.35
			free := clear(mid-w/2, mid+w/2)
			if up {
				y = min(y, free)
			} else {
				y = max(y, free)
			}
		}
	}
	if t.ShowNumber {
		base := y
		if !up {
			base = y - float64(digit.Top)
		}
		if bracket {
			base = y - float64(digit.Top+digit.Bottom)/2
		}
		at := mid - w/2
		for _, g := range gs {
			e.hurdle(e.onStaff(a.staff, g, at, base, 1, ""), signHurdle)
			at += font.Advance(g)
		}
	}
	if !bracket {
		return
	}
	lw := font.Defaults.TupletBracketThickness
	gap := 0.0
	if t.ShowNumber {
		gap = w/2 + 0.3
	}
	e.line(x0, y, mid-gap, y, lw)
	e.line(mid+gap, y, x1, y, lw)
	e.line(x0, y-lw/2, x0, y+side*0.8, lw)
	e.line(x1, y-lw/2, x1, y+side*0.8, lw)
	e.cover(a.staff, Box{x0, min(y, y+side*0.8), x1, max(y, y+side*0.8)})
}
