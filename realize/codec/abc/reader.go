package abc

import (
	"errors"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

// parser holds a tune while it is read.
type parser struct {
	warnings []Warning
	title    []string
	composer string
	year     int
	tempos   []score.Tempo // from the header
	unit     music.Frac
	metre    music.Metre
	hasUnit  bool
	key      keyField
	body     bool // the header is over
	named    bool // the body has turned to a voice
	voices   []*voice
	voice    *voice
	layout   string // of %%score or %%staves
	layoutAt place
	spread   string // propagate-accidentals: pitch, octave or not
	short    map[rune]string
	breaks   breaks
	pending  pending
	chords   int
	groups   int // grace groups so far
	lyrics   bool
	texts    bool
	last     rune // the field that +: continues
	slurs    []*slur
	loose    []tie // without a second note in their voice
	tuplets  []*tupletGroup
	ended    bool  // a second tune begins
	lenient  bool  // faults become warnings
	fault    error // the first that did
}

func newParser() *parser {
	return &parser{
		metre:  music.Metre{Beats: 4, Unit: 4},
		spread: "pitch",
		short:  shortForms(),
		breaks: breaks{line: true, dollar: true},
	}
}

func (p *parser) warn(at place, what string, fill ...string) {
	if len(p.warnings) < 200 {
		said := words.Message{Text: what, Fill: fill}
		p.warnings = append(p.warnings, Warning{at.line, at.column, said.String(), said})
	}
}

// read goes through the text line by line.
func (p *parser) read(text string) error {
	text = strings.ToValidUTF8(strings.TrimPrefix(text, "\ufeff"), "\ufffd")
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	lines := strings.Split(text, "\n")
	first := firstTune(lines)
	free := false // inside %%begintext, or after the tune
	for i, line := range lines {
		s := &scanner{text: []rune(line), line: i + 1}
		trimmed := strings.TrimSpace(line)
		var err error
		switch {
		case trimmed == "":
			// An empty line ends a tune (ABC 2.1, section 2.2.1); a passage
			// typed without X: may breathe.
			free = free || first >= 0 && p.sounded()
		case strings.HasPrefix(trimmed, "%%begin"):
			free = true
		case strings.HasPrefix(trimmed, "%%end"):
			free = false
		case free && !strings.HasPrefix(line, "X:"):
			if !strings.HasPrefix(trimmed, "%") {
				p.freeText(s.place())
			}
		case i < first && !isField(line) && !strings.HasPrefix(trimmed, "%"):
			p.freeText(s.place())
		case strings.HasPrefix(line, "%%"):
			p.directive(line[2:], s.place())
		case strings.HasPrefix(trimmed, "%"):
		case isField(line):
			s.pos = 2
			err = p.forgive(p.field(rune(line[0]), uncomment(line[2:]), s.place()))
		default:
			if !p.body {
				p.startBody()
			}
			err = p.music(s)
			// The end of a text line ends the line of the staff, but for a backslash.
			if p.breaks.line && !strings.HasSuffix(strings.TrimSpace(uncomment(line)), "\\") {
				p.breakLine()
			}
		}
		if err != nil {
			return err
		}
		if p.ended {
			break
		}
	}
	if !p.body {
		p.startBody()
	}
	if p.lenient && p.key.key == nil && first >= 0 {
		p.warn(place{first + 1, 1}, "the tune gives no key (K:); it is read without sharps or flats")
	}
	return p.finish()
}

// forgive makes a fault a warning where the text is a file.
func (p *parser) forgive(err error) error {
	var e *Error
	if !p.lenient || !errors.As(err, &e) {
		return err
	}
	if p.fault == nil {
		p.fault = err
	}
	p.warn(place{e.Line, e.Column}, e.what.Text, e.what.Fill...)
	return nil
}

// firstTune returns the index of the line that begins the first tune, -1
// where no X: does.
func firstTune(lines []string) int {
	for i, line := range lines {
		if strings.HasPrefix(line, "X:") && isField(line) {
			return i
		}
	}
	return -1
}

// sounded reports whether there are notes already.
func (p *parser) sounded() bool { return p.chords > 0 }

// freeText warns once of text that belongs to no tune.
func (p *parser) freeText(at place) {
	if !p.texts {
		p.texts = true
		p.warn(at, "text that belongs to no tune is left out")
	}
}

// breaks are what ends a line of the staff (ABC 2.1, section 6.1.1).
type breaks struct{ line, dollar, mark bool }

// lineBreaks reads the words of I:linebreak.
func (p *parser) lineBreaks(text string, at place) {
	p.breaks = breaks{}
	for _, word := range strings.Fields(text) {
		switch word {
		case "<EOL>":
			p.breaks.line = true
		case "$":
			p.breaks.dollar = true
		case "!":
			p.breaks.mark = true
		case "<none>":
		default:
			p.warn(at, "a line of the staff ends at <EOL>, $, ! or <none>")
		}
	}
}

// breakLine ends the line of the staff, between bars only.
func (p *parser) breakLine() {
	if v := p.voice; v.bar == nil {
		v.newLine = true
	}
}
