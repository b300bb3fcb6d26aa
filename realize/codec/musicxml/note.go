package musicxml

import (
	"agremens/realize/music"
	"agremens/realize/score"
	"strconv"
)

// written is one <note> element as read, before it joins a chord.
type written struct {
	chord       score.Chord // one note at most; what belongs to the whole chord
	note        score.Note
	joins       bool // <chord/>
	hidden      bool
	rest        bool
	unpitched   bool
	pitched     bool
	unusable    bool // its pitch makes no sense
	dur         music.Frac
	durText     string // of <duration>
	hasDur      bool
	slurs       []line
	tuplets     []tupletLine
	measureRest bool
	restStep    int
	restOctave  int
}

// line is the start or the stop of a slur.
type line struct {
	number, kind  string
	above, placed bool
	dashed        bool
}

var valueTypes = map[string]score.ValueType{
	"maxima": score.Long, "long": score.Long, "breve": score.Breve, "whole": score.Whole, "half": score.Half,
	"quarter": score.Quarter, "eighth": score.Eighth, "16th": score.N16th, "32nd": score.N32nd, "64th": score.N64th,
	"128th": score.N128th, "256th": score.N256th, "512th": score.N256th, "1024th": score.N256th,
}

var beams = map[string]score.Beam{
	"begin": score.BeamBegin, "continue": score.BeamContinue, "end": score.BeamEnd,
	"forward hook": score.BeamForwardHook, "backward hook": score.BeamBackwardHook,
}

var stems = map[string]score.Stem{"up": score.StemUp, "down": score.StemDown, "none": score.StemNone}

func (p *part) readNote(e element) error {
	if p.notes++; p.notes > maxMeasureNotes {
		return p.r.fail(ErrTooLarge, mendExport, "this bar has more than {n} notes", "{n}", strconv.Itoa(maxMeasureNotes))
	}
	if p.d.notes++; p.d.notes > maxNotes {
		return p.r.fail(ErrTooLarge, mendSplit, "the piece has more than {n} notes", "{n}", strconv.Itoa(maxNotes))
	}
	w := &written{hidden: e.attr("print-object") == "no", restStep: -1}
	w.chord.Voice, w.chord.Staff = "1", 1
	w.note.ID = score.ID(e.attr("id"))
	if err := p.r.each(func(e element) error { return p.readNoteChild(w, e) }); err != nil {
		return err
	}
	if w.hidden && w.pitched {
		p.leave("hidden-note")
	}
	return p.place(w)
}

func (p *part) readNoteChild(w *written, e element) error {
	switch e.name {
	case "grace":
		return p.readGrace(w, e)
	case "cue":
		w.chord.Cue = true
		return nil
	case "chord":
		w.joins = true
		return nil
	case "rest":
		w.rest, w.measureRest = true, e.attr("measure") == "yes"
		return p.readDisplay(w)
	case "unpitched":
		w.unpitched = true
		return nil
	case "pitch":
		return p.readPitch(w)
	case "tie":
		w.tie(e.attr("type"))
		return nil
	case "dot":
		if w.chord.Value.Dots < maxDots {
			w.chord.Value.Dots++
		}
		return nil
	case "time-modification":
		return p.readTimeModification(w)
	case "notations":
		return p.readNotations(w)
	case "lyric":
		return p.readLyric(w, e)
	case "notehead-text":
		p.leave(e.name)
		return nil
	case "duration":
		s, err := p.r.text()
		w.durText, w.hasDur = s, true
		return err
	case "beam", "voice", "type", "staff", "stem", "accidental", "notehead":
		s, err := p.r.text()
		w.word(e, s)
		return err
	}
	return nil
}

// word takes the children that are one word.
func (w *written) word(e element, s string) {
	switch e.name {
	case "voice":
		if s != "" && len(s) <= maxVoiceName {
			w.chord.Voice = s
		}
	case "type":
		w.chord.Value.Type = valueTypes[s]
		if e.attr("size") == "cue" {
			w.chord.Cue = true
		}
	case "staff":
		if n, ok := atoi(s, 1, 99); ok {
			w.chord.Staff = min(n, maxStaff)
		}
	case "stem":
		w.chord.Stem = stems[s]
	case "accidental":
		w.note.Accidental = clip(s)
		w.note.Parentheses = e.attr("parentheses") == "yes" || e.attr("bracket") == "yes"
	case "notehead":
		if s != "normal" {
			w.note.Head = clip(s)
		}
	case "beam":
		level, ok := atoi(e.attr("number"), 1, 8)
		if !ok {
			level = 1
		}
		for len(w.chord.Beams) < level {
			w.chord.Beams = append(w.chord.Beams, score.BeamNone)
		}
		w.chord.Beams[level-1] = beams[s]
	}
}

func (w *written) tie(kind string) {
	switch kind {
	case "start":
		w.note.TieStart = true
	case "stop":
		w.note.TieStop = true
	}
}

func (p *part) readGrace(w *written, e element) error {
	g := &score.Grace{
		Slash:          e.attr("slash") == "yes",
		StealPrevious:  atof(e.attr("steal-time-previous"), 0, 100),
		StealFollowing: atof(e.attr("steal-time-following"), 0, 100),
	}
	if n, ok := parseDecimal(e.attr("make-time")); ok && n.Sign() > 0 && n.Bounded(maxDivisions) && !p.division.IsZero() {
		if d := n.Mul(p.division); d.Less(music.Int(64)) && p.d.common.Take(d) {
			g.MakeTime = d
		}
	}
	w.chord.Grace = g
	return nil
}

func (p *part) readPitch(w *written) error {
	step, alter, octave, known := -1, music.Frac{}, 0, false
	err := p.r.each(func(e element) error {
		s, err := p.r.text()
		switch e.name {
		case "step":
			step = stepOf(s)
		case "alter":
			if a, ok := parseDecimal(s); ok {
				alter = a
			}
		case "octave":
			octave, known = atoi(s, 0, 9)
		}
		return err
	})
	if err != nil {
		return err
	}
	if step < 0 || !known {
		w.unusable = true
		p.warn("a note without a usable pitch (a letter from A to G and an octave from 0 to 9) was left out")
		return nil
	}
	if alter.Den() != 1 {
		p.warn("pitches between the keys of a keyboard were rounded to the nearest key")
		alter = music.Int(alter.Add(music.F(1, 2)).Floor())
	}
	if !alter.Bounded(3) {
		w.unusable = true
		p.warn("a note that is raised or lowered by more than three semitones was left out")
		return nil
	}
	w.pitched = true
	w.note.Pitch = p.concert(music.Pitch{Step: music.Step(step), Alter: int8(alter.Num()), Octave: int8(octave)})
	return nil
}

func stepOf(s string) int {
	if len(s) != 1 {
		return -1
	}
	switch c := s[0] &^ ('a' - 'A'); { // small letters too
	case c >= 'C' && c <= 'G':
		return int(c - 'C')
	case c == 'A' || c == 'B':
		return int(c-'A') + 5
	}
	return -1
}

// concert brings a written pitch to what sounds.
func (p *part) concert(q music.Pitch) music.Pitch {
	if p.shift == (music.Interval{}) {
		return q
	}
	t := q.Transpose(p.shift)
	if t.Alter > 2 || t.Alter < -2 {
		// Beyond double sharps: take the spelling of the next letter.
		step := 1
		if t.Alter < 0 {
			step = -1
		}
		u := music.FromDiatonic(t.Diatonic()+step, 0)
		u.Alter = int8(t.MIDI() - u.MIDI())
		t = u
	}
	return t
}

func (p *part) readDisplay(w *written) error {
	return p.r.each(func(e element) error {
		s, err := p.r.text()
		switch e.name {
		case "display-step":
			w.restStep = stepOf(s)
		case "display-octave":
			w.restOctave, _ = atoi(s, 0, 9)
		}
		return err
	})
}

func (p *part) readTimeModification(w *written) error {
	v := &w.chord.Value
	err := p.r.each(func(e element) error {
		s, err := p.r.text()
		switch e.name {
		case "actual-notes":
			v.Actual, _ = atoi(s, 1, maxTuplet)
		case "normal-notes":
			v.Normal, _ = atoi(s, 1, maxTuplet)
		}
		return err
	})
	if v.Actual == 0 || v.Normal == 0 {
		v.Actual, v.Normal = 0, 0
	}
	return err
}
