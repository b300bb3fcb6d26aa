package desk

import (
	"maps"

	"agremens/realize/score"
)

// LineOpen reports whether the line as played stands above the selected sign.
func (d *Desk) LineOpen() bool {
	o, ok := d.Ornament()
	return ok && d.Ornaments && !d.Closed[o.Note]
}

// SetLine opens the line as played above the selected sign, or closes it.
func (d *Desk) SetLine(open bool) {
	o, ok := d.Ornament()
	if !ok {
		return
	}
	closed := maps.Clone(d.Closed)
	if closed == nil {
		closed = map[score.ID]bool{}
	}
	delete(closed, o.Note)
	if !open {
		closed[o.Note] = true
	}
	d.Closed = closed
}

// Lines returns the ids of the ornaments whose line is open; nil where all are.
func (d *Desk) Lines() map[string]bool {
	if len(d.Closed) == 0 {
		return nil
	}
	open := map[string]bool{}
	for i := range d.Reading.Ornaments {
		if o := &d.Reading.Ornaments[i]; !d.Closed[o.Note] {
			open[o.ID] = true
		}
	}
	return open
}
