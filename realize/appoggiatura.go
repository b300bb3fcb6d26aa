package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// leanLength applies a rule of length to a small note. more is what the
// ornament takes beyond its room; ok is false where the rule does not apply.
func (pl *place) leanLength(rule leanRule, room music.Frac) (length, more music.Frac, ok bool) {
	share := func(n, d int64) (music.Frac, music.Frac, bool) { return room.Mul(music.F(n, d)), music.Frac{}, true }
	switch rule {
	case byHalf:
		return share(1, 2)
	case byTwoThirds:
		return share(2, 3)
	case byThird:
		return share(1, 3)
	case byQuarter, shortShare:
		return share(1, 4)
	case byThreeQuarters:
		return share(3, 4)
	case byEighth:
		return share(1, 8)
	case byPrint:
		if pl.leanFor.IsZero() || room.Cmp(pl.leanFor) <= 0 {
			return music.Frac{}, music.Frac{}, false
		}
		return pl.leanFor, music.Frac{}, true
	case intoTie:
		if pl.own.Cmp(room) >= 0 {
			return music.Frac{}, music.Frac{}, false
		}
		return pl.own, music.Frac{}, true
	case intoRest:
		if pl.rest.IsZero() {
			return music.Frac{}, music.Frac{}, false
		}
		return room, room.Min(pl.rest), true
	case byCrush:
		return quickUnit(pl.qpm).Min(room.Mul(music.F(1, 4))), music.Frac{}, true
	}
	return music.Frac{}, music.Frac{}, false
}

// smallNotes realizes small notes alone: leaning, quick, before the beat, or
// after the note.
func (pl *place) smallNotes(sh *shape, room figureRoom) ([]Note, []Borrow, bool) {
	small := pl.prefixTones
	if len(sh.steps) > 0 {
		small = pl.tones(sh.steps, sh.raised)
	}
	main := tone{pitch: pl.pitch}
	switch sh.time {
	case lean:
		if len(small) == 0 {
			return nil, nil, false
		}
		// Of a group only the whole can lean: it shares the length.
		length, more, ok := pl.leanLength(sh.lean, room.length)
		if !ok || length.Sign() <= 0 || room.length.Add(more).Cmp(length) <= 0 {
			return nil, nil, false
		}
		values := make([]music.Frac, 0, len(small)+1)
		for range small {
			values = append(values, length.Div(music.Int(int64(len(small)))))
		}
		values = append(values, room.length.Add(more).Sub(length))
		notes := lay(room.from, append(append([]tone{}, small...), main), values, true)
		notes[0].Strength = 1.15
		if sh.cut {
			last := &notes[len(notes)-1]
			last.Dur = last.Dur.Mul(music.F(1, 2))
		}
		notes = append(notes, pl.leaningAlso(room.from, length, more)...)
		var borrows []Borrow
		if more.Sign() > 0 {
			borrows = []Borrow{{Amount: more, After: true}} // the rest gives
		}
		return notes, borrows, true
	case printed:
		if len(small) == 0 {
			return nil, nil, false
		}
		u := unitFor(quickUnit(pl.qpm), room.length, len(small), music.F(1, 2))
		if sh.at.Sign() > 0 {
			u = u.Mul(sh.at)
		}
		if sh.lean == byPrint {
			u = pl.leanFor
		}
		values := make([]music.Frac, 0, len(small)+1)
		for range small {
			values = append(values, u)
		}
		used := u.Mul(music.Int(int64(len(small))))
		if room.length.Cmp(used) <= 0 {
			return nil, nil, false
		}
		values = append(values, room.length.Sub(used))
		notes := lay(room.from, append(append([]tone{}, small...), main), values, true)
		if pl.anschlag() {
			notes[0].Strength, notes[1].Strength = softer, softer
		}
		return append(notes, pl.leaningAlso(room.from, used, music.Frac{})...), nil, true
	case early:
		return pl.earlyNotes(sh, small, room)
	case closing:
		return pl.closingNotes(room)
	}
	return nil, nil, false
}

// softer is the touch of what yields to its principal. Common practice, no
// source for the number.
const softer = .85

// anschlag reports whether two small notes leap round their principal to the
// step above: C.P.E. Bach plays them softer than it.
func (pl *place) anschlag() bool {
	return len(pl.prefixTones) == 2 && pl.prefixTones[1].degree == 1 && pl.prefixTones[0].degree < 0
}

// leaningAlso gives the other notes of a chord that leans in two voices.
func (pl *place) leaningAlso(at, length, more music.Frac) []Note {
	var notes []Note
	if len(pl.prefix) == 0 || pl.rolled != "" {
		return notes // a roll has entered them already
	}
	g := &pl.r.p.Chords[pl.prefix[len(pl.prefix)-1]]
	for _, j := range pl.also {
		to := pl.chord.Notes[j].Pitch
		q := nearestNote(g, to)
		full := pl.alsoRoom(j)
		degree := to.Diatonic() - pl.pitch.Diatonic()
		if q == to || full.Cmp(length) <= 0 {
			notes = append(notes, Note{Pitch: to, Onset: at, Dur: full, Degree: degree, Strength: 1, Measured: true})
			continue
		}
		notes = append(notes,
			Note{Pitch: q, Onset: at, Dur: length, Degree: q.Diatonic() - pl.pitch.Diatonic(), Strength: 1.15, Measured: true},
			Note{Pitch: to, Onset: at.Add(length), Dur: full.Sub(length).Add(more), Degree: degree, Strength: 1, Measured: true})
	}
	sortNotes(notes)
	return notes
}

// earlyNotes puts grace notes before the beat. The note before gives the
// time, at most half of its own; silence gives freely.
func (pl *place) earlyNotes(sh *shape, small []tone, room figureRoom) ([]Note, []Borrow, bool) {
	if len(small) == 0 {
		return nil, nil, false
	}
	n := music.Int(int64(len(small)))
	u := quickUnit(pl.qpm)
	if sh.at.Sign() > 0 && len(small) == 1 {
		u = u.Mul(music.Int(2)) // one note across the beat needs length on both sides
	}
	giver := Borrow{}
	ahead := room.length.Mul(sh.ahead)
	if pl.before != nil {
		half := pl.before.Dur.Mul(music.F(1, 2))
		if ahead.Sign() > 0 { // in free time the note before gives three quarters
			ahead = ahead.Min(half)
			half = pl.before.Dur.Mul(music.F(3, 4)).Sub(ahead)
		}
		switch {
		case sh.passing && pl.before.Dur.Less(music.Int(1)):
			u = half.Div(n)
		case sh.passing:
			u = half.Mul(music.F(1, 2)).Div(n)
		}
		u = u.Min(half.Div(n))
		if !pl.before.IsRest() {
			giver.Note = melodyID(pl.before, pl.prev)
		}
	}
	// Around the beat: the last ones and the principal come after it.
	after := n.Mul(sh.at)
	if len(small) > 1 {
		after = music.Int(after.Floor())
	}
	if after.Sign() > 0 {
		u = u.Min(room.length.Mul(music.F(1, 3)).Div(after))
	}
	late := u.Mul(after)
	giver.Amount = u.Mul(n.Sub(after)).Add(ahead)
	late = late.Sub(ahead)
	room.from, room.length = room.from.Add(late), room.length.Sub(late)
	values := make([]music.Frac, len(small))
	for i := range values {
		values[i] = u
	}
	notes := lay(room.from.Sub(u.Mul(n)), small, values, true)
	if len(pl.prefix) == 1 && len(pl.also) > 0 {
		for _, n := range pl.leaningAlso(notes[0].Onset, u, music.Frac{}) {
			if n.Onset == notes[0].Onset && n.Dur == u && n.Pitch != notes[0].Pitch {
				notes = append(notes, n)
			}
		}
	}
	notes = append(notes, pl.plainNotes(room)...)
	sortNotes(notes)
	return notes, []Borrow{giver}, true
}

// closingNotes are small notes after a principal that has no trill: they take
// the last part of its value, a quarter at most.
func (pl *place) closingNotes(room figureRoom) ([]Note, []Borrow, bool) {
	if len(pl.suffixTones) == 0 {
		return nil, nil, false
	}
	n := music.Int(int64(len(pl.suffixTones)))
	total := quickUnit(pl.qpm).Mul(n).Min(room.length.Mul(music.F(1, 4)))
	if len(pl.suffixTones) == 1 {
		total = room.length.Mul(music.F(1, 4))
	}
	values := []music.Frac{room.length.Sub(total)}
	for range pl.suffixTones {
		values = append(values, total.Div(n))
	}
	return lay(room.from, append([]tone{{pitch: pl.pitch}}, pl.suffixTones...), values, true), nil, true
}

func nextID(pl *place) score.ID {
	if pl.after == nil || pl.after.IsRest() || pl.next == nil {
		return ""
	}
	return melodyID(pl.after, pl.next)
}

func melodyID(c *score.Chord, q *music.Pitch) score.ID {
	for j := range c.Notes {
		if q != nil && c.Notes[j].Pitch == *q {
			return c.Notes[j].ID
		}
	}
	return c.Top().ID
}
