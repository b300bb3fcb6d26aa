package realize

import (
	"errors"
	"slices"
	"strconv"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Own is a realization that the user wrote, or found in an edition. It leads
// the list of its ornament and no later version of the program changes it.
type Own struct {
	Notes   []Note
	Borrows []Borrow // nil: from the notes before and after, as the notes need
	Why     string   // a line of the user's
	Edition bool     // "as in my edition"
}

// OwnKey is the key of a choice of the user's own.
const OwnKey = "own"

func (t *Taste) ownSource() Source {
	if t.Taught {
		return Source{t.Words.Say("your teacher"), StatusMemory}
	}
	return Source{t.Words.Say("your own decision"), StatusMemory}
}

// Rhythm is how an edited figure shares its time.
type Rhythm int8

// Rhythms.
const (
	SameRhythm Rhythm = iota // even where the number of notes changed
	EvenRhythm
	HoldLast  // the last note takes half
	LeanFirst // the first note takes half
)

// Edit changes a choice. The zero value changes nothing.
type Edit struct {
	// First moves the start: 1 to the upper note, -1 to the main note, -2 to
	// the lower note.
	First int
	// Alternations adds or takes away pairs.
	Alternations int
	// Ending adds (1) or takes away (-1) the lower neighbour and the principal.
	Ending int
	// Upper and Lower move a neighbour by semitones.
	Upper, Lower int
	// Rhythm shares the time anew; Shares, one for each note, does so exactly.
	Rhythm Rhythm
	Shares []int
	// Shift moves the start, in quarters: negative before the beat, whose
	// time the note before gives; positive after it, the principal sounding
	// until then.
	Shift music.Frac
}

// ErrEdit says that nothing playable would be left.
var ErrEdit = errors.New("realize: nothing is left to play")

// Edit applies an edit to a choice of an ornament and returns it as a
// realization of the user's own, for [Taste.WithOwn]. Errors wrap [ErrEdit].
func (r *Reading) Edit(ornamentID string, choice int, e Edit) (Own, error) {
	o := r.find(ornamentID)
	if o == nil || choice < 0 || choice >= len(o.Choices) {
		return Own{}, words.Errorf(ErrEdit, "there is no such choice")
	}
	c, err := o.Choices[choice].Edited(o.Principal, e)
	if err != nil {
		return Own{}, err
	}
	return Own{Notes: c.Notes}, nil
}

// SmallPlace says where small notes of one's own go.
type SmallPlace int8

// Places of small notes.
const (
	OnBeat  SmallPlace = iota // in the principal's time, from its beat
	Before                    // before the beat, in the time of the note before
	Closing                   // at the end of the principal's own time
)

// SmallNotes makes a realization of small notes that the user writes: their
// pitches, the value of each in quarters, and where they go. Errors wrap
// [ErrEdit].
func (r *Reading) SmallNotes(ornamentID string, pitches []music.Pitch, each music.Frac, where SmallPlace) (Own, error) {
	o := r.find(ornamentID)
	if o == nil || len(pitches) == 0 || len(pitches) > 64 || each.Sign() <= 0 || !each.Bounded(1<<12) {
		return Own{}, words.Errorf(ErrEdit, "grace notes need pitches and a note value")
	}
	total := each.Mul(music.Int(int64(len(pitches))))
	if where != Before && o.Notated.Cmp(total) <= 0 {
		return Own{}, words.Errorf(ErrEdit, "the grace notes are as long as their main note")
	}
	at, main := music.Frac{}, Note{Pitch: o.Principal, Dur: o.Notated, Strength: 1, Measured: true}
	switch where {
	case Before:
		at = total.Neg()
	case Closing:
		main.Dur = o.Notated.Sub(total)
		at = main.Dur
	default:
		main.Onset, main.Dur = total, o.Notated.Sub(total)
	}
	notes := []Note{main}
	for _, p := range pitches {
		if key := p.MIDI(); key < 0 || key > 127 || p.Alter < -2 || p.Alter > 2 {
			return Own{}, words.Errorf(ErrEdit, "{note} is outside the range of every keyboard", "{note}", p.String())
		}
		notes = append(notes, Note{Pitch: p, Onset: at, Dur: each, Degree: p.Diatonic() - o.Principal.Diatonic(), Strength: 1, Measured: true})
		at = at.Add(each)
	}
	for i := range o.Choices {
		if len(o.Covers) > 1 && o.Choices[i].Key == "plain" {
			for _, n := range o.Choices[i].Notes {
				if n.Degree != 0 {
					notes = append(notes, n) // the rest of the chord
				}
			}
		}
	}
	sortNotes(notes)
	return Own{Notes: notes}, nil
}

// Edited returns a choice with an edit applied. Its notes share the time they
// had evenly where their number changed. Errors wrap [ErrEdit].
func (c Choice) Edited(principal music.Pitch, e Edit) (Choice, error) {
	if len(c.Notes) == 0 {
		return c, ErrEdit
	}
	notes := slices.Clone(c.Notes)
	begin, end := c.Notes[0].Onset, span(c.Notes)
	if e.First != 0 {
		main := slices.IndexFunc(notes, func(n Note) bool { return n.Degree == 0 })
		if main < 0 {
			return c, words.Errorf(ErrEdit, "the main note is missing")
		}
		notes = notes[main:]
		switch e.First {
		case 1:
			notes = append([]Note{neighbourNote(c.Notes, principal, 1)}, notes...)
		case -2:
			notes = append([]Note{neighbourNote(c.Notes, principal, -1)}, notes...)
		}
	}
	notes, err := alternated(notes, e.Alternations)
	if err != nil {
		return c, err
	}
	k := len(notes)
	closed := k >= 3 && notes[k-1].Degree == 0 && notes[k-2].Degree == -1
	if e.Ending > 0 && !closed {
		main := notes[k-1]
		main.Pitch, main.Degree = principal, 0
		notes = append(notes, neighbourNote(notes, principal, -1), main)
	}
	if e.Ending < 0 && closed {
		notes = notes[:k-2]
	}
	same := slices.EqualFunc(notes, c.Notes, func(a, b Note) bool { return a.Degree == b.Degree && a.Onset == b.Onset })
	if notes, err = timed(notes, begin, end, e, !same); err != nil {
		return c, err
	}
	if notes, err = shifted(notes, principal, e.Shift); err != nil {
		return c, err
	}
	for i := range notes {
		switch notes[i].Degree {
		case 1:
			notes[i].Pitch.Alter += int8(e.Upper)
		case -1:
			notes[i].Pitch.Alter += int8(e.Lower)
		}
		if a := notes[i].Pitch.Alter; a < -2 || a > 2 {
			return c, words.Errorf(ErrEdit, "more than two accidentals")
		}
	}
	notes[0].Tied = notes[0].Tied && notes[0].Pitch == c.Notes[0].Pitch
	out := c
	out.Key, out.Name, out.Notes, out.Fingering, out.Fingerings = OwnKey, c.Words.Say("{choice}, changed", "{choice}", c.Name), notes, nil, nil
	return out, nil
}

// alternated adds or takes away pairs of an alternation.
func alternated(notes []Note, more int) ([]Note, error) {
	for ; more > 0; more-- {
		at := alternation(notes)
		if at < 0 || len(notes) > maxOwn-2 {
			return nil, words.Errorf(ErrEdit, "there is no alternation to repeat")
		}
		notes = slices.Insert(notes, at, notes[at], notes[at+1])
		notes[at+2].Tied = false // only the first of them is held over
	}
	for ; more < 0; more++ {
		at := alternation(notes)
		if at < 0 || len(notes) < 4 {
			return nil, words.Errorf(ErrEdit, "no alternation can be spared")
		}
		held, degree := notes[at].Tied, notes[at].Degree
		notes = slices.Delete(notes, at, at+2)
		if at < len(notes) && notes[at].Degree == degree {
			notes[at].Tied = held
		}
	}
	return notes, nil
}

// timed shares the time from begin to end among the notes.
func timed(notes []Note, begin, end music.Frac, e Edit, changed bool) ([]Note, error) {
	shares := e.Shares
	switch {
	case len(shares) > 0 && len(shares) != len(notes):
		return nil, words.Errorf(ErrEdit, "the number of shares, {n}, is not that of the notes, {m}", "{n}", strconv.Itoa(len(shares)), "{m}", strconv.Itoa(len(notes)))
	case len(shares) > 0:
	case e.Rhythm == SameRhythm && !changed:
		return notes, nil
	default:
		shares = slices.Repeat([]int{1}, len(notes))
		if e.Rhythm == HoldLast && len(notes) > 1 {
			shares[len(notes)-1] = len(notes) - 1
		}
		if e.Rhythm == LeanFirst && len(notes) > 1 {
			shares[0] = len(notes) - 1
		}
	}
	sum := 0
	for _, s := range shares {
		if s < 1 || s > 1000 {
			return nil, words.Errorf(ErrEdit, "a share is a number from 1 to 1000")
		}
		sum += s
	}
	at := begin
	for i := range notes {
		notes[i].Onset, notes[i].Dur = at, end.Sub(begin).Mul(music.F(int64(shares[i]), int64(sum)))
		at = at.Add(notes[i].Dur)
	}
	return notes, nil
}

// shifted moves the start of a figure; its last note gives or takes the time.
func shifted(notes []Note, principal music.Pitch, by music.Frac) ([]Note, error) {
	if by.IsZero() {
		return notes, nil
	}
	if !by.Bounded(1 << 12) {
		return nil, words.Errorf(ErrEdit, "too far from its beat")
	}
	for i := range notes {
		notes[i].Onset = notes[i].Onset.Add(by)
	}
	last := &notes[len(notes)-1]
	if last.Dur = last.Dur.Sub(by); last.Dur.Sign() <= 0 {
		return nil, words.Errorf(ErrEdit, "the last note has no time left")
	}
	if by.Sign() > 0 {
		if first := &notes[0]; first.Degree == 0 {
			first.Onset, first.Dur = first.Onset.Sub(by), first.Dur.Add(by)
			return notes, nil
		}
		main := notes[0]
		main.Pitch, main.Degree, main.Onset, main.Dur, main.Tied = principal, 0, main.Onset.Sub(by), by, false
		notes = append([]Note{main}, notes...)
	}
	return notes, nil
}

// alternation finds a pair that is repeated, else one that could be.
func alternation(notes []Note) int {
	for i := 0; i+3 < len(notes); i++ {
		if notes[i].Degree != notes[i+1].Degree && notes[i].Degree == notes[i+2].Degree && notes[i+1].Degree == notes[i+3].Degree {
			return i
		}
	}
	for i := 0; i+1 < len(notes); i++ {
		a, b := notes[i].Degree, notes[i+1].Degree
		if a == 0 && (b == 1 || b == -1) || b == 0 && (a == 1 || a == -1) {
			return i
		}
	}
	return -1
}

func neighbourNote(notes []Note, principal music.Pitch, step int) Note {
	n := notes[0]
	n.Tied = false
	for i := range notes {
		if notes[i].Degree == step {
			n.Pitch, n.Degree = notes[i].Pitch, step
			return n
		}
	}
	n.Pitch, n.Degree = principal.Neighbour(step, music.Key{}), step
	return n
}

func span(notes []Note) music.Frac {
	var end music.Frac
	for _, n := range notes {
		end = end.Max(n.Onset.Add(n.Dur))
	}
	return end
}

// ownChoice makes a user's realization the first choice, checked like the
// others.
func (pl *place) ownChoice(own Own) Choice {
	c := Choice{Key: OwnKey, Name: pl.say("your own"), Notes: own.Notes, Borrows: own.Borrows,
		Reason:  clip(pl.say("Your own decision.")+" "+own.Why, ReasonWords),
		Sources: []Source{pl.r.taste.ownSource()}}
	if own.Edition {
		c.Name = pl.say("as in your edition")
		c.Reason = clip(pl.say("As in your edition.")+" "+own.Why, ReasonWords)
		c.Sources = []Source{{pl.say("your edition"), StatusMemory}}
	}
	if pl.r.taste.Taught {
		c.Name = pl.say("your teacher's")
		c.Reason = clip(pl.say("Your teacher decided this.")+" "+own.Why, ReasonWords)
		if own.Edition {
			c.Name = pl.say("as in your teacher's edition")
			c.Reason = clip(pl.say("Your teacher has it from her edition.")+" "+own.Why, ReasonWords)
		}
	}
	if c.Borrows == nil {
		c.Borrows = pl.ownBorrows(c.Notes)
	}
	c.NotesPerSecond = pl.speed(c.Notes)
	c.fingered(pl.fingerings(c.Notes))
	c.Meetings = pl.meet(c.Notes)
	sh := shape{}
	if len(c.Notes) > 6 {
		sh.time = shake
	}
	c.Warnings = texts(pl.cautions(&sh, &c))
	if end := span(c.Notes); end.Less(pl.room) {
		c.Warnings = append(c.Warnings, pl.say("ends before its note does; silence until then, in quarter notes: {n}", "{n}", pl.room.Sub(end).String()))
	}
	return c
}

// own returns the user's realization of a note, if any that can be played.
func (t *Taste) own(id score.ID) (own Own, found, sound bool) {
	o, ok := t.Own[id]
	if !ok {
		return o, false, false
	}
	return o, true, playable(o.Notes)
}

// playable reports whether notes can be played at all: what comes from a link
// or an old file may hold anything.
func playable(notes []Note) bool {
	for i := range notes {
		n := &notes[i]
		if n.Dur.Sign() <= 0 || !n.Dur.Bounded(1<<20) || !n.Onset.Bounded(1<<20) || i > 0 && n.Onset.Less(notes[i-1].Onset) {
			return false
		}
		if key := n.Pitch.MIDI(); key < 0 || key > 127 || n.Pitch.Alter < -2 || n.Pitch.Alter > 2 {
			return false
		}
	}
	return len(notes) > 0 && len(notes) <= maxOwn
}
