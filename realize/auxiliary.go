package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// readNeighbourPitches settles the two neighbours of the principal, in the
// order in which a musician hears: the mark on the sign, the same letter next
// to it in the voice, the local key, the other voices.
func (pl *place) readNeighbourPitches() {
	up, upFixed := pl.neighbour(1)
	down, downFixed := pl.neighbour(-1)
	if pl.pitch.To(up).Semitones < 1 && !upFixed {
		up = up.WithAlter(int(up.Alter) + 1)
	}
	if down.To(pl.pitch).Semitones < 1 && !downFixed {
		down = down.WithAlter(int(down.Alter) - 1)
	}
	// No augmented second inside the figure.
	if !upFixed && pl.pitch.To(up).Semitones == 3 {
		up = up.WithAlter(int(up.Alter) - 1)
	}
	if !downFixed && down.To(pl.pitch).Semitones == 3 {
		down = down.WithAlter(int(down.Alter) + 1)
	}
	pl.upper, pl.lower = up, down
	pl.upperFixed, pl.lowerFixed = upFixed, downFixed
	if !downFixed && down.To(pl.pitch).Semitones == 2 {
		raised := down.WithAlter(int(down.Alter) + 1)
		if raised.Alter <= 2 && !pl.r.clashes(pl, raised) {
			pl.raised = &raised
		}
	}
}

// neighbour returns the pitch one letter up or down, and whether sign or
// voice fix it.
func (pl *place) neighbour(step int) (music.Pitch, bool) {
	q := music.FromDiatonic(pl.pitch.Diatonic()+step, 0)
	if alter, ok := pl.marked(step); ok {
		return q.WithAlter(alter), true
	}
	if sounding, ok := pl.soundStep(step); ok {
		return sounding, true
	}
	// The very next note keeps its pitch below; the note before comes first
	// above, because a trill is often joined to it.
	first, second := pl.prev, pl.next
	if step < 0 {
		first, second = second, first
	}
	for _, near := range []*music.Pitch{first, second} {
		// An augmented second away it is no neighbour.
		if near != nil && near.Diatonic() == q.Diatonic() && step*(near.MIDI()-pl.pitch.MIDI()) < 3 {
			return *near, true
		}
	}
	for _, t := range append(append([]tone{}, pl.prefixTones...), pl.suffixTones...) {
		if t.degree == step {
			return t.pitch, true
		}
	}
	return q.WithAlter(pl.scaleAlter(q.Step, step)), false
}

// marked returns the alteration that an accidental on the sign asks for.
func (pl *place) marked(step int) (int, bool) {
	for i := range pl.signs {
		s := &pl.signs[i]
		f := signFigure(s)
		lowerFirst := f == mordentFigure || f == longMordentFigure
		for n, a := range s.Accidentals {
			below := a.Below
			if !a.Placed {
				// Unplaced: the first belongs to the neighbour the sign is
				// about, a second to the other.
				below = lowerFirst != (n > 0)
			}
			if below == (step < 0) {
				if alter, ok := signAlter(a); ok {
					return alter, true
				}
			}
		}
	}
	return 0, false
}

// soundStep returns the neighbour that the sound attributes of a sign give.
func (pl *place) soundStep(step int) (music.Pitch, bool) {
	for i := range pl.signs {
		size := pl.signs[i].Sound.TrillStep
		if step < 0 {
			size = pl.signs[i].Sound.TwoNoteTurn
		}
		semitones := map[string]int{"whole": 2, "half": 1}[size]
		if semitones == 0 {
			continue
		}
		q := music.FromDiatonic(pl.pitch.Diatonic()+step, 0)
		return q.WithAlter(pl.pitch.MIDI() + step*semitones - q.MIDI()), true
	}
	return music.Pitch{}, false
}

// scaleAlter gives a letter its alteration in the local key. In minor the
// sixth and seventh follow their direction: raised when the principal itself
// is the other raised note or the tonic above, natural otherwise.
func (pl *place) scaleAlter(letter music.Step, step int) int {
	key := pl.key
	alter := key.Alter(letter)
	if key.Mode != music.Minor {
		return alter
	}
	tonic, _ := key.Tonic()
	degree := (int(letter)-int(tonic)+7)%7 + 1
	own := (int(pl.pitch.Step)-int(tonic)+7)%7 + 1
	ownRaised := int(pl.pitch.Alter) > key.Alter(pl.pitch.Step)
	switch {
	case degree == 7 && step < 0 && own == 1: // below the tonic: leading note
		return alter + 1
	case degree == 7 && step > 0 && own == 6 && ownRaised:
		return alter + 1
	case degree == 6 && step < 0 && own == 7 && ownRaised:
		return alter + 1
	}
	return alter
}

// clashes reports whether a pitch would rub against the same letter, altered
// otherwise, in another voice that holds it for half the ornament or more. A
// note that only passes does not keep pianists from the raised one, measured.
func (r *reader) clashes(pl *place, q music.Pitch) bool {
	hit := false
	r.sounding(pl.chord.Onset, pl.chord.Onset.Add(pl.room), func(c *score.Chord, n *score.Note) {
		if n.Pitch.Step == q.Step && n.Pitch.Alter != q.Alter && n.ID != pl.note.ID {
			from, to := c.Onset.Max(pl.chord.Onset), c.End().Min(pl.chord.Onset.Add(pl.room))
			hit = hit || pl.room.Cmp(to.Sub(from).Mul(music.Int(2))) <= 0
		}
	}, pl)
	return hit
}

// at returns the pitch on a scale step from the principal.
func (pl *place) at(degree int) music.Pitch {
	switch degree {
	case 0:
		return pl.pitch
	case 1:
		return pl.upper
	case -1:
		return pl.lower
	}
	q := music.FromDiatonic(pl.pitch.Diatonic()+degree, 0)
	for _, near := range []*music.Pitch{pl.prev, pl.next} {
		if near != nil && near.Diatonic() == q.Diatonic() {
			return *near
		}
	}
	return q.WithAlter(pl.scaleAlter(q.Step, degree))
}
