package realize

import "agremens/realize/music"

// struckTogether strikes the principal and its lower neighbour at once, as an
// abbreviated mordent, or the small note before it, as an acciaccatura; the
// added key is let go at once.
func (pl *place) struckTogether(sh *shape, room figureRoom) []Note {
	added := pl.tones([]int{-1}, sh.raised)[0]
	if sh.absorbs {
		if len(pl.prefixTones) != 1 || pl.prefixTones[0].pitch == pl.pitch {
			return nil
		}
		added = pl.prefixTones[0]
	}
	u := quickUnit(pl.qpm).Mul(music.F(1, 2)).Min(room.length.Mul(music.F(1, 4)))
	notes := []Note{
		{Pitch: added.pitch, Onset: room.from, Dur: u, Degree: added.degree, Strength: 1, Measured: true},
		{Pitch: pl.pitch, Onset: room.from, Dur: room.length, Strength: 1, Measured: true},
	}
	if sh.absorbs {
		for _, j := range pl.also {
			q := pl.chord.Notes[j].Pitch
			notes = append(notes, Note{Pitch: q, Onset: room.from, Dur: pl.alsoRoom(j), Degree: q.Diatonic() - pl.pitch.Diatonic(), Strength: 1, Measured: true})
		}
	}
	sortNotes(notes)
	return notes
}
