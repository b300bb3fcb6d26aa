package realize

import "agremens/realize/music"

// turnNotes realizes the turns that come after their note.
func (pl *place) turnNotes(sh *shape, room figureRoom) ([]Note, []Borrow, bool) {
	tones := pl.tones(sh.steps, sh.raised)
	n := len(tones)
	switch sh.time {
	case late:
		first := room.length.Mul(sh.at)
		if sh.at.IsZero() {
			// At the speed of a short ornament, just before the next note.
			u := quickUnit(pl.qpm).Min(room.length.Mul(music.F(1, 2)).Div(music.Int(int64(n - 1))))
			first = room.length.Sub(u.Mul(music.Int(int64(n - 1))))
		}
		values := []music.Frac{first}
		for range n - 1 {
			values = append(values, room.length.Sub(first).Div(music.Int(int64(n-1))))
		}
		return lay(room.from, tones, values, true), nil, true
	case assimilated:
		// Against triplets the dotted rhythm takes their time: the next note
		// enters with their last third.
		if pl.after == nil || pl.after.IsRest() || pl.grid.Mul(music.Int(3)).Cmp(room.length.Add(pl.after.Dur)) != 0 {
			return nil, nil, false
		}
		length := pl.grid.Mul(music.Int(2))
		values := make([]music.Frac, n)
		values[0] = length.Mul(music.F(1, 2))
		for i := 1; i < n; i++ {
			values[i] = length.Sub(values[0]).Div(music.Int(int64(n - 1)))
		}
		return lay(room.from, tones, values, true), []Borrow{{Note: nextID(pl), Amount: length.Sub(room.length), After: true}}, true
	}
	return nil, nil, false
}
