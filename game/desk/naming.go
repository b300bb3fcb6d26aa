package desk

import (
	"agremens/realize"
	"agremens/realize/music"
)

// SetNaming changes how words call the notes.
func (d *Desk) SetNaming(n music.Naming) {
	if n == d.Naming {
		return
	}
	d.Naming = n
	d.readAgain()
}

// SetTaught says whether what is decided is a teacher's.
func (d *Desk) SetTaught(taught bool) {
	if taught == d.Taught {
		return
	}
	d.Taught = taught
	d.readAgain()
}

// readAgain reads for other words alone.
func (d *Desk) readAgain() {
	going := d.past.going
	d.past.going = true // what is decided stays as it is
	d.read()
	d.past.going = going
}

// named is the taste with the player's names of the notes and language.
func (d *Desk) named() realize.Taste {
	t := d.Taste
	t.Naming, t.Words, t.Taught = d.Naming, d.Words, d.Taught
	return t
}
