package desk

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

// errNothing says that no ornament is selected.
var errNothing = words.Errorf(nil, "choose an ornament first")

// decide takes a changed taste.
func (d *Desk) decide(t realize.Taste) {
	d.Taste = t
	d.read()
}

// Choose takes the i-th choice for the selected ornament and keeps it as the
// user's decision.
func (d *Desk) Choose(i int) {
	if o, ok := d.Ornament(); ok && i >= 0 && i < len(o.Choices) {
		d.decide(d.Taste.Choose(o.Note, o.Choices[i].Key))
	}
}

// ChooseInPass takes the i-th choice for the selected ornament in one pass of
// a repeat, counted from 1; the other passes stay as they are.
func (d *Desk) ChooseInPass(pass, i int) {
	if o, ok := d.Ornament(); ok && i >= 0 && i < len(o.Choices) && pass >= 1 {
		d.decide(d.Taste.ChooseInPass(o.Note, pass, o.Choices[i].Key))
	}
}

// Repeated returns how often the selected ornament's measure is played when
// the repeats are: 1 where it is not repeated.
func (d *Desk) Repeated() int {
	o, ok := d.Ornament()
	if !ok {
		return 1
	}
	most := 1
	for _, s := range d.Passage.Road(score.RoadOptions{Repeats: true}) {
		if s.Measure == o.Measure {
			most = max(most, s.Pass)
		}
	}
	return most
}

// Edit changes the choice that is taken for the selected ornament, which then
// is the user's own. Errors wrap [realize.ErrEdit].
func (d *Desk) Edit(e realize.Edit) error {
	o, ok := d.Ornament()
	if !ok {
		return errNothing
	}
	own, err := d.Reading.Edit(o.ID, o.Chosen, e)
	if err != nil {
		return err
	}
	return d.SetOwn(own)
}

// SetOwnNotes writes the selected ornament as small notes of the user's own,
// named by letters ("C D Eb5"); a letter without an octave is the nearest one
// to the note before. each is their length in quarters.
func (d *Desk) SetOwnNotes(text string, each music.Frac, where realize.SmallPlace) error {
	o, ok := d.Ornament()
	if !ok {
		return errNothing
	}
	pitches, err := ParsePitches(text, o.Principal)
	if err != nil {
		return err
	}
	// Small notes lead to the printed note; who writes it too means it once.
	if n := len(pitches); n > 1 && pitches[n-1] == o.Principal && where != realize.Closing {
		pitches = pitches[:n-1]
	}
	own, err := d.Reading.SmallNotes(o.ID, pitches, each, where)
	if err != nil {
		return err
	}
	return d.SetOwn(own)
}

// SetOwn keeps a realization of the user's own for the selected ornament; the
// reason that was given before stays.
func (d *Desk) SetOwn(own realize.Own) error {
	o, ok := d.Ornament()
	if !ok {
		return errNothing
	}
	if old, ok := d.Taste.Own[o.Note]; ok {
		own.Why, own.Edition = old.Why, old.Edition
	}
	d.decide(d.Taste.WithOwn(o.Note, own))
	return nil
}

// SayWhy keeps the user's reason for the choice taken at the selected
// ornament, which becomes the user's own; edition says that the user's edition
// has it so.
func (d *Desk) SayWhy(why string, edition bool) error {
	o, ok := d.Ornament()
	if !ok {
		return errNothing
	}
	own, have := d.Taste.Own[o.Note]
	if !have || o.Choices[o.Chosen].Key != realize.OwnKey {
		own = realize.Own{Notes: o.Choices[o.Chosen].Notes}
	}
	own.Why, own.Edition = strings.Join(strings.Fields(why), " "), edition
	d.decide(d.Taste.WithOwn(o.Note, own))
	return nil
}

// Why returns the user's reason at the selected ornament.
func (d *Desk) Why() (why string, edition, own bool) {
	o, ok := d.Ornament()
	if !ok {
		return "", false, false
	}
	kept, own := d.Taste.Own[o.Note]
	return kept.Why, kept.Edition, own
}

// Alike returns how many places stand like the selected ornament.
func (d *Desk) Alike() int {
	if o, ok := d.Ornament(); ok {
		return len(d.Reading.Alike(o.ID))
	}
	return 0
}

// TakeAlong decides for all places that stand like the selected ornament what
// is taken there, and returns the printed bars they stand in, in order, each
// once for each place.
func (d *Desk) TakeAlong() (bars []string) {
	o, ok := d.Ornament()
	if !ok {
		return nil
	}
	t := d.Taste
	if _, own := t.Own[o.Note]; !own || t.Chosen[o.Note] != realize.OwnKey {
		t = t.Choose(o.Note, o.Choices[o.Chosen].Key)
		for p, key := range d.Taste.Passes {
			if p.Note == o.Note {
				t = t.ChooseInPass(o.Note, p.Pass, key)
			}
		}
	}
	t, taken := d.Reading.TakeAlong(t, o.ID)
	for i := range d.Reading.Ornaments {
		if o := &d.Reading.Ornaments[i]; slices.Contains(taken, o.ID) {
			bars = append(bars, d.Passage.Measures[o.Measure].Number)
		}
	}
	d.decide(t)
	return bars
}

// Always takes the choice of the selected ornament wherever its sign stands
// and nothing else is decided.
func (d *Desk) Always() {
	if o, ok := d.Ornament(); ok {
		d.decide(d.Taste.Always(o.Signs, o.Choices[o.Chosen].Key))
	}
}

// Forget takes back all that was decided for the selected ornament.
func (d *Desk) Forget() {
	if o, ok := d.Ornament(); ok {
		d.decide(d.Taste.Forget(o.Note))
	}
}

// Fingers returns the fingering of the selected ornament's choice, "" none.
func (d *Desk) Fingers() string {
	if o, ok := d.Ornament(); ok {
		return strings.Join(o.Choices[o.Chosen].Fingering, " ")
	}
	return ""
}

// TaughtFingers reports whether they are a teacher's, for her student.
func (d *Desk) TaughtFingers() bool {
	o, ok := d.Ornament()
	if !ok || !d.Taught {
		return false
	}
	f, kept := d.Taste.Fingers[o.Note]
	return kept && f.Key == o.Choices[o.Chosen].Key
}

// SetFingers keeps fingers for the selected ornament's choice: one digit a
// note, "3 2 3 2" or "3232"; an empty text goes back to the suggestion.
func (d *Desk) SetFingers(text string) error {
	o, ok := d.Ornament()
	if !ok {
		return errNothing
	}
	c := &o.Choices[o.Chosen]
	var fingers []string
	for _, r := range text {
		switch {
		case r >= '1' && r <= '5':
			fingers = append(fingers, string(r))
		case !strings.ContainsRune(" ,.-–", r):
			return words.Errorf(nil, "fingers are numbers from 1 to 5")
		}
	}
	if len(fingers) > 0 && len(fingers) != len(c.Notes) {
		return words.Errorf(nil, "the number of fingers, {m}, is not that of this choice's notes, {n}", "{n}", strconv.Itoa(len(c.Notes)), "{m}", strconv.Itoa(len(fingers)))
	}
	d.decide(d.Taste.WithFingers(o.Note, c.Key, fingers))
	return nil
}

// ParsePitches reads note names divided by blanks or commas, sharps and flats
// after the letter. A name without an octave is the nearest to the one before
// it, the first the nearest to near.
func ParsePitches(text string, near music.Pitch) ([]music.Pitch, error) {
	var all []music.Pitch
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == '-' || r == '–' }) {
		name := strings.ToUpper(word[:1]) + word[1:]
		p, err := music.ParsePitch(name)
		if err != nil {
			if p, err = music.ParsePitch(name + "4"); err != nil {
				return nil, words.Errorf(nil, "“{word}” is not a note: letters are C D E F G A B, then # or b, then an octave if you like", "{word}", word)
			}
			for p.Diatonic()-near.Diatonic() > 3 {
				p.Octave--
			}
			for p.Diatonic()-near.Diatonic() < -3 {
				p.Octave++
			}
		}
		near = p
		all = append(all, p)
	}
	if len(all) == 0 || len(all) > 64 {
		return nil, words.Errorf(nil, "write the notes as letters, “D E D C D”")
	}
	return all, nil
}
