package diary

import "slices"

// SetPiano says how many minutes a player was at the piano with a passage on
// a day, in all: what was entered of that day before gives way, so that telling
// it twice does not count twice.
func (d *Diary) SetPiano(p Piano) {
	p = p.tidy()
	d.Pianos = slices.DeleteFunc(d.Pianos, func(q Piano) bool {
		return q.Day == p.Day && q.Player == p.Player && q.Passage == p.Passage
	})
	if p.Minutes > 0 {
		d.AddPiano(p)
	}
}

// PianoOn is how many minutes a player was at the piano with a passage on a day.
func (d *Diary) PianoOn(day int, player, passage string) (minutes int) {
	for _, p := range d.Pianos {
		if p.Day == day && p.Player == player && p.Passage == passage {
			minutes += p.Minutes
		}
	}
	return minutes
}
