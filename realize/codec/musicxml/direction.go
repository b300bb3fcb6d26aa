package musicxml

import (
	"slices"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// direction gathers what one <direction> says, because its parts explain
// each other: words beside a tempo are the tempo's name.
type direction struct {
	onset  music.Frac
	staff  int
	above  bool
	words  string
	tempo  score.Tempo
	number bool // a metronome mark is printed
	hidden bool // it is not printed
	sound  bool // <sound tempo> is given
}

func (p *part) readDirection(e element) error {
	d := direction{staff: 1}
	d.above, _ = placement(e)
	var lines []func() error
	offset := music.Frac{}
	err := p.r.each(func(e element) error {
		switch e.name {
		case "direction-type":
			return p.r.each(func(e element) error { return p.readDirectionType(&d, e, &lines) })
		case "offset":
			s, err := p.r.text()
			if n, ok := parseDecimal(s); ok && n.Bounded(maxDivisions) && !p.division.IsZero() {
				offset = n.Mul(p.division)
			}
			return err
		case "staff":
			s, err := p.r.text()
			if n, ok := atoi(s, 1, 99); ok {
				d.staff = min(n, maxStaff)
			}
			return err
		case "sound":
			d.readTempo(e)
			p.jumps(e)
		}
		return nil
	})
	if err != nil {
		return err
	}
	d.onset = p.now
	if moved := p.now.Add(offset); moved.Sign() >= 0 && !music.Int(maxMeasure).Less(moved) && p.d.common.Take(moved) {
		d.onset = moved
	}
	for _, l := range lines {
		if err := l(); err != nil {
			return err
		}
	}
	return p.finishDirection(&d)
}

// readDirectionType reads one printed thing. Lines are handed back as
// closures: their onset is known only after <offset>.
func (p *part) readDirectionType(d *direction, e element, lines *[]func() error) error {
	add := func(f func() error) { *lines = append(*lines, f) }
	switch e.name {
	case "words", "rehearsal":
		s, err := p.r.text()
		s, level := p.plainText(oneLine(s))
		switch {
		case s == "":
		case level:
			add(func() error { return p.mark(d, score.Dynamics, s) })
		case e.name == "words":
			d.words = oneLine(d.words + " " + s)
		default:
			add(func() error { return p.mark(d, score.Rehearsal, s) })
		}
		return err
	case "metronome":
		d.hidden = e.attr("print-object") == "no"
		return p.readMetronome(d)
	case "dynamics":
		s, err := p.dynamics()
		if s != "" {
			add(func() error { return p.mark(d, score.Dynamics, s) })
		}
		return err
	case "wedge":
		kind, number := e.attr("type"), "wedge"+clip(e.attr("number"))
		add(func() error {
			if kind == "stop" {
				p.endLine(number, d.onset)
				return nil
			}
			return p.startLine(d, number, score.Wedge, oneOf(kind, "crescendo", "diminuendo"), 0)
		})
	case "dashes":
		kind, number := e.attr("type"), "dashes"+clip(e.attr("number"))
		add(func() error {
			switch kind {
			case "stop":
				p.endLine(number, d.onset)
			case "start":
				return p.startLine(d, number, score.Dashes, "", 0)
			}
			return nil
		})
	case "octave-shift":
		kind, number, size := e.attr("type"), "shift"+clip(e.attr("number")), 8
		if n, ok := atoi(e.attr("size"), 8, 22); ok {
			size = n
		}
		add(func() error {
			switch kind {
			case "stop":
				p.endLine(number, d.onset)
			case "up": // printed higher than it sounds: below the staff
				return p.startLine(d, number, score.OctaveShift, "", -size)
			case "down":
				return p.startLine(d, number, score.OctaveShift, "", size)
			}
			return nil
		})
	case "pedal":
		kind := oneOf(e.attr("type"), "start", "stop", "change", "sostenuto")
		if kind != "" {
			add(func() error { return p.mark(d, score.Pedal, kind) })
		}
	case "segno", "coda":
		p.jump(e.name)
	case "bracket":
		if e.attr("type") == "start" {
			p.leave(e.name)
		}
	default:
		p.leave(e.name)
	}
	return nil
}

func (p *part) mark(d *direction, kind score.MarkKind, text string) error {
	p.marks = append(p.marks, at[score.Mark]{len(p.measures) - 1, score.Mark{
		Onset: d.onset, End: d.onset, Staff: d.staff, Kind: kind, Text: text, Above: d.above,
	}})
	return p.count(1)
}

func (p *part) startLine(d *direction, number string, kind score.MarkKind, text string, size int) error {
	if p.open.marks == nil {
		p.open.marks = map[string]int{}
	}
	if err := p.mark(d, kind, text); err != nil {
		return err
	}
	i := len(p.marks) - 1
	p.marks[i].item.Size = size
	// The end may stand earlier in the file, in a voice read before.
	if e, ok := p.open.ends[number]; ok && e.measure == len(p.measures)-1 && d.onset.Less(e.onset) {
		delete(p.open.ends, number)
		p.ends = append(p.ends, lineEnd{i, e.measure, e.onset})
		return nil
	}
	if before, open := p.open.marks[number]; open {
		m := &p.marks[before]
		p.d.warnings.Add(p.in(p.measures[m.measure].Number), unended[m.item.Kind])
		m.item.Kind = ""
	}
	p.open.marks[number] = i
	return nil
}

// endLine sets the end of a line. It may lie in a later measure than its
// start, so the end is kept as a place and resolved in assembly.
func (p *part) endLine(number string, onset music.Frac) {
	i, ok := p.open.marks[number]
	if !ok {
		if p.open.ends == nil {
			p.open.ends = map[string]lineEnd{}
		}
		p.open.ends[number] = lineEnd{-1, len(p.measures) - 1, onset}
		return
	}
	delete(p.open.marks, number)
	p.ends = append(p.ends, lineEnd{i, len(p.measures) - 1, onset})
}

// lineEnd is the end of a mark that is a line.
type lineEnd struct {
	mark, measure int
	onset         music.Frac
}

func (p *part) finishDirection(d *direction) error {
	if d.words != "" {
		if j := wordJump(d.words); j != "" {
			p.printed = append(p.printed, at[string]{len(p.measures) - 1, j})
		}
	}
	isTempo := d.sound || d.number || d.words != "" && tempoWord(d.words)
	if !isTempo {
		if d.words == "" {
			return nil
		}
		return p.mark(d, score.Words, d.words)
	}
	d.tempo.Onset, d.tempo.Text = d.onset, d.words
	if d.number && !d.sound {
		d.tempo.QuartersPerMinute = d.tempo.PerMinute * d.tempo.Beat.Quarters().Float()
	}
	if d.hidden || !d.number {
		d.tempo.Beat, d.tempo.PerMinute = score.Value{}, 0
	}
	if q := d.tempo.QuartersPerMinute; q != 0 && (q < minTempo || q > maxTempo) {
		p.warn("an impossible tempo was ignored")
		if d.words == "" {
			return nil
		}
		d.tempo.QuartersPerMinute, d.tempo.PerMinute, d.tempo.Beat = 0, 0, score.Value{} // the words stay
	}
	p.tempos = append(p.tempos, at[score.Tempo]{len(p.measures) - 1, d.tempo})
	return p.count(1)
}

// readSound reads a <sound> that stands by itself.
func (p *part) readSound(e element) error {
	d := direction{onset: p.now, staff: 1}
	d.readTempo(e)
	p.jumps(e)
	return p.finishDirection(&d)
}

// jumps keeps what a <sound> says of the way through the piece.
func (p *part) jumps(e element) {
	for _, a := range []string{"segno", "coda", "dacapo", "dalsegno", "tocoda", "fine"} {
		switch v := e.attr(a); {
		case a == "dacapo" && v == "no":
			p.straight = true
		case v != "" && v != "no":
			p.jump(a)
		}
	}
}

func (p *part) jump(kind string) { jumpIn(p.measure(), kind) }

func jumpIn(m *score.Measure, kind string) {
	if !slices.Contains(m.Jumps, kind) {
		m.Jumps = append(m.Jumps, kind)
	}
}

// wordJumps reads the way through the piece from printed words, once all are
// known. Of how it goes back they say only what no <sound> says: many a file
// plays by a dal segno what it prints as "D.C.", or in the measure beside, or
// says that it does not go back.
func (p *part) wordJumps() {
	back := p.straight || slices.ContainsFunc(p.measures, goesBack)
	for _, printed := range p.printed {
		if j := printed.item; !back || j != "dacapo" && j != "dalsegno" {
			jumpIn(&p.measures[printed.measure], j)
		}
	}
}

// goesBack reports whether a measure ends with a da capo or a dal segno.
func goesBack(m score.Measure) bool {
	return slices.Contains(m.Jumps, "dacapo") || slices.Contains(m.Jumps, "dalsegno")
}

// wordJump returns the jump that printed words ask for, "" for none.
func wordJump(words string) string {
	s := strings.ToLower(strings.ReplaceAll(words, " ", ""))
	switch {
	case strings.HasPrefix(s, "d.c.") || strings.HasPrefix(s, "dacapo"):
		return "dacapo"
	case strings.HasPrefix(s, "d.s.") || strings.HasPrefix(s, "dalsegno"):
		return "dalsegno"
	case strings.HasPrefix(s, "tocoda"):
		return "tocoda"
	case s == "fine" || s == "fine.":
		return "fine"
	}
	return ""
}
