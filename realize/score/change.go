package score

import (
	"fmt"
	"slices"

	"agremens/realize/music"
	"agremens/realize/words"
)

// ErrNoNote says that a passage has no note of an id.
var ErrNoNote = words.Errorf(nil, "there is no such note")

// The functions of this file return a changed copy and leave the passage as
// it is, so that whoever keeps the old one can undo.

// copyAt clones the passage and finds the chord of a note in it.
func (p *Passage) copyAt(id ID) (*Passage, Ref, error) {
	r, ok := p.Find(id)
	if !ok {
		return nil, r, words.Errorf(ErrNoNote, "there is no note “{id}”", "{id}", string(id))
	}
	return p.Clone(), r, nil
}

// WithSign puts an ornament sign on a note, in place of the ornament signs its
// chord has. On the bottom note of a chord the sign stands below, since a sign
// belongs to the outer note on its side. Small notes take no sign.
func (p *Passage) WithSign(id ID, s Sign) (*Passage, error) {
	q, r, err := p.copyAt(id)
	if err != nil {
		return nil, err
	}
	c := &q.Chords[r.Chord]
	if c.Grace != nil {
		return nil, words.Errorf(nil, "this is a grace note: choose its main note")
	}
	s.Note = r.Note
	s.Accidentals = slices.Clone(s.Accidentals)
	if r.Note == 0 && len(c.Notes) > 1 {
		s.Placed, s.Above = true, false
	}
	c.Signs = []Sign{s}
	return q, nil
}

// WithoutSigns takes the ornament signs off a note's chord.
func (p *Passage) WithoutSigns(id ID) (*Passage, error) {
	q, r, err := p.copyAt(id)
	if err != nil {
		return nil, err
	}
	q.Chords[r.Chord].Signs = nil
	return q, nil
}

// WithSignAccidental sets the accidental of a note's ornament sign, above it
// or below it, in MusicXML words; "" takes it away.
func (p *Passage) WithSignAccidental(id ID, accidental string, below bool) (*Passage, error) {
	q, r, err := p.copyAt(id)
	if err != nil {
		return nil, err
	}
	if _, ok := Alter(accidental); !ok && accidental != "" {
		return nil, words.Errorf(nil, "there is no accidental “{word}”", "{word}", accidental)
	}
	signs := q.Chords[r.Chord].Signs
	i := slices.IndexFunc(signs, func(s Sign) bool { return s.Kind != WavyLine })
	if i < 0 {
		return nil, words.Errorf(nil, "the note has no sign for an accidental")
	}
	marks := slices.DeleteFunc(signs[i].Accidentals, func(a AccidentalMark) bool { return a.Below == below })
	if accidental != "" {
		marks = append(marks, AccidentalMark{Value: accidental, Below: below, Placed: true})
	}
	if len(marks) == 0 {
		marks = nil
	}
	signs[i].Accidentals = marks
	return q, nil
}

// WithSmallNotes puts small notes of one value before a note's chord, in place
// of those that stand there. Their ids are new.
func (p *Passage) WithSmallNotes(id ID, pitches []music.Pitch, value ValueType, slash bool) (*Passage, error) {
	if len(pitches) == 0 {
		return nil, words.Errorf(nil, "no grace notes are given")
	}
	if value <= Unspecified || value > N256th {
		return nil, words.Errorf(nil, "grace notes need a note value")
	}
	for _, pitch := range pitches {
		if pitch.Alter < -2 || pitch.Alter > 2 {
			return nil, words.Errorf(nil, "{note} has more than two accidentals", "{note}", pitch.String())
		}
		if key := pitch.MIDI(); key < 0 || key > 127 {
			return nil, words.Errorf(nil, "{note} is outside the range of every keyboard", "{note}", pitch.String())
		}
	}
	q, err := p.WithoutSmallNotes(id)
	if err != nil {
		return nil, err
	}
	r, _ := q.Find(id)
	main := q.Chords[r.Chord]
	key := q.KeyAt(main.Onset)
	for i, pitch := range pitches {
		n := Note{ID: q.newID(id), Pitch: pitch, Staff: main.Staff}
		if int(pitch.Alter) != key.Alter(pitch.Step) {
			n.Accidental = accidentalWord(int(pitch.Alter))
		}
		q.Chords = append(q.Chords, Chord{
			Measure: main.Measure, Onset: main.Onset, Staff: main.Staff, Voice: main.Voice,
			Value: Value{Type: value}, Notes: []Note{n}, Grace: &Grace{Slash: slash},
			Beams: groupBeams(i, len(pitches), Value{Type: value}.Flags()),
		})
	}
	q.Sort()
	return q, nil
}

// Signed reports whether a chord has an ornament sign that can hold an accidental.
func (c *Chord) Signed() bool {
	return slices.ContainsFunc(c.Signs, func(s Sign) bool { return s.Kind != WavyLine })
}

// WithSmallAccidental sets the accidental of the small notes that lean on a
// note and stand above it, or below it, in MusicXML words; "" gives them the
// key's.
func (p *Passage) WithSmallAccidental(id ID, accidental string, below bool) (*Passage, error) {
	q, r, err := p.copyAt(id)
	if err != nil {
		return nil, err
	}
	alter, ok := Alter(accidental)
	if !ok && accidental != "" {
		return nil, words.Errorf(nil, "there is no accidental “{word}”", "{word}", accidental)
	}
	main, place := &q.Chords[r.Chord], q.At(r).Pitch.Diatonic()
	found := false
	for i := range q.Chords {
		c := &q.Chords[i]
		if c.Grace == nil || c.Grace.After || c.Voice != main.Voice || c.Onset != main.Onset || c.Measure != main.Measure {
			continue
		}
		for j := range c.Notes {
			n := &c.Notes[j]
			if at := n.Pitch.Diatonic(); at == place || (at < place) != below {
				continue
			}
			found = true
			n.Accidental = accidental
			if accidental == "" {
				alter = q.KeyAt(main.Onset).Alter(n.Pitch.Step)
			}
			n.Pitch = n.Pitch.WithAlter(alter)
		}
	}
	if !found {
		return nil, words.Errorf(nil, "the note has no sign for an accidental")
	}
	return q, nil
}

// groupBeams returns the beams of the i-th of n equal notes.
func groupBeams(i, n, levels int) []Beam {
	if n < 2 || levels == 0 {
		return nil
	}
	state := BeamContinue
	switch i {
	case 0:
		state = BeamBegin
	case n - 1:
		state = BeamEnd
	}
	return slices.Repeat([]Beam{state}, levels)
}

// newID makes an id that the passage does not use.
func (p *Passage) newID(id ID) ID {
	for i := 1; ; i++ {
		fresh := ID(fmt.Sprintf("%s-small%d", id, i))
		if _, used := p.Find(fresh); !used {
			return fresh
		}
	}
}

// WithoutSmallNotes takes away the small notes that lean on a note's chord,
// and the slurs that end on them.
func (p *Passage) WithoutSmallNotes(id ID) (*Passage, error) {
	q, r, err := p.copyAt(id)
	if err != nil {
		return nil, err
	}
	main := q.Chords[r.Chord]
	if main.Grace != nil {
		return nil, words.Errorf(nil, "this is a grace note: choose its main note")
	}
	q.remove(func(c *Chord) bool {
		return c.Grace != nil && !c.Grace.After && c.Voice == main.Voice && c.Onset == main.Onset && c.Measure == main.Measure
	})
	return q, nil
}

// remove takes chords out and rewrites the indexes that slurs and tuplets
// hold; lines that lose an end go too.
func (p *Passage) remove(gone func(*Chord) bool) {
	place := make([]int, len(p.Chords))
	kept := p.Chords[:0]
	for i := range p.Chords {
		if gone(&p.Chords[i]) {
			place[i] = -1
			continue
		}
		place[i] = len(kept)
		kept = append(kept, p.Chords[i])
	}
	p.Chords = kept
	slurs := p.Slurs[:0]
	for _, s := range p.Slurs {
		if s.From, s.To = place[s.From], place[s.To]; s.From >= 0 && s.To >= 0 {
			slurs = append(slurs, s)
		}
	}
	p.Slurs = slurs
	tuplets := p.Tuplets[:0]
	for _, t := range p.Tuplets {
		if t.From, t.To = place[t.From], place[t.To]; t.From >= 0 && t.To >= 0 {
			tuplets = append(tuplets, t)
		}
	}
	p.Tuplets = tuplets
}

// WithTempo sets one tempo for the whole passage, in quarters a minute.
func (p *Passage) WithTempo(quartersPerMinute float64) *Passage {
	q := p.Clone()
	tempo := Tempo{QuartersPerMinute: quartersPerMinute, Beat: Value{Type: Quarter}, PerMinute: quartersPerMinute}
	if len(p.Tempos) > 0 {
		tempo.Text = p.Tempos[0].Text
	}
	q.Tempos = []Tempo{tempo}
	return q
}
