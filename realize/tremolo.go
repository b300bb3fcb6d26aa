package realize

import (
	"strconv"

	"agremens/realize/music"
	"agremens/realize/score"
)

// mostStrokes bounds the notes of one tremolo: 64 quarters of thirty-seconds.
const mostStrokes = 512

// strokeNotes repeats a note or chord as the strokes through its stem say:
// one stroke for eighths, two for sixteenths, three for thirty-seconds,
// counted from the note's own flags. A tremolo between two notes alternates
// them through the value of each.
func (pl *place) strokeNotes(_ *shape, room figureRoom) ([]Note, []Borrow, bool) {
	strokes, line := 3, ""
	for i := range pl.signs {
		if pl.signs[i].Kind == score.Tremolo {
			if n, err := strconv.Atoi(pl.signs[i].Text); err == nil && n > 0 && n < 6 {
				strokes = n
			}
			line = pl.signs[i].Line
		}
	}
	unit := music.F(1, int64(1)<<(strokes+pl.chord.Value.Flags()))
	n := room.length.Div(unit).Floor()
	n = min(max(n, 2), mostStrokes)
	unit = room.length.Div(music.Int(n))
	own, other := pl.chord.Notes, pl.chord.Notes
	switch {
	case line == "start" && pl.after != nil && !pl.after.IsRest():
		other = pl.after.Notes
	case line == "stop" && pl.before != nil && !pl.before.IsRest():
		own, other = pl.before.Notes, pl.chord.Notes
	}
	var notes []Note
	for k := range n {
		chord := own
		if k%2 == 1 {
			chord = other
		}
		for j := range chord {
			note := Note{Pitch: chord[j].Pitch, Onset: room.from.Add(unit.Mul(music.Int(k))), Dur: unit, Strength: 1, Measured: true}
			note.Degree = note.Pitch.Diatonic() - pl.pitch.Diatonic()
			notes = append(notes, note)
		}
	}
	return notes, nil, true
}
