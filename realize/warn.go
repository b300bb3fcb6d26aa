package realize

import (
	"slices"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

const reach = 14 // semitones, a ninth, where the player's is not known

// caution is something a player should know before taking a choice.
type caution struct {
	text  string
	fault bool // against another voice; the others are about the player
}

func texts(cautions []caution) []string {
	var out []string
	for _, c := range cautions {
		out = append(out, c.text)
	}
	return out
}

// cautions gathers what a player should know before taking a choice.
func (pl *place) cautions(sh *shape, c *Choice) []caution {
	var out []caution
	take := func(w caution) {
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	add := func(text string) { take(caution{text: text}) }
	words := pl.r.taste.Words
	switch {
	case pl.r.tempoAssumed: // nothing is too fast at a guess
	case sh.time == shake && c.NotesPerSecond > pl.r.rate*1.05:
		add(pl.say("needs {n} notes per second at the goal tempo; you play {rate}", "{n}", words.Number(c.NotesPerSecond, 1), "{rate}", words.Number(pl.r.rate, 0)))
	case c.NotesPerSecond > 1000/55:
		add(pl.say("fast: only {ms} ms per note at the goal tempo", "{ms}", words.Number(1000/c.NotesPerSecond, 0)))
	}
	if sh.time == shake && pl.longestShake().Less(pl.room) {
		add(pl.say("a trill this long is written out for {s} seconds; its last note is held after that", "{s}", words.Number(shakeSeconds, 0)))
	}
	pl.voiceWarnings(c, take)
	pl.struckAgain(c, add)
	for _, w := range pl.parallels(sh, c) {
		take(caution{w, true})
	}
	if pl.figure == suspensionFigure && sh.time != plain && !pl.has(slow) {
		add(pl.say("hardly used except in tender, slow pieces: {source}", "{source}", pl.r.source("couperin1716").Text))
	}
	if pl.has(graceSlash) && pl.r.trad.slashDoubtful && (sh.lean == byHalf || sh.lean == byPrint) && sh.time == lean {
		add(pl.say("the slash may be the editor's"))
	}
	return out
}

// voiceWarnings looks for keys that another voice holds, and for semitones of
// one letter sounding together.
func (pl *place) voiceWarnings(c *Choice, take func(caution)) {
	add := func(text string) { take(caution{text: text}) }
	at := pl.chord.Onset
	if held := pl.chord.Notes; len(held) > 1 && len(c.Notes) > 1 {
		for _, n := range c.Notes {
			low, high := held[0].Pitch, held[len(held)-1].Pitch
			if pl.ref.Note == 0 {
				low = high
			}
			if pl.outOfReach(n.Pitch, low) {
				add(pl.reachWarning(n.Pitch, low))
			}
		}
	}
	pl.r.sounding(at, at.Add(pl.room), func(d *score.Chord, n *score.Note) {
		for i := range c.Notes {
			k := &c.Notes[i]
			if d.Staff != pl.chord.Staff && shakenChord(d) && pl.figure.shaken() {
				add(pl.say("the other hand trills too: the same start and one grid for both"))
			} else if d.Staff != pl.chord.Staff && d.Onset == at && pl.r.ornamented(d) && len(c.Notes) > 1 {
				add(pl.say("the other hand has an ornament here too: agree on one grid for both"))
			}
			if d.Staff == pl.chord.Staff && d.Onset.Cmp(at) <= 0 && at.Add(k.Onset).Less(d.End()) && len(c.Notes) > 1 && pl.outOfReach(k.Pitch, n.Pitch) {
				add(pl.reachWarning(k.Pitch, n.Pitch))
			}
			from, to := at.Add(k.Onset), at.Add(k.Onset).Add(k.Dur)
			if !from.Less(d.End()) || !d.Onset.Less(to) || k.Degree == 0 && len(c.Notes) > 1 && k.Pitch == pl.pitch {
				continue
			}
			switch {
			case n.Pitch.MIDI() == k.Pitch.MIDI():
				text := pl.say("{note} is held by another voice: the same key", "{note}", pl.octaved(n.Pitch))
				if d.Staff != pl.chord.Staff {
					text = pl.say("{note} is held by the other hand: the same key", "{note}", pl.octaved(n.Pitch))
				}
				take(caution{text, true})
			case n.Pitch.Step == k.Pitch.Step && n.Pitch.Alter != k.Pitch.Alter:
				add(pl.say("{note} clashes with {other} in another voice", "{note}", pl.spoken(k.Pitch), "{other}", pl.spoken(n.Pitch)))
			}
		}
	}, pl)
}

// outOfReach reports whether a hand that holds one key cannot reach another.
func (pl *place) outOfReach(a, b music.Pitch) bool {
	most := pl.r.taste.Reach
	if most == 0 {
		most = reach
	}
	return abs(a.MIDI()-b.MIDI()) > most
}

func (pl *place) reachWarning(to, held music.Pitch) string {
	return pl.say("a wide reach while {held} is held: {to} is a {interval} away", "{held}", pl.spoken(held), "{to}", pl.spoken(to), "{interval}", pl.in("interval", wideName(to, held)))
}

// wideName names an interval wider than an octave.
//
//words:texts in:interval
func wideName(a, b music.Pitch) string {
	steps := abs(a.Diatonic() - b.Diatonic())
	names := []string{"octave", "ninth", "tenth", "eleventh", "twelfth", "thirteenth", "fourteenth", "double octave"}
	if steps < 7 {
		return intervalName(a, b)
	}
	return names[min(steps-7, len(names)-1)]
}

// ornamented reports whether a chord carries a sign, small notes or a roll.
func (r *reader) ornamented(c *score.Chord) bool {
	return len(c.Signs) > 0 || c.Arpeggio.Rolled() || len(r.l.graces[r.indexOf(c)]) > 0
}

// quickAgain is within how many seconds a key struck twice running is worth a
// word. Common practice, no source; keys of fortepianos need more than those
// of a grand.
const quickAgain = .25

// struckAgain warns of a key that is struck twice running in a short time, so
// that it must be let go before: within the choice, and where it joins the
// notes next to it.
func (pl *place) struckAgain(c *Choice, add func(string)) {
	say := func(p music.Pitch) {
		add(pl.say("{note} is repeated: let the key come up in between", "{note}", pl.spoken(p)))
	}
	for i := 1; i < len(c.Notes); i++ {
		a, b := &c.Notes[i-1], &c.Notes[i]
		if a.Pitch == b.Pitch && !b.Tied && a.Onset.Add(a.Dur) == b.Onset && pl.seconds(a.Dur) < quickAgain {
			say(a.Pitch)
		}
	}
	if len(c.Notes) < 2 {
		return
	}
	first, last := &c.Notes[0], &c.Notes[len(c.Notes)-1]
	if pl.prev != nil && *pl.prev == first.Pitch && !first.Tied && first.Onset.IsZero() && (pl.has(prevSlurred) || pl.seconds(pl.before.Dur) < quickAgain) {
		say(first.Pitch)
	}
	if pl.next != nil && *pl.next == last.Pitch && pl.seconds(last.Dur) < quickAgain && last.Onset.Add(last.Dur) == pl.room {
		say(last.Pitch)
	}
}

// parallels finds fifths and octaves that the choice makes with a note of
// another voice that moves with it. The last note is checked against the
// next one of the line.
func (pl *place) parallels(sh *shape, c *Choice) []string {
	var out []string
	moves := func(a, b music.Pitch, onset music.Frac) {
		if a == b {
			return
		}
		at := pl.chord.Onset.Add(onset)
		before := pl.r.heard(at.Sub(music.F(1, 1024)), pl)
		after := pl.r.heard(at, pl)
		for _, x := range before {
			for _, y := range after {
				if x.voice != y.voice || x.pitch == y.pitch {
					continue
				}
				p, q := perfect(x.pitch, a), perfect(y.pitch, b)
				same := (b.MIDI() > a.MIDI()) == (y.pitch.MIDI() > x.pitch.MIDI())
				if p != 0 && p == q && same {
					text := pl.say("parallel octaves with another voice: {a}–{b} over {c}–{d}")
					if p == fifth {
						text = pl.say("parallel fifths with another voice: {a}–{b} over {c}–{d}")
					}
					out = append(out, words.Fill(text, "{a}", pl.spoken(a), "{b}", pl.spoken(b), "{c}", pl.spoken(x.pitch), "{d}", pl.spoken(y.pitch)))
				}
			}
		}
	}
	if len(c.Notes) < 2 {
		return nil
	}
	if pl.prev != nil && c.Notes[0].Degree != 0 && !c.Notes[0].Tied && c.Notes[0].Onset.IsZero() {
		moves(*pl.prev, c.Notes[0].Pitch, music.Frac{})
	}
	if sh.time == shake || len(c.Notes) > 6 {
		return out // inside a shake nobody hears them
	}
	for i := 1; i < len(c.Notes); i++ {
		if c.Notes[i-1].Onset.Add(c.Notes[i-1].Dur) == c.Notes[i].Onset && c.Notes[i].Onset.Sign() > 0 {
			moves(c.Notes[i-1].Pitch, c.Notes[i].Pitch, c.Notes[i].Onset)
		}
	}
	return out
}

type heardNote struct {
	voice string
	pitch music.Pitch
}

// heard returns the outer notes of the other voices at an onset.
func (r *reader) heard(at music.Frac, pl *place) []heardNote {
	var out []heardNote
	r.sounding(at, at.Add(music.F(1, 2048)), func(c *score.Chord, n *score.Note) {
		if n.ID == c.Bottom().ID {
			out = append(out, heardNote{c.Voice, n.Pitch})
		}
	}, pl)
	return out
}

const fifth, octave = 7, 12 // semitones

// perfect tells a perfect fifth or octave (their compounds too), else 0.
func perfect(low, high music.Pitch) int {
	if high.MIDI() < low.MIDI() {
		low, high = high, low
	}
	switch (high.MIDI() - low.MIDI()) % 12 {
	case 7:
		return fifth
	case 0:
		if high.MIDI() > low.MIDI() {
			return octave
		}
	}
	return 0
}
