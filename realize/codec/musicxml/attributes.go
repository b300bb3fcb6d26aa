package musicxml

import (
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

func (p *part) readAttributes() error {
	return p.r.each(func(e element) error {
		switch e.name {
		case "divisions":
			return p.readDivisions()
		case "key":
			return p.readKey(e)
		case "time":
			return p.readTime(e)
		case "staves":
			s, err := p.r.text()
			if n, ok := atoi(s, 1, 99); ok {
				if n > maxStaff {
					p.warn("the part has more than two staves; the lower ones were combined")
				}
				p.staves = max(p.staves, min(n, maxStaff))
			}
			return err
		case "clef":
			return p.readClef(e)
		case "transpose":
			return p.readTranspose()
		case "measure-style":
			staff, _ := atoi(e.attr("number"), 1, maxStaff)
			return p.r.each(func(e element) error {
				switch {
				case e.name == "measure-repeat":
					return p.readMeasureRepeat(e, staff)
				case (e.name == "beat-repeat" || e.name == "slash") && e.attr("type") == "start":
					p.warn("slash notation for repeated beats or free chords: only the notes beside it are read")
				}
				return nil
			})
		}
		return nil
	})
}

func (p *part) readDivisions() error {
	s, err := p.r.text()
	if err != nil {
		return err
	}
	n, ok := parseDecimal(s)
	if !ok || n.Sign() <= 0 || !n.Bounded(maxDivisions) {
		p.warn("\"{text}\" is not a number of divisions of a quarter", "{text}", clip(s))
		p.division = music.Frac{}
		return nil
	}
	p.division = music.Int(1).Div(n)
	return nil
}

func (p *part) readKey(e element) error {
	var key music.Key
	found, beyond := false, false
	err := p.r.each(func(e element) error {
		switch e.name {
		case "fifths":
			s, err := p.r.text()
			n, ok := atoi(s, -7, 7)
			if !ok && err == nil {
				p.warn("a key signature of more than seven sharps or flats is printed on the notes")
				beyond = true
				return nil
			}
			key.Fifths, found = int8(n), true
			return err
		case "mode":
			s, err := p.r.text()
			switch s {
			case "major", "ionian":
				key.Mode = music.Major
			case "minor", "aeolian":
				key.Mode = music.Minor
			}
			return err
		case "key-step":
			if !beyond {
				p.warn("a key signature of single sharps and flats is printed on the notes")
			}
			beyond = true
		}
		return nil
	})
	if err != nil || !found && !beyond {
		return err
	}
	staff, _ := atoi(e.attr("number"), 1, maxStaff)
	if beyond {
		p.show(staff, false)
		if staff > 1 {
			return nil
		}
		key = music.Key{}
	} else {
		key.Fifths = p.sounding(key.Fifths)
	}
	if staff > 1 {
		if key.Fifths != p.key.Fifths {
			p.warn("the staves have different key signatures; the upper one's is shown, the other is printed on the notes")
		}
		p.show(staff, key.Fifths == p.key.Fifths)
		return nil
	}
	if !beyond {
		p.show(staff, !p.transposes())
	}
	p.key = key
	if p.now.IsZero() {
		p.measure().Key = key
		return nil
	}
	m := p.measure()
	m.KeyChanges = append(m.KeyChanges, score.KeyChange{Onset: p.now, Key: key})
	return nil
}

// readTime reads a metre; sums ("3+2") and several fractions are added up.
func (p *part) readTime(time element) error {
	total := music.Frac{}
	beats, unit := 0, 0
	err := p.r.each(func(e element) error {
		switch e.name {
		case "beats":
			s, err := p.r.text()
			beats = 0
			for _, t := range strings.Split(s, "+") {
				if n, ok := atoi(t, 1, 256); ok {
					beats += n
				}
			}
			return err
		case "beat-type":
			s, err := p.r.text()
			n, ok := atoi(s, 1, 256)
			if ok && beats > 0 && beats <= 256 && n&(n-1) == 0 {
				unit = max(unit, n)
				total = total.Add(music.F(int64(beats), int64(n)))
			}
			return err
		case "interchangeable":
			return nil
		}
		return nil
	})
	if err != nil {
		return err
	}
	metre := music.Metre{}
	if unit > 0 {
		n := total.Mul(music.Int(int64(unit)))
		if n.Den() != 1 || n.Num() > 256 {
			p.warn("a time signature was not understood and was ignored")
			return nil
		}
		metre = music.Metre{Beats: int(n.Num()), Unit: unit, Symbol: metreSymbols[time.attr("symbol")]}
	}
	p.metre = metre
	if p.now.IsZero() {
		p.measure().Metre = metre
	} else {
		if len(p.metres) >= maxMeasures {
			p.warn("the time signature changes too often; changes take effect from the next bar")
			return nil
		}
		p.metres = append(p.metres, at[metreChange]{len(p.measures) - 1, metreChange{p.now, metre, p.in(p.where().Measure)}})
	}
	return nil
}

// metreSymbols are the words of a time's symbol that are kept; all others, as
// "single-number", are drawn as a fraction.
var metreSymbols = map[string]music.MetreSymbol{"common": music.CommonTime, "cut": music.CutTime}

func (p *part) readClef(e element) error {
	staff, ok := atoi(e.attr("number"), 1, 99)
	if !ok {
		staff = 1
	}
	clef := score.Clef{Staff: min(staff, maxStaff), Onset: p.now}
	err := p.r.each(func(e element) error {
		s, err := "", error(nil)
		switch e.name {
		case "sign", "line", "clef-octave-change":
			s, err = p.r.text()
		}
		switch e.name {
		case "sign":
			clef.Sign = s
		case "line":
			clef.Line, _ = atoi(s, 1, 5)
		case "clef-octave-change":
			clef.Octave, _ = atoi(s, -3, 3)
		}
		return err
	})
	if err != nil {
		return err
	}
	standard := map[string]int{"G": 2, "F": 4, "C": 3}
	line, known := standard[clef.Sign]
	if !known {
		p.warn("a clef that is neither G, F nor C was ignored")
		return nil
	}
	if clef.Line == 0 {
		clef.Line = line
	}
	p.clefs = append(p.clefs, at[score.Clef]{len(p.measures) - 1, clef})
	return p.count(1)
}

// readTranspose keeps the way from written to sounding pitch.
func (p *part) readTranspose() error {
	steps, semitones, octaves, haveSteps := 0, 0, 0, false
	err := p.r.each(func(e element) error {
		s, err := "", error(nil)
		switch e.name {
		case "diatonic", "chromatic", "octave-change":
			s, err = p.r.text()
		}
		n, ok := atoi(s, -48, 48)
		if !ok {
			return err
		}
		switch e.name {
		case "diatonic":
			steps, haveSteps = n, true
		case "chromatic":
			semitones = n
		case "octave-change":
			octaves = min(max(n, -4), 4)
		}
		return err
	})
	if !haveSteps {
		// The usual spelling of each number of semitones: a third for 3, a fourth for 5 …
		spelled := [12]int{0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6}
		n := ((semitones % 12) + 12) % 12
		steps = (semitones-n)/12*7 + spelled[n]
		if semitones < 0 {
			n = ((-semitones % 12) + 12) % 12
			steps = -((-semitones-n)/12*7 + spelled[n])
		}
	}
	old := p.shift
	p.shift = music.Interval{Steps: steps + 7*octaves, Semitones: semitones + 12*octaves}
	if p.shift != old && p.shift.Steps != p.shift.Semitones {
		p.warn("the part is written for a transposing instrument; it is shown as it sounds")
	}
	p.show(0, !p.transposes())
	// A signature that stood before the transposition was read is the written one.
	if p.now.IsZero() && old == (music.Interval{}) {
		p.key.Fifths = p.sounding(p.key.Fifths)
		p.measure().Key = p.key
	}
	return err
}

// transposes reports whether the written accidentals are not those of the
// sounding pitches.
func (p *part) transposes() bool { return p.shift.Steps%7 != 0 }

// sounding brings the number of sharps or flats to concert pitch.
func (p *part) sounding(fifths int8) int8 {
	// A whole tone up adds two sharps, an octave none.
	n := int(fifths) + 7*p.shift.Semitones - 12*p.shift.Steps
	for n > 7 {
		n -= 12
	}
	for n < -7 {
		n += 12
	}
	return int8(n)
}

// count keeps the number of things other than notes within bounds.
func (p *part) count(n int) error {
	p.d.marks += n
	if p.d.marks > maxMarks {
		return p.r.fail(ErrTooLarge, mendSplit, "the piece has more than {n} marks", "{n}", strconv.Itoa(maxMarks))
	}
	return nil
}
