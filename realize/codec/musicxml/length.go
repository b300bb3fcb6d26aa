package musicxml

import (
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// quarters turns the text of <duration> into quarters. It reports false where
// the text is not a number of divisions, or one that no measure could hold.
func (p *part) quarters(text string) (music.Frac, bool) {
	n, ok := parseRounded(text)
	if !ok || n.Sign() < 0 || !n.Bounded(maxDivisions*maxMeasure) || p.division.IsZero() {
		return music.Frac{}, false
	}
	d := n.Mul(p.division)
	if music.Int(maxMeasure).Less(d) || !p.d.common.Take(d) {
		return music.Frac{}, false
	}
	return d, true
}

// length settles how long a note is: as <duration> says, else by its written
// value. A note that says neither has length zero.
func (p *part) length(w *written) error {
	v := w.chord.Value.Quarters()
	if w.hasDur {
		p.inferDivision(w.durText, v)
		if d, ok := p.quarters(w.durText); ok {
			if off := d.Sub(v); !v.IsZero() && !off.IsZero() && within(off, rounding) && strings.Contains(w.durText, ".") && p.d.common.Take(v) {
				d = v // a fraction that was rounded
			}
			if d.IsZero() {
				p.warn("a note without length was left out")
			}
			w.dur = d
			return nil
		}
		if !v.IsZero() {
			p.warn("a note has no usable length; its written value was taken")
		} else if !w.measureRest {
			p.warn("a note without a usable length was left out")
		}
	} else if !v.IsZero() || w.measureRest {
		p.warn("a note gives its value but no length; the value was taken")
	} else {
		p.warn("a note without length was left out")
	}
	if w.rest && w.measureRest {
		v = p.metre.Bar()
	}
	if !v.IsZero() && !p.d.common.Take(v) {
		return p.r.fail(ErrUnsupported, mendExport, "the lengths of the notes share no common measure")
	}
	w.dur = v
	return nil
}

// inferDivision finds what the file counts lengths in from a note that gives
// its length both as a number and as a value.
func (p *part) inferDivision(text string, value music.Frac) {
	n, ok := parseDecimal(text)
	if !p.division.IsZero() || !ok || n.Sign() <= 0 || value.IsZero() {
		return
	}
	if division := value.Div(n); music.Int(1).Div(division).Bounded(maxDivisions) {
		p.division = division
		p.warn("the file does not say how many divisions a quarter has; that was worked out from the values of its notes")
	}
}

// wholeRest recognizes a rest that fills its measure.
func (p *part) wholeRest(c *chord, w *written) {
	v := c.Value.Type
	c.WholeRest = w.measureRest || c.Onset.IsZero() && c.Dur == p.metre.Bar() && v == score.Unspecified
	if c.WholeRest {
		c.Value = score.Value{Type: score.Whole}
	}
}
