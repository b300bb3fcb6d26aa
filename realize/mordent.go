package realize

import "agremens/realize/music"

// struckTogether is the abbreviated mordent: both keys at once, the lower one
// released at once.
func (pl *place) struckTogether(sh *shape, room figureRoom) []Note {
	tones := pl.tones([]int{0, -1}, sh.raised)
	u := quickUnit(pl.qpm).Mul(music.F(1, 2)).Min(room.length.Mul(music.F(1, 4)))
	return []Note{
		{Pitch: tones[1].pitch, Onset: room.from, Dur: u, Degree: -1, Strength: 1, Measured: true},
		{Pitch: pl.pitch, Onset: room.from, Dur: room.length, Strength: 1, Measured: true},
	}
}
