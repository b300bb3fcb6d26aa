package score

import (
	"agremens/realize/music"
	"agremens/realize/words"
)

// Transposed returns the passage moved by an interval: notes, keys, and the
// accidentals that signs carry. It fails where a key would need more than
// seven accidentals or a note more than two; the same interval spelled
// otherwise (an augmented fourth for a diminished fifth) may do.
func (p *Passage) Transposed(iv music.Interval) (*Passage, error) {
	q := p.Clone()
	fifths := fifthsOf(iv)
	for i := range q.Measures {
		m := &q.Measures[i]
		if err := moveKey(&m.Key, fifths); err != nil {
			return nil, err
		}
		for j := range m.KeyChanges {
			if err := moveKey(&m.KeyChanges[j].Key, fifths); err != nil {
				return nil, err
			}
		}
	}
	for i := range q.Chords {
		c := &q.Chords[i]
		// The signs first: they need the notes they were printed with.
		for j := range c.Signs {
			if err := moveSign(p, &p.Chords[i], &c.Signs[j], iv); err != nil {
				return nil, err
			}
		}
		for j := range c.Notes {
			n := &c.Notes[j]
			n.Pitch = n.Pitch.Transpose(iv)
			if n.Pitch.Alter < -2 || n.Pitch.Alter > 2 {
				return nil, words.Errorf(nil, "bar {bar}: {note} would need more than two accidentals", "{bar}", q.Measures[c.Measure].Number, "{note}", p.Chords[i].Notes[j].Pitch.String())
			}
			if key := n.Pitch.MIDI(); key < 0 || key > 127 {
				return nil, words.Errorf(nil, "bar {bar}: {note} would leave the keyboard", "{bar}", q.Measures[c.Measure].Number, "{note}", p.Chords[i].Notes[j].Pitch.String())
			}
			if _, known := Alter(n.Accidental); known {
				n.Accidental = accidentalWord(int(n.Pitch.Alter))
			}
		}
		if c.RestPos != nil {
			*c.RestPos = c.RestPos.Transpose(iv)
			c.RestPos.Alter = 0
		}
	}
	return q, nil
}

// fifthsOf returns how far an interval moves a key on the line of fifths.
func fifthsOf(iv music.Interval) int {
	// F is at -1, C at 0, B at 5; a sharp adds seven.
	line := [7]int{0, 2, 4, -1, 1, 3, 5}
	to := music.Pitch{Step: music.C, Octave: 4}.Transpose(iv)
	return line[to.Step] + 7*int(to.Alter)
}

func moveKey(k *music.Key, fifths int) error {
	n := int(k.Fifths) + fifths
	if n < -7 || n > 7 {
		return words.Errorf(nil, "this key would need more than seven accidentals: transpose by the enharmonic interval")
	}
	k.Fifths = int8(n)
	return nil
}

// moveSign gives the accidentals of a sign the words their neighbours need in
// the new key: a natural may become a sharp.
func moveSign(p *Passage, c *Chord, s *Sign, iv music.Interval) error {
	if len(c.Notes) == 0 {
		return nil
	}
	note := c.Notes[min(s.Note, len(c.Notes)-1)].Pitch
	for i := range s.Accidentals {
		a := &s.Accidentals[i]
		alter, ok := Alter(a.Value)
		if !ok {
			continue
		}
		steps := 1
		if a.Below || s.Kind == Mordent {
			steps = -1
		}
		neighbour := music.FromDiatonic(note.Diatonic()+steps, alter).Transpose(iv)
		if neighbour.Alter < -2 || neighbour.Alter > 2 {
			return words.Errorf(nil, "bar {bar}: the accidental of a sign would need more than two accidentals", "{bar}", p.Measures[c.Measure].Number)
		}
		a.Value = accidentalWord(int(neighbour.Alter))
	}
	return nil
}

// accidentalWord returns the MusicXML word for an alteration of up to two
// semitones.
func accidentalWord(alter int) string {
	return [...]string{"flat-flat", "flat", "natural", "sharp", "double-sharp"}[alter+2]
}
