package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// readNeighbourPitches settles the two neighbours of the principal: by the
// mark on the sign, the small notes, and what is written around it.
func (pl *place) readNeighbourPitches() {
	up, upFixed := pl.neighbour(1)
	down, downFixed := pl.neighbour(-1)
	pl.upper, pl.lower = up, down
	pl.upperFixed, pl.lowerFixed = upFixed, downFixed
	if pl.figure.turned() {
		pl.fillMinorThird()
	}
	// With a semitone above, a semitone below would close a diminished third.
	narrow := pl.figure.turned() && pl.pitch.To(pl.upper).Semitones == 1
	if (!downFixed || pl.lowerByLine && pl.figure.turned()) && !narrow && pl.lower.To(pl.pitch).Semitones == 2 {
		raised := pl.lower.WithAlter(int(pl.lower.Alter) + 1)
		if raised.Alter <= 2 && !pl.r.clashes(pl, raised) {
			pl.raised = &raised
		}
	}
}

// fillMinorThird keeps a turn from closing a diminished third: with a semitone
// above, the lower neighbour is a whole tone below. Of 98 places in which
// pianists turn, and 268 in which editors state both steps, nine in ten fill a
// minor third, and hardly any a diminished one.
func (pl *place) fillMinorThird() {
	if _, marked := pl.marked(-1); marked || pl.pitch.To(pl.upper).Semitones != 1 {
		return
	}
	if down := pl.lower.WithAlter(int(pl.lower.Alter) - 1); pl.lower.To(pl.pitch).Semitones == 1 && down.Alter >= -2 {
		pl.lower, pl.lowerFixed = down, true
	}
}

// neighbour returns the pitch one letter up or down, and whether sign, small
// notes or the line itself fix it.
func (pl *place) neighbour(step int) (music.Pitch, bool) {
	q := music.FromDiatonic(pl.pitch.Diatonic()+step, 0)
	if alter, ok := pl.marked(step); ok {
		return q.WithAlter(alter), true
	}
	if sounding, ok := pl.soundStep(step); ok {
		return sounding, true
	}
	for _, t := range append(append([]tone{}, pl.prefixTones...), pl.suffixTones...) {
		if t.degree == step {
			return t.pitch, true
		}
	}
	if near, ok := pl.besideIt(q, step); ok {
		pl.lowerByLine = true
		return near, true
	}
	said := pl.writtenAround(q.Step, step)
	narrow, wide := q.WithAlter(pl.pitch.MIDI()+step-q.MIDI()), q.WithAlter(pl.pitch.MIDI()+2*step-q.MIDI())
	best, other := narrow, wide
	far := said.of(wide.Alter) - said.of(narrow.Alter)
	if far == 0 { // nothing decides but the note before it, else how far the key's own note lies
		alter := pl.scaleAlter(q.Step, step)
		if pl.prev != nil && pl.prev.Diatonic() == q.Diatonic() && !pl.figure.turned() {
			alter = int(pl.prev.Alter)
		}
		far = step*(q.WithAlter(alter).MIDI()-pl.pitch.MIDI()) - 1
	}
	if far > 0 || narrow.Alter < -2 || narrow.Alter > 2 {
		best, other = wide, narrow
	}
	if said.of(other.Alter) >= doubtful && other.Alter >= -2 && other.Alter <= 2 {
		pl.unsure[(step+1)/2] = &other
	}
	return best, false
}

// besideIt returns the lower neighbour where the line touches it directly
// before or after the principal: the note after comes first. (What stands
// beside an upper neighbour weighs with the rest.)
func (pl *place) besideIt(q music.Pitch, step int) (music.Pitch, bool) {
	if step > 0 {
		return q, false
	}
	for _, near := range []*music.Pitch{pl.next, pl.prev} {
		// An augmented second away it is no neighbour.
		if near != nil && near.Diatonic() == q.Diatonic() && pl.pitch.MIDI()-near.MIDI() < 3 && pl.pitch.MIDI() > near.MIDI() {
			return *near, true
		}
	}
	return q, false
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
