package desk

import (
	"agremens/realize"
	"agremens/realize/score"
)

// maxMoments is how many steps can be undone.
const maxMoments = 60

// moment is a state one can go back to: how many changes were made of the
// passage, and what was decided. The passage itself is made again from the
// one that was opened, so a moment costs next to nothing.
type moment struct {
	made  int
	taste realize.Taste
	text  string // of the taste, to tell whether anything changed
}

// history is what was done at this desk. [Desk.read] keeps it, so that
// whatever decides something can be undone.
type history struct {
	origin  *score.Passage // as it was opened
	changes []Change
	made    int // so many of the changes are in the passage; the rest were undone
	moments []moment
	at      int // the moment that is now
	going   bool
}

// begin forgets what can be undone: now is the first moment.
func (d *Desk) begin() {
	d.past.moments = []moment{d.now()}
	d.past.at = 0
}

// settle makes what is now the last moment's state, instead of a new step.
func (d *Desk) settle() {
	d.past.going = false
	d.past.moments[d.past.at] = d.now()
}

func (d *Desk) now() moment { return moment{d.past.made, d.Taste, d.Taste.Text()} }

// remember keeps a new moment where passage or decisions are no longer those
// of the last one. What was undone is then forgotten.
func (d *Desk) remember() {
	h := &d.past
	if h.going || len(h.moments) == 0 {
		return
	}
	m, last := d.now(), h.moments[h.at]
	if m.made == last.made && m.text == last.text {
		return
	}
	h.changes = h.changes[:h.made]
	h.moments = append(h.moments[:h.at+1:h.at+1], m)
	if len(h.moments) > maxMoments {
		h.moments = h.moments[1:]
	}
	h.at = len(h.moments) - 1
}

// change makes a change and keeps it; on an error the desk stays as it was.
func (d *Desk) change(c Change) error {
	p, err := c.applied(d.Passage)
	if err != nil {
		return err
	}
	d.Passage = p
	h := &d.past
	h.changes = append(h.changes[:h.made:h.made], c)
	h.made++
	d.read()
	return nil
}

// CanUndo reports whether there is a step to go back.
func (d *Desk) CanUndo() bool { return d.past.at > 0 }

// CanRedo reports whether something was undone that can be done again.
func (d *Desk) CanRedo() bool { return d.past.at+1 < len(d.past.moments) }

// Undo takes the last change or decision back.
func (d *Desk) Undo() { d.goTo(d.past.at - 1) }

// Redo does again what was undone last.
func (d *Desk) Redo() { d.goTo(d.past.at + 1) }

func (d *Desk) goTo(at int) {
	h := &d.past
	if at < 0 || at >= len(h.moments) {
		return
	}
	m := h.moments[at]
	if m.made != h.made {
		d.remake(m.made)
	}
	d.Taste = m.taste
	h.at = at
	h.going = true
	d.read()
	h.going = false
}

// remake makes the passage from the one that was opened and the first n
// changes; one that can no longer be made is left out.
func (d *Desk) remake(n int) {
	d.Passage = d.past.origin
	for _, c := range d.past.changes[:n] {
		if q, err := c.applied(d.Passage); err == nil {
			d.Passage = q
		}
	}
	d.past.made = n
}

// Changed reports whether the passage is no longer as it was opened.
func (d *Desk) Changed() bool { return d.past.made > 0 }
