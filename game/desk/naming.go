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
	going := d.past.going
	d.past.going = true // what is decided stays as it is
	d.read()
	d.past.going = going
}

// named is the taste with the player's names of the notes and language.
func (d *Desk) named() realize.Taste {
	t := d.Taste
	t.Naming, t.Words = d.Naming, d.Words
	return t
}
