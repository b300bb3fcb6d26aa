package realize

import (
	"slices"

	"agremens/realize/music"
	"agremens/realize/score"
)

// timing says how a shape takes its time.
type timing int8

const (
	// even: all notes share the room.
	even timing = iota
	// snap: quick notes at the speed of a short ornament, the last one held
	// for hold of the room at least.
	snap
	// shares: printed shares of the room.
	shares
	// shake: alternations to the end of the room, see trill.go.
	shake
	// late: the principal first, then the figure in the last part of the room.
	late
	// lean: small note and principal by a rule of length, see appoggiatura.go.
	lean
	// early: the grace notes before the beat, in the time of the note before.
	early
	// roll: the notes of a chord one after another, see arpeggio.go.
	roll
	// strokes: one key or chord repeated, see tremolo.go.
	strokes
	// plain: the printed note.
	plain
	// simultaneous: both keys struck, the second released.
	simultaneous
	// closing: the principal, then its small notes in its own last part.
	closing
	// printed: small notes, then the principal, as small notes are printed.
	printed
	// filled: a third with its passing note, see third.go.
	filled
	// instructed: as the score file itself says, see asfile.go.
	instructed
	// assimilated: the dotted rhythm softened to the triplet of the other hand.
	assimilated
)

// leanRule is a rule of length for an appoggiatura.
type leanRule int8

const (
	byHalf leanRule = iota
	byTwoThirds
	byThird
	byQuarter
	byThreeQuarters
	byPrint    // the small note's printed value
	intoTie    // all of the first note, the principal in the tied one
	intoRest   // all of the note, the principal in the rest
	byCrush    // as short as possible, on the beat
	byEighth   // an eighth of the principal
	shortShare // a quarter of the principal, for one that is too long
)

// shape is a figure in scale steps with its rule of time.
type shape struct {
	name  string
	one   string // the name where there is one small note, if another
	steps []int
	time  timing
	d     []music.Frac // shares
	// hold is the least share of the last note of a snap.
	hold music.Frac
	// shake
	from     int  // first note of the alternation: 1 or 0
	joined   bool // the first upper note is tied from the note before
	suffix   bool // closed by the lower neighbour and the principal
	leaned   music.Frac
	stop     music.Frac // share of the last note, 0: shake to the end
	grid     int        // notes to one of the other hand, 0: free
	late3    bool       // the suffix itself takes the triplet
	lean     leanRule
	at       music.Frac // late: where the figure begins, as a share
	endUpper bool       // a shake that ends on the upper note, before a written ending
	raised   bool       // the lower neighbour a semitone below
	calm     bool       // snap: at the calmer speed of a turn
	absorbs  bool       // the small notes before it are part of the shape
	beyond   music.Frac // shares: what the next note gives, as a share of the room
	ahead    music.Frac // early: what of its value the principal comes early
	passing  bool       // early: a quarter of the note before, half of a short one
	loud     bool       // shares: the first note loud, the others soft
	cut      bool       // lean: the principal is let go half-way
}

// figureRoom is the stretch of time a figure fills.
type figureRoom struct {
	from, length music.Frac
}

// speedLow and speedHigh bound a note of a short ornament, in milliseconds.
// Common practice, no source; concert pianists play 65 to 90 (measured).
const speedLow, speedHigh = 70.0, 115.0

// turnHigh is the same bound for turns, which may be calmer.
const turnHigh = 130.0

// quickUnit returns the value of a short ornament's note: a power of two of
// the quarter where one lasts 70 to 110 ms, else a third of one.
func quickUnit(qpm float64) music.Frac { return unitUnder(qpm, speedHigh) }

func unitUnder(qpm, high float64) music.Frac {
	quarter := 60000 / qpm
	for _, of := range []int64{1, 3} {
		u := music.F(4, of)
		for u.Float()*quarter > high {
			u = u.Mul(music.F(1, 2))
		}
		if u.Float()*quarter >= speedLow {
			return u
		}
	}
	return music.F(1, 8)
}

// unitFor returns the value of n quick notes that leave share hold of the
// room for the last.
func unitFor(u, room music.Frac, n int, hold music.Frac) music.Frac {
	most := room.Mul(music.Int(1).Sub(hold)).Div(music.Int(int64(n)))
	if u.Cmp(most) <= 0 {
		return u
	}
	if most.Num() != 1 && most.Den() > 16 {
		// Squeezed into what no value says: the next value that can be read.
		return largestUnit(most, 1).Max(largestUnit(most, 3))
	}
	return most
}

// largestUnit returns the largest plain value (of 1) or part of a triplet (of
// 3) that is at most f.
func largestUnit(f music.Frac, of int64) music.Frac {
	u := music.F(4, of)
	for f.Less(u) {
		u = u.Mul(music.F(1, 2))
	}
	return u
}

// silence stands for a rest among the steps of a shape.
const silence = 99

// sounded drops the silences.
func sounded(notes []Note) []Note {
	return slices.DeleteFunc(notes, func(n Note) bool { return n.Degree == silence })
}

// tones turns steps into tones at a place.
func (pl *place) tones(steps []int, raised bool) []tone {
	out := make([]tone, len(steps))
	for i, s := range steps {
		q := pl.at(s)
		if s == -1 && raised && pl.raised != nil {
			q = *pl.raised
		}
		out[i] = tone{pitch: q, degree: s}
	}
	return out
}

// lay puts tones one after another with the given values.
func lay(at music.Frac, tones []tone, values []music.Frac, exact bool) []Note {
	notes := make([]Note, len(tones))
	for i, t := range tones {
		notes[i] = Note{Pitch: t.pitch, Onset: at, Dur: values[i], Degree: t.degree, Tied: t.tied, Strength: 1, Measured: exact}
		at = at.Add(values[i])
	}
	return notes
}

// render realizes a shape in a room at a place. ok is false where it cannot
// stand there.
func (pl *place) render(sh *shape, room figureRoom) (notes []Note, borrows []Borrow, ok bool) {
	n := len(sh.steps)
	switch sh.time {
	case plain:
		return pl.plainNotes(room), nil, true
	case even:
		values := make([]music.Frac, n)
		for i := range values {
			values[i] = room.length.Div(music.Int(int64(n)))
		}
		return lay(room.from, pl.tones(sh.steps, sh.raised), values, true), nil, true
	case shares:
		return pl.sharedNotes(sh, room)
	case snap:
		hold := sh.hold
		if hold.IsZero() {
			hold = music.F(1, 2)
		}
		quick := quickUnit(pl.qpm)
		if sh.calm {
			quick = unitUnder(pl.qpm, turnHigh)
		}
		if pl.rolled != "" {
			quick = pl.rollUnit(len(pl.chord.Notes), pl.room).Mul(music.Int(2)) // in step with the roll
		}
		u := unitFor(quick, room.length, n-1, hold)
		values := make([]music.Frac, n)
		for i := range values {
			values[i] = u
		}
		values[n-1] = room.length.Sub(u.Mul(music.Int(int64(n - 1))))
		tones := pl.tones(sh.steps, sh.raised)
		if sh.joined {
			tones[0].tied = true
		}
		return lay(room.from, tones, values, true), nil, true
	case shake:
		return pl.shakeNotes(sh, room)
	case late, assimilated:
		return pl.turnNotes(sh, room)
	case lean, early, printed, closing:
		return pl.smallNotes(sh, room)
	case simultaneous:
		return pl.struckTogether(sh, room), nil, true
	case roll:
		return pl.rollNotes(sh, room), nil, true
	case strokes:
		return pl.strokeNotes(sh, room)
	case instructed:
		return pl.fileNotes(room)
	case filled:
		return pl.thirdNotes(sh, room)
	}
	return nil, nil, false
}

// sharedNotes lays printed shares over the room, and over part of the next
// note's time where the shape asks for it.
func (pl *place) sharedNotes(sh *shape, room figureRoom) ([]Note, []Borrow, bool) {
	if sh.absorbs {
		for i, t := range pl.prefixTones { // what is printed is what is played
			if i >= len(sh.steps) || sh.steps[i] != t.degree {
				return nil, nil, false
			}
		}
	}
	length := room.length
	var borrows []Borrow
	if sh.beyond.Sign() > 0 {
		more := room.length.Mul(sh.beyond)
		id := nextID(pl)
		if id == "" || pl.after.Dur.Cmp(more.Mul(music.Int(2))) < 0 {
			return nil, nil, false
		}
		length = length.Add(more)
		borrows = []Borrow{{Note: id, Amount: more, After: true}}
	}
	values := make([]music.Frac, len(sh.steps))
	for i := range values {
		values[i] = length.Mul(sh.d[i])
		odd := oddPart(values[i])
		if odd > 1 && values[i].Num() > 15 || values[i].Num() > 1 && values[i].Den()/odd > 64 {
			return nil, nil, false // no values say this division of so odd a room
		}
	}
	tones := pl.tones(sh.steps, sh.raised)
	if sh.joined {
		tones[0].tied = true
	}
	notes := sounded(lay(room.from, tones, values, true))
	if sh.loud && len(notes) > 0 {
		for i := range notes {
			notes[i].Strength = softer
		}
		notes[0].Strength = 1.15
	}
	return notes, borrows, true
}

// plainNotes is the printed note, with the chord notes that the ornament
// would also have changed.
func (pl *place) plainNotes(room figureRoom) []Note {
	notes := []Note{{Pitch: pl.pitch, Onset: room.from, Dur: room.length, Strength: 1, Measured: true}}
	if pl.rolled != "" && pl.figure != arpeggioFigure {
		return notes
	}
	for _, j := range pl.also {
		n := Note{Pitch: pl.chord.Notes[j].Pitch, Onset: room.from, Dur: pl.alsoRoom(j), Strength: 1, Measured: true}
		n.Degree = n.Pitch.Diatonic() - pl.pitch.Diatonic()
		notes = append(notes, n)
	}
	return notes
}

// alsoRoom is the value, ties included, of another note of the chord.
func (pl *place) alsoRoom(j int) music.Frac {
	length := music.Frac{}
	for _, t := range pl.r.p.TiedOn(score.Ref{Chord: pl.ref.Chord, Note: j}) {
		length = length.Add(pl.r.p.Chords[t.Chord].Dur)
	}
	return length
}
