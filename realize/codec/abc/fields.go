package abc

import (
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// isField reports whether a line starts with a field: a letter and a colon.
// "C:|" is music.
func isField(line string) bool {
	return len(line) >= 2 && line[1] == ':' && (isLetter(rune(line[0])) || line[0] == '+') &&
		(len(line) == 2 || line[2] != '|' && line[2] != ':')
}

func uncomment(text string) string {
	for i := 0; i < len(text); i++ {
		if text[i] == '%' && (i == 0 || text[i-1] != '\\') {
			return text[:i]
		}
	}
	return text
}

// directive reads a %% line or an I: field.
func (p *parser) directive(text string, at place) {
	name, value, _ := strings.Cut(strings.TrimSpace(text), " ")
	switch name {
	case "score", "staves":
		p.layout, p.layoutAt = uncomment(value), at
	case "propagate-accidentals":
		switch value = strings.TrimSpace(value); value {
		case "not", "octave", "pitch":
			p.spread = value
		default:
			p.warn(at, "propagate-accidentals is not, octave or pitch")
		}
	case "linebreak":
		p.lineBreaks(uncomment(value), at)
	case "MIDI", "abc-include", "abc-copyright", "abc-version", "abc-creator", "abc-charset", "abc-edited-by", "decoration":
		// "decoration": both marks are read at all times.
		if name == "abc-include" {
			p.warn(at, "other files are not fetched")
		}
	}
	// Other directives set the page, which is laid out here.
}

// field reads a field, in the header, on a line of its own or inline.
func (p *parser) field(name rune, text string, at place) error {
	text = strings.Join(strings.Fields(text), " ")
	if name == '+' {
		return p.continued(text, at)
	}
	p.last = name
	if strings.ContainsRune("TC", name) {
		text = plainText(text)
	}
	text = strings.ReplaceAll(text, `\%`, "%")
	switch name {
	case 'X':
		if p.body {
			p.ended = true
			p.warn(at, "the text contains another tune; only the first is read")
		}
	case 'T':
		if text != "" && (p.title == nil || !p.body) {
			p.title = append(p.title, text)
		}
	case 'C':
		p.composer = text
	case 'H':
		if p.year == 0 {
			p.year = firstYear(text)
		}
	case 'L':
		unit, err := parseUnit(text, at)
		if err != nil {
			return err
		}
		p.eachVoice(func(v *voice) { v.unit = unit })
		if p.common() {
			p.unit, p.hasUnit = unit, true
		}
	case 'M':
		return p.metreField(text, at)
	case 'Q':
		tempo, err := p.parseTempo(text, at)
		if err != nil {
			return err
		}
		if *tempo == (score.Tempo{}) {
			p.warn(at, "this tempo mark has no number")
			return nil
		}
		if p.common() {
			p.tempos = append(p.tempos, *tempo)
		} else {
			p.voice.annotate(item{tempo: tempo})
		}
	case 'K':
		return p.keyFieldLine(text, at)
	case 'V':
		return p.voiceField(text, at)
	case 'I':
		p.directive(text, at)
	case 'U':
		symbol, meaning, ok := strings.Cut(text, "=")
		symbol, meaning = strings.TrimSpace(symbol), strings.Trim(strings.TrimSpace(meaning), "!+")
		switch r := []rune(symbol); {
		case ok && len(r) == 1 && (meaning == "nil" || meaning == "none"):
			delete(p.short, r[0])
		case ok && len(r) == 1:
			p.short[r[0]] = meaning
		default:
			p.warn(at, "a definition has the form U:T=!trill!")
		}
	case 'w', 'W':
		if !p.lyrics {
			p.lyrics = true
			p.warn(at, "lyrics are left out")
		}
	case 'A', 'B', 'D', 'F', 'G', 'N', 'O', 'R', 'S', 'Z', 'r':
		// They tell about the tune; nothing here shows them.
	case 's', 'P', 'm', 'd', 'y':
		p.warn(at, "the field {name}: is left out", "{name}", string(name))
	default:
		p.warn(at, "there is no field {name}:, and it is left out", "{name}", string(name))
	}
	return nil
}

// common reports whether a field concerns all voices: it stands in the header,
// or after it before anything of a voice.
func (p *parser) common() bool { return !p.body || !p.named && !p.sounded() && p.voice.bar == nil }

// startBody ends the header: the defaults it leaves take hold.
func (p *parser) startBody() {
	p.body = true
	if !p.hasUnit {
		p.unit = music.F(1, 2)
		// ABC 2.1, section 3.1.7: below 3/4 the unit is a sixteenth.
		if p.metre.Unit != 0 && p.metre.Bar().Less(music.Int(3)) {
			p.unit = music.F(1, 4)
		}
	}
	for _, v := range p.voices {
		p.dress(v)
	}
	if len(p.voices) == 0 {
		p.voiceNamed("1").implied = true
	}
	p.voice = p.voices[0]
}

// firstYear returns the first number of four digits from 1400 to 2099.
func firstYear(text string) int {
	for _, digits := range strings.FieldsFunc(text, func(r rune) bool { return !isDigit(r) }) {
		if n, err := strconv.Atoi(digits); err == nil && len(digits) == 4 && n >= 1400 && n < 2100 {
			return n
		}
	}
	return 0
}
