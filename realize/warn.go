package realize

import (
	"fmt"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

const (
	warnHeld     = "is held by another voice: the same key"
	warnParallel = "parallel "
	warnReach    = "a wide reach while"
	reach        = 14 // semitones, a ninth
)

// faulty reports whether a warning is about another voice, not about speed.
func faulty(w string) bool {
	return strings.Contains(w, warnHeld) || strings.HasPrefix(w, warnParallel)
}

// warnings says what a player should know before taking a choice.
func (pl *place) warnings(sh *shape, c *Choice) []string {
	var out []string
	add := func(w string) {
		for _, old := range out {
			if old == w {
				return
			}
		}
		out = append(out, w)
	}
	if sh.time == shake && c.NotesPerSecond > pl.r.rate*1.05 {
		add(fmt.Sprintf("%.1f notes a second at the goal tempo; your rate is %.0f", c.NotesPerSecond, pl.r.rate))
	} else if c.NotesPerSecond > 1000/55 {
		add(fmt.Sprintf("only %.0f ms a note at the goal tempo", 1000/c.NotesPerSecond))
	}
	pl.voiceWarnings(c, add)
	for _, w := range pl.parallels(sh, c) {
		add(w)
	}
	if pl.figure == suspensionFigure && sh.time != plain && !pl.has(slow) {
		add("hardly used except in tender, slow pieces: " + sources["couperin1716"].Text)
	}
	if pl.has(graceSlash) && pl.r.trad.slashDoubtful && (sh.lean == byHalf || sh.lean == byPrint) && sh.time == lean {
		add("the stroke may be the editor's")
	}
	return out
}

// voiceWarnings looks for keys that another voice holds, and for semitones of
// one letter sounding together.
func (pl *place) voiceWarnings(c *Choice, add func(string)) {
	at := pl.chord.Onset
	if held := pl.chord.Notes; len(held) > 1 && len(c.Notes) > 1 {
		for _, n := range c.Notes {
			low, high := held[0].Pitch, held[len(held)-1].Pitch
			if pl.ref.Note == 0 {
				low = high
			}
			if wide := n.Pitch.MIDI() - low.MIDI(); wide > reach || wide < -reach {
				add(fmt.Sprintf("%s %s is held: %s is more than a ninth away", warnReach, spoken(low), spoken(n.Pitch)))
			}
		}
	}
	pl.r.sounding(at, at.Add(pl.room), func(d *score.Chord, n *score.Note) {
		for i := range c.Notes {
			k := &c.Notes[i]
			if d.Staff != pl.chord.Staff && shakenChord(d) && pl.figure.shaken() {
				add("the other hand trills too: the same start and one grid for both")
			}
			from, to := at.Add(k.Onset), at.Add(k.Onset).Add(k.Dur)
			if !from.Less(d.End()) || !d.Onset.Less(to) || k.Degree == 0 && len(c.Notes) > 1 && k.Pitch == pl.pitch {
				continue
			}
			switch {
			case n.Pitch.MIDI() == k.Pitch.MIDI():
				add(spoken(n.Pitch) + fmt.Sprint(n.Pitch.Octave) + " " + warnHeld)
			case n.Pitch.Step == k.Pitch.Step && n.Pitch.Alter != k.Pitch.Alter:
				add(fmt.Sprintf("%s rubs against %s in another voice", spoken(k.Pitch), spoken(n.Pitch)))
			}
		}
	}, pl)
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
				if p != "" && p == q && same {
					out = append(out, fmt.Sprintf("%s%s with another voice: %s–%s over %s–%s", warnParallel, p, spoken(a), spoken(b), spoken(x.pitch), spoken(y.pitch)))
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

// perfect names a perfect fifth or octave (their compounds too), else "".
func perfect(low, high music.Pitch) string {
	if high.MIDI() < low.MIDI() {
		low, high = high, low
	}
	switch (high.MIDI() - low.MIDI()) % 12 {
	case 7:
		return "fifths"
	case 0:
		if high.MIDI() > low.MIDI() {
			return "octaves"
		}
	}
	return ""
}
