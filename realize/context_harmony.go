package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// consonant reports whether two pitches, the lower one a bass, make a
// consonance: unison, thirds, fifth, sixths, octave.
func consonant(bass, upper music.Pitch) bool {
	switch ((upper.MIDI()-bass.MIDI())%12 + 12) % 12 {
	case 0, 3, 4, 7, 8, 9:
		// An augmented second sounds like a third but is written as none.
		steps := ((upper.Diatonic()-bass.Diatonic())%7 + 7) % 7
		return steps != 1 && steps != 3 && steps != 6
	}
	return false
}

//words:texts in:interval
var intervalNames = [7]string{"octave", "second", "third", "fourth", "fifth", "sixth", "seventh"}

// intervalName names the interval between two pitches in a word; a unison and
// its octaves are told apart.
//
//words:texts in:interval
func intervalName(a, b music.Pitch) string {
	d := b.Diatonic() - a.Diatonic()
	if d < 0 {
		d = -d
	}
	switch d {
	case 0:
		return "unison"
	case 8:
		return "ninth"
	}
	return intervalNames[d%7]
}

// readHarmony looks at what the other voices do under and around the
// principal.
func (pl *place) readHarmony() {
	at, end := pl.chord.Onset, pl.chord.Onset.Add(pl.room)
	pl.bass = pl.r.bassAt(at, pl)
	pl.set(lowest, pl.bass == nil || pl.pitch.MIDI() < pl.bass.MIDI())
	if pl.bass != nil && !pl.has(lowest) {
		pl.set(dissonant, !consonant(*pl.bass, pl.pitch))
		pl.against = intervalName(*pl.bass, pl.pitch)
		if n := len(pl.prefixTones); n > 0 {
			pl.set(graceForeign, !consonant(*pl.bass, pl.prefixTones[n-1].pitch))
		}
	}
	alone := true
	pl.r.sounding(at, at.Add(music.F(1, 1024)), func(c *score.Chord, _ *score.Note) { alone = alone && c.Onset != at }, pl)
	pl.set(unstruck, alone)
	pl.readOtherHand(at, end)
	pl.readTie()
	pl.readRest()
	pl.set(cadence, pl.closes(end))
}

// closes reports a full close in the local key: the melody steps from the
// second or seventh degree to the tonic, over a bass that goes from the
// dominant to the tonic or stops. Of the places where it finds one, experts
// mark a cadence at nine in ten (TestCadences); it finds no half close, whose
// bass tells little.
func (pl *place) closes(end music.Frac) bool {
	if pl.bass == nil || pl.next == nil || pl.afterAt < 0 || pl.own.Less(music.F(1, 2)) {
		return false
	}
	if pl.has(anticipated) {
		end = pl.after.End()
	}
	from, to := pl.degree(pl.pitch), pl.degree(*pl.next)
	before, after := pl.r.bassBefore(end, pl), pl.r.bassAt(end, pl)
	return (from == 2 || from == 11) && to == 0 &&
		(pl.degree(*pl.bass) == 7 || pl.degree(before) == 7) && (after == nil || pl.degree(*after) == 0)
}

// degree returns how many semitones a pitch lies above the tonic of the local
// key, 0 to 11.
func (pl *place) degree(q music.Pitch) int {
	step, alter := pl.key.Tonic()
	return ((q.MIDI()-music.Pitch{Step: step, Alter: int8(alter), Octave: 4}.MIDI())%12 + 12) % 12
}

// bassAt returns the lowest note that sounds at an onset outside the place's
// own voice.
func (r *reader) bassAt(at music.Frac, pl *place) *music.Pitch {
	var low *music.Pitch
	r.sounding(at, at.Add(music.F(1, 1024)), func(_ *score.Chord, n *score.Note) {
		if low == nil || n.Pitch.MIDI() < low.MIDI() {
			q := n.Pitch
			low = &q
		}
	}, pl)
	return low
}

// bassBefore is the bass just before an onset.
func (r *reader) bassBefore(at music.Frac, pl *place) music.Pitch {
	if low := r.bassAt(at.Sub(music.F(1, 1024)), pl); low != nil {
		return *low
	}
	return *pl.bass
}

// readOtherHand finds an even movement of the other hand under the principal.
func (pl *place) readOtherHand(at, end music.Frac) {
	var onsets []music.Frac
	inside := false
	pl.r.sounding(at, end, func(c *score.Chord, n *score.Note) {
		if c.Staff == pl.chord.Staff {
			pl.set(inner, true)
			return
		}
		if pl.figure.shaken() && shakenChord(c) && c.Onset == at {
			_, pl.partner, _ = roomOf(pl.r.p, pl.r.l, score.Ref{Chord: pl.r.indexOf(c)})
		}
		if at.Less(c.Onset) && c.Onset.Less(end) {
			inside = true
		}
		if len(onsets) == 0 || onsets[len(onsets)-1] != c.Onset {
			onsets = append(onsets, c.Onset)
		}
	}, pl)
	pl.set(movingBass, inside)
	if len(onsets) < 2 {
		return
	}
	step := onsets[1].Sub(onsets[0])
	for i := 1; i < len(onsets); i++ {
		if onsets[i].Sub(onsets[i-1]) != step {
			return
		}
	}
	if onsets[0] == at && step.Sign() > 0 {
		pl.grid = step
		pl.set(evenBelow, pl.room.Div(step).Den() == 1)
	}
}

// indexOf finds a chord of the passage among those of its onset.
func (r *reader) indexOf(c *score.Chord) int {
	i := r.p.FirstAt(c.Onset)
	for &r.p.Chords[i] != c {
		i++
	}
	return i
}

// readTie sees whether a tied principal becomes a suspension: dissonant with
// the bass that enters under the tied part, then falling a step.
func (pl *place) readTie() {
	if !pl.has(tied) {
		return
	}
	over := pl.chord.Onset.Add(pl.own)
	pl.set(tiedOver, true)
	bass := pl.r.bassAt(over, pl)
	if bass != nil && bass.MIDI() < pl.pitch.MIDI() && !consonant(*bass, pl.pitch) && pl.has(nextDown) {
		pl.set(suspended, true)
	}
}

// readRest sees whether harmony moves on under a rest that follows.
func (pl *place) readRest() {
	if pl.rest.IsZero() {
		return
	}
	at := pl.chord.Onset.Add(pl.room)
	moves := false
	pl.r.sounding(at, at.Add(pl.rest), func(c *score.Chord, _ *score.Note) {
		if c.Staff != pl.chord.Staff && at.Cmp(c.Onset) <= 0 {
			moves = true
		}
	}, pl)
	pl.set(restNewChord, moves)
	pl.set(restAfterShort, !moves && pl.room.Cmp(pl.rest) <= 0)
}

// readLine looks at chains and sequences; what needs two places at once.
func (pl *place) readLine() {
	pl.set(beforeEarly, pl.r.trad.early)
}
