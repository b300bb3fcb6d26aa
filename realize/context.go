package realize

import (
	"slices"

	"agremens/realize/music"
	"agremens/realize/score"
)

// fact is something true of an ornament's place; rules ask for facts.
type fact int8

const (
	prevSame        fact = iota // the note before is the principal's own
	prevUpper                   // a step above
	prevLower                   // a step below
	prevLeap                    // further away
	prevRest                    // a rest, or nothing: a beginning
	prevSlurred                 // slurred into the principal
	prevDetached                // the note before is cut short
	prevRising                  // two steps up lead into it
	prevTrilled                 // the note before has a trill too
	nextSame                    //
	nextUp                      // a step up
	nextDown                    // a step down
	nextLeap                    //
	nextRest                    // a rest, or the end
	nextSlurred                 // the principal is slurred to what follows
	nextTrilled                 // the next note has a trill too
	anticipated                 // the next note already is the one after it
	suffixNear                  // the next notes turn round the principal from below
	nextQuick                   // one or two short notes follow that act as an ending
	triplets                    // the note belongs to a group of three
	dotted                      // a dotted note or one of three equal parts
	fillsBar                    // it fills its measure, or half of a compound one
	nextHalf                    // the next note has a third of a dotted note's length
	cadence                     // a full close in the local key
	dissonant                   // the principal is dissonant with the bass
	onBeat                      //
	strong                      // first beat
	lowest                      // no voice sounds below
	leftHand                    //
	inner                       // another voice of the hand sounds above or below it
	tiedOver                    // tied over a bar line or beat
	suspended                   // tied into a dissonance that then falls
	fermata                     //
	detached                    // the principal has a dot or wedge
	tiny                        // under 180 ms: no room for three notes at speed
	short                       // under 250 ms
	fleeting                    // under 150 ms
	tight                       // under 450 ms: no room for six notes at speed
	brief                       // under 700 ms
	long                        // 700 ms and more
	aSecond                     // about a second and more
	veryLong                    // 1500 ms and more
	slow                        // beats under 70 a minute
	quick                       // beats over 110 a minute
	plainValue                  // not dotted
	underQuarter                // written value below a quarter
	fullQuarter                 // a quarter
	moreThanQuarter             // longer
	graceUpper                  // the last small note is a step above
	graceLower                  // a step below
	graceSame                   // the principal's own pitch
	graceLeap                   // further
	graceSlash                  // crossed
	graceShort                  // written a sixteenth or shorter
	graceTooLong                // written as long as the principal or longer
	graceTwo                    // two small notes
	graceThree                  // three
	graceMany                   // four and more
	graceRepeats                // the first small note repeats the note before
	graceFills                  // it fills a third from the note before
	twoTrillSigns               // a trill sign and a short trill's on one note
	graceFourth                 // a fourth and more from the principal
	graceHalf                   // written about half the principal's value or more
	graceTiny                   // written a thirty-second or shorter
	graceSlide                  // a slide of two notes from the third below, or of three from the note below
	graceForeign                // a small note foreign to the harmony
	suffixWritten               // small notes close it
	prefixWritten               // small notes lead into it
	restAfterShort              // a rest of the principal's value or less follows, harmony held
	restNewChord                // a rest follows, but the bass moves under it
	tied                        // the principal is tied on
	evenBelow                   // the other hand moves in even notes under it
	movingBass                  // the bass moves during the principal
	nextFalls3                  // the next note is a third below
	beforeEarly                 // written before about 1750, or a French source
	repeatsMany                 // the principal is repeated more than once
	risesReturns                // the melody rises a step and returns
	pairOfHalves                // two notes of half its length follow
	wideMinor                   // minor key
	chorded                     // one note of a chord
	rolledChord                 // a rolled chord
	unstruck                    // nothing else is struck with the principal
	fileSays                    // the file itself says how it sounds
	byHaydn                     // the score names Haydn
	factCount
)

// facts is a set of facts.
type facts [2]uint64

func (f *facts) set(x fact, on bool) {
	if on {
		f[x/64] |= 1 << (x % 64)
	}
}

func (f facts) has(x fact) bool { return f[x/64]&(1<<(x%64)) != 0 }

func (f facts) all(want []fact) bool {
	for _, x := range want {
		if !f.has(x) {
			return false
		}
	}
	return true
}

func (f facts) any(want []fact) bool {
	for _, x := range want {
		if f.has(x) {
			return true
		}
	}
	return false
}

// place is everything a rule or a figure may know about one ornament.
type place struct {
	*site
	facts
	r     *reader
	chord *score.Chord
	note  *score.Note
	pitch music.Pitch
	// before and after are the ordinary chords next to it in its voice, nil
	// where there is none.
	before, after     *score.Chord
	beforeAt, afterAt int
	prev, next        *music.Pitch // the melody notes of those chords
	qpm               float64
	key               music.Key // local
	upper, lower      music.Pitch
	// upperFixed and lowerFixed: the sign or the line itself settles them.
	upperFixed, lowerFixed bool
	// lowerByLine: the note before or after the principal is its lower
	// neighbour. The other one is still offered.
	lowerByLine bool
	// unsure holds the lower and the upper neighbour that what is written
	// around the principal also speaks for, nil where little does.
	unsure [2]*music.Pitch
	// raised is the lower neighbour a semitone below, where that differs.
	raised *music.Pitch
	// prefixTones and suffixTones are the small notes in scale steps.
	prefixTones, suffixTones []tone
	bass                     *music.Pitch // sounding lowest note of the other voices
	// halfSlurred: the file has one end of a slur that may lead into the
	// principal. slurred is then the key of what comes first under a whole one.
	halfSlurred bool
	slurred     string
	// against is the interval the principal makes with the bass, in words.
	against string
	// leanFor is how long the small note is written, in quarters.
	leanFor music.Frac
	// rest is the silence after the principal.
	rest music.Frac
	// grid is the even value the other hand moves in under the principal; 0 none.
	grid music.Frac
	// partner is the length of the other hand's trill at the same time; 0 none.
	partner music.Frac
}

// seconds returns how long a stretch lasts at the goal tempo.
func (pl *place) seconds(q music.Frac) float64 { return q.Float() * 60 / pl.qpm }

// neighbourOf returns the chord before or after in the same voice; where the
// voice is silent or begins, the nearest note of the staff that touches it.
func (r *reader) neighbourOf(i int, step int) int {
	c := &r.p.Chords[i]
	j := r.l.next[i]
	if step < 0 {
		j = r.l.prev[i]
	}
	if j >= 0 {
		d := &r.p.Chords[j]
		if step < 0 && d.End() == c.Onset || step > 0 && c.End() == d.Onset {
			return j
		}
	}
	best, least := -1, 1<<20
	m := &r.p.Measures[c.Measure]
	from := r.p.FirstAt(m.Onset.Sub(music.Int(1)))
	for k := from; k < len(r.p.Chords); k++ {
		d := &r.p.Chords[k]
		if c.End().Less(d.Onset) {
			break
		}
		if d.Staff != c.Staff || d.Grace != nil || d.IsRest() || k == i {
			continue
		}
		if step < 0 && d.End() != c.Onset || step > 0 && d.Onset != c.End() {
			continue
		}
		dist := d.Top().Pitch.Diatonic() - c.Top().Pitch.Diatonic()
		if dist < 0 {
			dist = -dist
		}
		if dist < least {
			best, least = k, dist
		}
	}
	if best >= 0 {
		return best
	}
	return -1
}

// melodyOf returns the note of a neighbouring chord that the principal's line
// goes to: its top or bottom as the principal is its chord's, else the nearest.
func melodyOf(c *score.Chord, from *score.Chord, note int) *music.Pitch {
	if c == nil || c.IsRest() {
		return nil
	}
	pick := c.Top()
	if len(from.Notes) > 1 && note == 0 {
		pick = c.Bottom()
	}
	if len(from.Notes) == 1 && len(c.Notes) > 1 {
		least := 1 << 20
		p := from.Notes[0].Pitch.Diatonic()
		for j := range c.Notes {
			d := c.Notes[j].Pitch.Diatonic() - p
			if d < 0 {
				d = -d
			}
			if d < least {
				pick, least = &c.Notes[j], d
			}
		}
	}
	q := pick.Pitch
	return &q
}

// look reads a site's surroundings.
func (r *reader) look(s *site) *place {
	p := r.p
	c := &p.Chords[s.ref.Chord]
	pl := &place{site: s, r: r, chord: c, note: p.At(s.ref), beforeAt: -1, afterAt: -1}
	pl.pitch = pl.note.Pitch
	pl.qpm = r.tempo.At(c.Onset)
	pl.neighbours()
	pl.key = r.localKey(c.Onset)
	pl.readGraces()
	pl.readNeighbourPitches()
	pl.readValue()
	pl.readHarmony()
	pl.readLine()
	pl.set(fileSays, pl.fileAsks())
	pl.set(twoTrillSigns, slices.ContainsFunc(pl.signs, func(s score.Sign) bool { return signFigure(&s) == trillFigure }) &&
		slices.ContainsFunc(pl.signs, func(s score.Sign) bool { return signFigure(&s) == shortTrillFigure }))
	return pl
}

func (pl *place) neighbours() {
	p, i := pl.r.p, pl.ref.Chord
	last := p.TiedOn(pl.ref)
	end := last[len(last)-1].Chord
	if j := pl.r.neighbourOf(i, -1); j >= 0 {
		pl.before, pl.beforeAt = &p.Chords[j], j
		pl.prev = melodyOf(pl.before, pl.chord, pl.ref.Note)
	}
	if j := pl.r.neighbourOf(end, 1); j >= 0 {
		pl.after, pl.afterAt = &p.Chords[j], j
		pl.next = melodyOf(pl.after, pl.chord, pl.ref.Note)
		if pl.after.IsRest() {
			pl.rest = pl.after.Dur
		}
	}
	step := func(q *music.Pitch) int { return q.Diatonic() - pl.pitch.Diatonic() }
	pl.set(prevRest, pl.prev == nil)
	pl.set(nextRest, pl.next == nil)
	pl.set(tied, len(last) > 1)
	if pl.prev != nil {
		d := step(pl.prev)
		pl.set(prevSame, d == 0)
		pl.set(prevUpper, d == 1)
		pl.set(prevLower, d == -1)
		pl.set(prevLeap, d > 1 || d < -1)
		pl.set(prevSlurred, pl.r.slurred(pl.beforeAt, i))
		pl.halfSlurred = !pl.has(prevSlurred) && (pl.before.SlurBegins || pl.chord.SlurEnds)
		pl.set(prevDetached, cut(pl.before))
		pl.set(prevTrilled, shakenChord(pl.before))
		if k := pl.r.l.prev[pl.beforeAt]; k >= 0 && d == -1 {
			if q := melodyOf(&p.Chords[k], pl.before, len(pl.before.Notes)-1); q != nil {
				pl.set(prevRising, q.Diatonic()-pl.prev.Diatonic() == -1)
			}
		}
	}
	if pl.next != nil {
		d := step(pl.next)
		pl.set(nextSame, d == 0)
		pl.set(nextUp, d == 1)
		pl.set(nextDown, d == -1)
		pl.set(nextLeap, d > 1 || d < -1)
		pl.set(nextFalls3, d == -2)
		pl.set(nextSlurred, pl.r.slurred(end, pl.afterAt))
		pl.set(nextTrilled, shakenChord(pl.after))
		pl.readFollowing(d)
	}
	pl.set(risesReturns, pl.prev != nil && pl.next != nil && step(pl.prev) == -1 && *pl.prev == *pl.next)
	pl.set(fermata, pl.chord.Fermata)
	pl.set(detached, cut(pl.chord))
}

// readFollowing looks at what the two notes after the principal do.
func (pl *place) readFollowing(d int) {
	p := pl.r.p
	dur := pl.after.Dur
	k := pl.r.l.next[pl.afterAt]
	var second *music.Pitch
	if k >= 0 {
		second = melodyOf(&p.Chords[k], pl.after, len(pl.after.Notes)-1)
	}
	quick := dur.Cmp(pl.room.Mul(music.F(1, 3))) <= 0
	if second != nil {
		e := second.Diatonic() - pl.pitch.Diatonic()
		pl.set(anticipated, d == -1 && e == d && quick && !pl.has(tied))
		pl.set(suffixNear, d == -1 && e == 0 && quick && p.Chords[k].Dur.Cmp(pl.room.Mul(music.F(1, 3))) <= 0)
		pl.set(repeatsMany, d == 0 && e == 0)
		pl.set(pairOfHalves, dur.Add(dur) == pl.room && p.Chords[k].Dur == dur)
	}
	pl.set(nextQuick, quick && d != 0)
	pl.set(nextHalf, dur.Mul(music.Int(3)) == pl.room)
}

func shakenChord(c *score.Chord) bool {
	for j := range c.Signs {
		if signFigure(&c.Signs[j]).shaken() {
			return true
		}
	}
	return false
}

func cut(c *score.Chord) bool {
	for _, a := range c.Artic {
		if a == "staccato" || a == "staccatissimo" || a == "spiccato" {
			return true
		}
	}
	return false
}

// slurred reports whether one slur covers both chords.
func (r *reader) slurred(i, j int) bool {
	if i < 0 || j < 0 {
		return false
	}
	c := &r.p.Chords[i]
	for _, k := range r.slurs[c.Measure] {
		s := &r.p.Slurs[k]
		if s.From <= i && s.To >= j && r.p.Chords[s.From].Staff == c.Staff {
			return true
		}
	}
	return false
}

// readValue sorts the principal's value.
func (pl *place) readValue() {
	own := pl.own
	v := pl.chord.Value
	m := &pl.r.p.Measures[pl.chord.Measure]
	threeParts := own.Num()%3 == 0 && own.Den()&(own.Den()-1) == 0
	pl.set(dotted, v.Dots > 0 || threeParts)
	pl.set(plainValue, !pl.has(dotted))
	full := own == m.Metre.Bar() || m.Metre.Compound() && own.Add(own) == m.Metre.Bar()
	pl.set(fillsBar, full && threeParts)
	pl.set(triplets, v.Actual == 3 || m.Metre.Compound() && own == music.F(4, int64(m.Metre.Unit)))
	one := music.Int(1)
	pl.set(underQuarter, own.Less(one))
	pl.set(fullQuarter, own == one)
	pl.set(moreThanQuarter, one.Less(own))
	s := pl.seconds(pl.room)
	pl.set(fleeting, s < .15)
	pl.set(tiny, s < .18)
	pl.set(short, s < .25)
	pl.set(tight, s < .45)
	pl.set(brief, s < .7)
	pl.set(long, s >= .7)
	pl.set(aSecond, s >= .9)
	pl.set(veryLong, s >= 1.5)
	beats := pl.qpm / m.Metre.Beat().Float()
	pl.set(slow, beats < 70)
	pl.set(byHaydn, pl.figure.turned() && periodOf(pl.r.p, pl.r.trad.key) == haydn)
	pl.set(quick, beats > 110)
	at := pl.chord.Onset.Sub(m.Onset)
	if m.Implicit || m.Length.Less(m.Metre.Bar()) && pl.chord.Measure == 0 {
		at = at.Add(m.Metre.Bar().Sub(m.Length)) // an upbeat counts from the end
	}
	pl.set(strong, at.IsZero())
	pl.set(onBeat, at.Mod(m.Metre.Beat()).IsZero())
	pl.set(chorded, len(pl.chord.Notes) > 1)
	pl.set(rolledChord, pl.rolled != "")
	pl.set(leftHand, pl.chord.Staff > 1)
	pl.set(wideMinor, pl.key.Mode == music.Minor)
}
