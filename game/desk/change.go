package desk

import (
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Change is one change of the passage, small enough to be kept as text and
// made again after a reload.
type Change struct {
	What  string   // see the makers below
	Note  score.ID // where, if at a note
	Value string
}

// The changes that can be made.
const (
	putSign    = "sign"       // Value is the key of a [SignInfo]
	dropSign   = "drop"       // takes that sign away, or the small notes
	noSign     = "plain"      // takes sign and small notes away
	accidental = "accidental" // Value is "above sharp", "below none"
	transpose  = "transpose"  // Value is "steps semitones"
	setTempo   = "tempo"      // Value is quarters a minute
)

// ErrChange says that a change cannot be made.
var ErrChange = words.Errorf(nil, "this cannot be changed")

// applied returns the changed passage.
func (c Change) applied(p *score.Passage) (*score.Passage, error) {
	switch c.What {
	case putSign, dropSign:
		s, ok := FindSign(c.Value)
		switch {
		case !ok:
			return nil, words.Errorf(ErrChange, "there is no sign “{sign}”", "{sign}", c.Value)
		case c.What == putSign:
			return s.On(p, c.Note)
		case s.Small != nil:
			return p.WithoutSmallNotes(c.Note)
		}
		return p.WithoutSigns(c.Note)
	case noSign:
		q, err := p.WithoutSigns(c.Note)
		if err != nil {
			return nil, err
		}
		return q.WithoutSmallNotes(c.Note)
	case accidental:
		side, word, _ := strings.Cut(c.Value, " ")
		if word == "none" {
			word = ""
		}
		if r, ok := p.Find(c.Note); ok && !p.Chords[r.Chord].Signed() {
			if q, err := p.WithSmallAccidental(c.Note, word, side == "below"); err == nil {
				return q, nil
			}
		}
		return p.WithSignAccidental(c.Note, word, side == "below")
	case transpose:
		steps, semitones, _ := strings.Cut(c.Value, " ")
		n, err := strconv.Atoi(steps)
		m, err2 := strconv.Atoi(semitones)
		if err != nil || err2 != nil {
			return nil, words.Errorf(ErrChange, "“{word}” is not an interval", "{word}", c.Value)
		}
		return p.Transposed(music.Interval{Steps: n, Semitones: m})
	case setTempo:
		tempo, err := strconv.ParseFloat(c.Value, 64)
		if err != nil || !(tempo >= 5 && tempo <= 1000) {
			return nil, words.Errorf(ErrChange, "a tempo is between 5 and 1000 quarter notes per minute")
		}
		return p.WithTempo(tempo), nil
	}
	return nil, words.Errorf(ErrChange, "“{word}” is not a change", "{word}", c.What)
}

// withSmallNotes puts small notes before a note. One has half its value as
// printed, an eighth at most, several half of that again, as such notes are
// commonly printed.
func withSmallNotes(p *score.Passage, id score.ID, s SignInfo) (*score.Passage, error) {
	r, ok := p.Find(id)
	if !ok {
		return nil, score.ErrNoNote
	}
	c := &p.Chords[r.Chord]
	value := min(score.N32nd, max(score.Eighth, c.Value.Type+1))
	if len(s.Small) > 1 {
		value = min(score.N64th, value+1)
	}
	var pitches []music.Pitch
	for _, steps := range s.Small {
		pitch := p.At(r).Pitch
		if steps != 0 {
			pitch = pitch.Neighbour(steps, p.KeyAt(c.Onset))
		}
		pitches = append(pitches, pitch)
	}
	return p.WithSmallNotes(id, pitches, value, s.Slash)
}

// PutSign puts a sign of the menu on the selected note, or takes it away
// where it stands there. A sign takes the place of a sign and a small note
// that of small notes; the two may stand together.
func (d *Desk) PutSign(key string) error {
	what := putSign
	if c := d.Carried(); key == c.Sign || key == c.Small {
		what = dropSign
	}
	return d.change(Change{What: what, Note: d.Note, Value: key})
}

// RemoveSign takes sign and small notes off the selected note.
func (d *Desk) RemoveSign() error { return d.change(Change{What: noSign, Note: d.Note}) }

// SetAccidental sets the accidental above or below the selected note's sign, or
// that of the small notes above or below it where it has no sign, in MusicXML
// words; "" takes it away.
func (d *Desk) SetAccidental(word string, below bool) error {
	side := "above"
	if below {
		side = "below"
	}
	if word == "" {
		word = "none"
	}
	return d.change(Change{What: accidental, Note: d.Note, Value: side + " " + word})
}

// Transpose moves the passage, its keys and the accidentals of its signs.
// Where the interval would need too many accidentals it is spelled otherwise.
func (d *Desk) Transpose(iv music.Interval) error {
	err := d.transpose(iv)
	for _, steps := range []int{1, -1} {
		if err == nil {
			break
		}
		if d.transpose(music.Interval{Steps: iv.Steps + steps, Semitones: iv.Semitones}) == nil {
			return nil
		}
	}
	return err
}

func (d *Desk) transpose(iv music.Interval) error {
	return d.change(Change{What: transpose, Value: strconv.Itoa(iv.Steps) + " " + strconv.Itoa(iv.Semitones)})
}

// Intervals returns the intervals of the menu, from the smallest up, with
// their English names; in another language they are said as "interval".
//
//words:texts in:interval
func Intervals() []IntervalInfo {
	return []IntervalInfo{
		{"minor second", music.Interval{Steps: 1, Semitones: 1}}, {"major second", music.Interval{Steps: 1, Semitones: 2}},
		{"minor third", music.Interval{Steps: 2, Semitones: 3}}, {"major third", music.Interval{Steps: 2, Semitones: 4}},
		{"fourth", music.Interval{Steps: 3, Semitones: 5}}, {"augmented fourth", music.Interval{Steps: 3, Semitones: 6}},
		{"fifth", music.Interval{Steps: 4, Semitones: 7}}, {"minor sixth", music.Interval{Steps: 5, Semitones: 8}},
		{"major sixth", music.Interval{Steps: 5, Semitones: 9}}, {"minor seventh", music.Interval{Steps: 6, Semitones: 10}},
		{"major seventh", music.Interval{Steps: 6, Semitones: 11}}, {"octave", music.Interval{Steps: 7, Semitones: 12}},
	}
}

// IntervalInfo is an interval and its name.
type IntervalInfo struct {
	Name     string
	Interval music.Interval
}

// Down returns the interval downward.
func (i IntervalInfo) Down() music.Interval {
	return music.Interval{Steps: -i.Interval.Steps, Semitones: -i.Interval.Semitones}
}

// SetTempo writes a tempo into the passage, in felt beats a minute.
func (d *Desk) SetTempo(beats float64) error {
	quarters, decided := beats*d.beat().Float(), d.Taste.Tempo
	d.Taste.Tempo = 0
	err := d.change(Change{What: setTempo, Value: strconv.FormatFloat(quarters, 'g', 6, 64)})
	if err != nil {
		d.Taste.Tempo = decided
	}
	return err
}

// text writes a change as one line, and changeOf reads it.
func (c Change) text() string { return c.What + "\n" + string(c.Note) + "\n" + c.Value }

func changeOf(text string) (Change, bool) {
	parts := strings.SplitN(text, "\n", 3)
	if len(parts) < 3 {
		return Change{}, false
	}
	return Change{What: parts[0], Note: score.ID(parts[1]), Value: parts[2]}, true
}
