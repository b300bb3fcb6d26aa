package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// fileAsks reports whether the score file itself says how the ornament is to
// sound: MusicXML's trill-sound attributes on a sign, its steal-time and
// make-time on small notes. What its size of steps says is read with the
// neighbours, see auxiliary.go.
func (pl *place) fileAsks() bool {
	if len(pl.signs) > 0 {
		s := pl.fileSound()
		// On a trill the turn at the end is a wish; elsewhere it only says how
		// large the step down is.
		turned := s.TwoNoteTurn != "" && (pl.figure == trillFigure || pl.figure == trillMordentFigure || pl.figure == leanedTrillFigure)
		return pl.fileSteps() != nil && (s.StartNote != "" || s.Accelerate || s.Beats > 0 || s.SecondBeat > 0 || s.LastBeat > 0 || turned)
	}
	for _, g := range pl.prefix {
		if x := pl.r.p.Chords[g].Grace; x.StealPrevious > 0 || x.StealFollowing > 0 || x.MakeTime.Sign() > 0 {
			return true
		}
	}
	return false
}

func (pl *place) fileSound() score.TrillSound {
	for i := range pl.signs {
		if pl.signs[i].Sound != (score.TrillSound{}) {
			return pl.signs[i].Sound
		}
	}
	return score.TrillSound{}
}

// fileSteps returns the figure the attributes describe, nil where the sign is
// none of those that can have them. Defaults: MusicXML 4.0, trill-sound.
func (pl *place) fileSteps() []int {
	s := pl.fileSound()
	n := int(s.Beats)
	alternate := func(from, to, least int) []int {
		n = max(least, n)
		steps := make([]int, n)
		for i := range steps {
			steps[i] = from
			if i%2 == 1 {
				steps[i] = to
			}
		}
		return steps
	}
	switch pl.figure {
	case trillFigure, trillMordentFigure, leanedTrillFigure:
		first, other := 1, 0
		lead := []int(nil)
		switch s.StartNote {
		case "main":
			first, other = 0, 1
		case "below":
			lead = []int{-1}
			first, other = 0, 1
		}
		if n == 0 { // no number is given: as many as the player manages
			n = max(4, int(pl.seconds(pl.room)*pl.r.rate)/2*2)
		}
		n = min(n, 64) - len(lead)
		steps := append(lead, alternate(first, other, 4-len(lead))...)
		closed := s.TwoNoteTurn == "whole" || s.TwoNoteTurn == "half" || pl.figure == trillMordentFigure
		if closed && len(steps) > 4 {
			steps = append(steps[:len(steps)-2:len(steps)-2], -1, 0)
		}
		if last := steps[len(steps)-1]; last != 0 {
			steps = append(steps, 0)
		}
		return steps
	case shortTrillFigure:
		if s.StartNote == "upper" {
			return alternate(1, 0, 4)
		}
		return alternate(0, 1, 3)
	case mordentFigure, longMordentFigure:
		if s.StartNote == "below" {
			return alternate(-1, 0, 4)
		}
		return alternate(0, -1, 3)
	case turnFigure, lateTurnFigure, haydnFigure:
		if s.StartNote == "main" {
			return []int{0, 1, 0, -1, 0}
		}
		return []int{1, 0, -1, 0}
	case invertedTurnFigure, lateInvertedTurn:
		if s.StartNote == "main" {
			return []int{0, -1, 0, 1, 0}
		}
		return []int{-1, 0, 1, 0}
	}
	return nil
}

// fileGrid is how finely the percentages of a file are read: what note values
// can say.
const fileGrid = 24

// fileNotes plays what the file asks for.
func (pl *place) fileNotes(room figureRoom) ([]Note, []Borrow, bool) {
	if len(pl.signs) == 0 {
		return pl.fileSmallNotes(room)
	}
	s := pl.fileSound()
	steps := pl.fileSteps()
	n := int64(len(steps))
	if n < 2 {
		return nil, nil, false
	}
	values := make([]music.Frac, n)
	switch {
	case s.SecondBeat > 0 || s.LastBeat > 0:
		first, last := share(s.SecondBeat, room.length), share(s.LastBeat, room.length)
		if first.IsZero() {
			first = room.length.Div(music.Int(n))
		}
		if last.Cmp(first) <= 0 {
			last = room.length.Sub(room.length.Div(music.Int(n)))
		}
		if n > 2 && (last.Cmp(first) <= 0 || room.length.Cmp(last) <= 0) {
			return nil, nil, false
		}
		values[0] = first
		for i := int64(1); i < n-1; i++ {
			values[i] = last.Sub(first).Div(music.Int(n - 2))
		}
		values[n-1] = room.length.Sub(last)
		if n == 2 {
			values[1] = room.length.Sub(first)
		}
	case s.Accelerate && n >= 6:
		// A third of the notes at half the speed: values can say that.
		slow := n / 3 / 2 * 2
		unit := room.length.Div(music.Int(n + slow))
		for i := range values {
			values[i] = unit
			if int64(i) < slow {
				values[i] = unit.Add(unit)
			}
		}
	default:
		for i := range values {
			values[i] = room.length.Div(music.Int(n))
		}
	}
	return lay(room.from, pl.tones(steps, pl.raised != nil && pl.r.raisesLower(pl)), values, true), nil, true
}

// share turns a percentage of a room into time that note values can say; 0
// where none is given.
func share(percent float64, room music.Frac) music.Frac {
	if percent <= 0 || percent >= 100 {
		return music.Frac{}
	}
	k := int64(percent/100*fileGrid + .5)
	return room.Mul(music.F(min(fileGrid-1, max(1, k)), fileGrid))
}

// fileSmallNotes gives small notes the share that the file takes from the
// note before or from the principal.
func (pl *place) fileSmallNotes(room figureRoom) ([]Note, []Borrow, bool) {
	var before, after music.Frac
	for _, g := range pl.prefix {
		x := pl.r.p.Chords[g].Grace
		if pl.before != nil && x.StealPrevious > 0 {
			before = before.Max(share(x.StealPrevious, pl.before.Dur))
		}
		after = after.Max(share(x.StealFollowing, room.length))
		after = after.Max(x.MakeTime)
	}
	n := music.Int(int64(len(pl.prefixTones)))
	total := before.Add(after)
	if len(pl.prefixTones) == 0 || total.Sign() <= 0 || room.length.Cmp(after) <= 0 {
		return nil, nil, false
	}
	values := make([]music.Frac, len(pl.prefixTones), len(pl.prefixTones)+1)
	for i := range values {
		values[i] = total.Div(n)
	}
	values = append(values, room.length.Sub(after))
	notes := lay(room.from.Sub(before), append(append([]tone{}, pl.prefixTones...), tone{pitch: pl.pitch}), values, true)
	var borrows []Borrow
	if before.Sign() > 0 {
		giver := Borrow{Amount: before}
		if !pl.before.IsRest() {
			giver.Note = melodyID(pl.before, pl.prev)
		}
		borrows = append(borrows, giver)
	}
	for _, j := range pl.also {
		q := pl.chord.Notes[j].Pitch
		notes = append(notes, Note{Pitch: q, Onset: room.from, Dur: pl.alsoRoom(j), Degree: q.Diatonic() - pl.pitch.Diatonic(), Strength: 1, Measured: true})
	}
	sortNotes(notes)
	return notes, borrows, true
}
