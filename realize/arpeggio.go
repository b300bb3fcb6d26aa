package realize

import (
	"slices"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// rollUnit is the distance between the notes of a roll: the longest plain
// value under 80 ms, less where the chord is short.
func (pl *place) rollUnit(notes int, length music.Frac) music.Frac {
	u := music.Int(1)
	for u.Float()*60000/pl.qpm > 80 {
		u = u.Mul(music.F(1, 2))
	}
	if notes > 1 {
		u = u.Min(length.Mul(music.F(1, 2)).Div(music.Int(int64(notes - 1))))
	}
	return u
}

// rollNotes enters the notes of a chord one after another, each held to its
// end. Steps are unused; sh.at is 1 where the roll comes before the beat.
func (pl *place) rollNotes(sh *shape, room figureRoom) []Note {
	c := pl.chord
	if sh.from == 2 {
		return pl.batteryNotes(room)
	}
	if sh.from == 4 {
		return pl.rollWithSmallNotes(room)
	}
	order := make([]int, len(c.Notes))
	for i := range order {
		order[i] = i
	}
	if (pl.rolled == score.ArpeggioDown) != (sh.from < 0) {
		slices.Reverse(order)
	}
	lower := 0
	if sh.from == 3 {
		if lower = pl.rolledBelow(); lower == 0 {
			return nil
		}
	} else if len(order) == 1 {
		return nil // one note cannot roll by itself
	}
	u := pl.rollUnit(len(order)+lower, room.length)
	begin := room.from.Add(u.Mul(music.Int(int64(lower))))
	if sh.at.Sign() > 0 {
		begin = begin.Sub(u.Mul(music.Int(int64(len(order) - 1))))
	}
	var notes []Note
	for k, j := range order {
		at := begin.Add(u.Mul(music.Int(int64(k))))
		end := room.from.Add(pl.alsoRoom(j))
		n := Note{Pitch: c.Notes[j].Pitch, Onset: at, Dur: end.Sub(at), Strength: 1, Measured: true}
		n.Degree = n.Pitch.Diatonic() - pl.pitch.Diatonic()
		notes = append(notes, n)
	}
	sortNotes(notes)
	return notes
}

// rolledBelow counts the notes of a rolled chord of the lower staff that
// stands under this one: then the wavy line may run through both hands.
func (pl *place) rolledBelow() int {
	p := pl.r.p
	for i := p.FirstAt(pl.chord.Onset); i < len(p.Chords) && p.Chords[i].Onset == pl.chord.Onset; i++ {
		c := &p.Chords[i]
		if c.Staff > pl.chord.Staff && c.Grace == nil && c.Arpeggio == pl.rolled && pl.rolled == score.ArpeggioUp {
			return len(c.Notes)
		}
	}
	return 0
}

// batteryNotes breaks the chord up and down again through its length.
func (pl *place) batteryNotes(room figureRoom) []Note {
	c := pl.chord
	if len(c.Notes) < 2 {
		return nil
	}
	var cycle []int
	for j := range c.Notes {
		cycle = append(cycle, j)
	}
	for j := len(c.Notes) - 2; j > 0; j-- {
		cycle = append(cycle, j)
	}
	n := int64(len(cycle))
	unit := room.length.Div(music.Int(n))
	for pl.seconds(unit) > .16 {
		unit, n = unit.Mul(music.F(1, 2)), n*2
	}
	var notes []Note
	for k := range n {
		j := cycle[int(k)%len(cycle)]
		note := Note{Pitch: c.Notes[j].Pitch, Onset: room.from.Add(unit.Mul(music.Int(k))), Dur: unit, Strength: 1, Measured: true}
		note.Degree = note.Pitch.Diatonic() - pl.pitch.Diatonic()
		notes = append(notes, note)
	}
	return notes
}

// rollWithSmallNotes rolls the chord with the small notes that lie between
// its own in their place. They are let go as the next note enters; the chord's
// own are held.
func (pl *place) rollWithSmallNotes(room figureRoom) []Note {
	c := pl.chord
	var added []music.Pitch
	for _, t := range pl.prefixTones {
		if k := t.pitch.MIDI(); k <= c.Bottom().Pitch.MIDI() || k >= c.Top().Pitch.MIDI() {
			return nil
		}
		added = append(added, t.pitch)
	}
	total := len(c.Notes) + len(added)
	u := pl.rollUnit(total, room.length)
	var notes []Note
	for j := range c.Notes {
		notes = append(notes, Note{Pitch: c.Notes[j].Pitch, Dur: pl.alsoRoom(j), Measured: true})
	}
	for _, q := range added {
		notes = append(notes, Note{Pitch: q, Dur: u})
	}
	sorting.Stable(notes, func(a, b Note) int { return a.Pitch.MIDI() - b.Pitch.MIDI() })
	if pl.rolled == score.ArpeggioDown {
		slices.Reverse(notes)
	}
	for k := range notes {
		n := &notes[k]
		at := u.Mul(music.Int(int64(k)))
		if n.Measured {
			n.Dur = n.Dur.Sub(at)
		}
		n.Onset, n.Strength, n.Measured = room.from.Add(at), 1, true
		n.Degree = n.Pitch.Diatonic() - pl.pitch.Diatonic()
		if n.Dur.Sign() <= 0 {
			return nil
		}
	}
	return notes
}

// sortNotes orders notes by onset, then from low to high.
func sortNotes(notes []Note) {
	sorting.Stable(notes, func(a, b Note) int {
		if c := a.Onset.Cmp(b.Onset); c != 0 {
			return c
		}
		return a.Pitch.MIDI() - b.Pitch.MIDI()
	})
}
