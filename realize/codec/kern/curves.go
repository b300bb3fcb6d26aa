package kern

// openCurve is a slur or phrase that has begun.
type openCurve struct {
	curve
	from  *draft
	track *track
	slot  int
}

// drawn is a slur between two chords.
type drawn struct {
	from, to *draft
	side     int
}

// maxOpen bounds the curves that may be open at once.
const maxOpen = 256

// curve ends and begins the slurs and phrases of a chord: ends first, since a
// curve may begin where another ends.
func (r *reader) curve(c *column, d *draft) {
	for k := range d.written {
		for _, e := range d.written[k].closes {
			r.closeCurve(c, d, e)
		}
	}
	for k := range d.written {
		for _, b := range d.written[k].opens {
			if len(r.curves) < maxOpen {
				r.curves = append(r.curves, openCurve{b, d, c.track, c.slot})
			}
		}
	}
}

// closeCurve looks for the beginning of a curve: the last that is open in the
// column, in another column of the staff, on any staff.
func (r *reader) closeCurve(c *column, d *draft, e curve) {
	best, rank := -1, 0
	for i := range r.curves {
		o := &r.curves[i]
		if o.phrase != e.phrase || o.from == d {
			continue
		}
		fit := 1
		switch {
		case o.linked && e.linked:
			fit = 5
		case o.linked != e.linked || o.level != e.level:
		case o.track == c.track && o.slot == c.slot:
			fit = 4
		case o.track == c.track:
			fit = 3
		default:
			fit = 2
		}
		if fit >= rank {
			best, rank = i, fit
		}
	}
	if best < 0 {
		d.SlurEnds = !e.phrase
		r.left.Add("slur")
		r.warn(d.spine-1, "a slur without a beginning was left out")
		return
	}
	o := r.curves[best]
	r.curves = append(r.curves[:best], r.curves[best+1:]...)
	r.slurs = append(r.slurs, drawn{o.from, d, o.side})
}
