package sketch

import (
	"agremens/realize/music"
)

// strokes gives the length of one stroke of a rhythm in quarters, simple
// metres and compound ones, and how many make a written tuplet.
var strokes = map[Rhythm]struct {
	simple, compound music.Frac
	tuplet           int
}{
	Halves:     {music.Int(2), music.Int(3), 0},
	Quarters:   {music.Int(1), music.F(3, 2), 0},
	Eighths:    {music.F(1, 2), music.F(1, 2), 0},
	Triplets:   {music.F(1, 2), music.F(1, 2), 3}, // written eighths, three in the time of two
	Sixteenths: {music.F(1, 4), music.F(1, 4), 0},
}

// lower writes the bass: rests under an upbeat, then the rhythm.
func (pl *plan) lower() string {
	l := pl.newLine()
	l.add(nil, pl.upbeat, "", "")
	bass := pl.bass()
	for l.at.Less(pl.bar.Add(pl.bar)) {
		if pl.Beneath == Held {
			l.add(&bass, pl.bar, "", "")
			continue
		}
		pl.measure(l, bass)
	}
	return l.String()
}

// measure fills one bar with strokes, in groups of a felt beat.
func (pl *plan) measure(l *line, bass music.Pitch) {
	s := strokes[pl.Beneath]
	stroke, tuplet := s.simple, s.tuplet
	if pl.Metre.Compound() {
		// Three eighths a beat are the metre's own.
		stroke, tuplet = s.compound, 0
	}
	// Fast strokes alternate with the octave above, if it lies below the note.
	upper := bass
	if stroke.Less(music.Int(1)) && bass.MIDI()+12 < pl.Note.MIDI() {
		upper.Octave++
	}
	if tuplet > 0 {
		for beat := l.at; l.at.Less(beat.Add(pl.bar)); {
			if l.toBar().Sub(l.at).Less(music.Int(1)) {
				l.add(&bass, l.toBar().Sub(l.at), " ", "")
				return
			}
			l.WriteString(" (3" + l.name(bass) + "/" + l.name(upper) + "/" + l.name(upper) + "/")
			l.at = l.at.Add(music.Int(1))
			if l.at == l.toBar().Sub(pl.bar) {
				l.bar()
				return
			}
		}
		return
	}
	end := l.toBar()
	group := pl.Metre.Beat()
	for i := 0; l.at.Less(end); i++ {
		pitch := bass
		if i%2 == 1 {
			pitch = upper
		}
		blank := ""
		if l.at.Mod(group).IsZero() {
			blank = " "
		}
		l.add(&pitch, stroke.Min(end.Sub(l.at)), blank, "")
	}
}
