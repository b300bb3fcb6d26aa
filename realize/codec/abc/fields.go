package abc

import (
	"errors"
	"strconv"
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

// eachVoice does what a field asks for: to its own voice, or to all of them.
// In the header there are none yet that have anything of their own.
func (p *parser) eachVoice(do func(*voice)) {
	switch {
	case !p.body:
	case p.common():
		for _, v := range p.voices {
			do(v)
		}
	default:
		do(p.voice)
	}
}

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

// dress gives a voice what the header set.
func (p *parser) dress(v *voice) {
	v.unit, v.metre, v.extra = p.unit, p.metre, p.key.extra
	if p.key.key != nil {
		v.key = *p.key.key
	}
	if v.clef == nil {
		v.clef = p.key.clef
	}
	if p.key.octave != nil && v.octave == 0 {
		v.octave = *p.key.octave
	}
}

// voiceNamed returns a voice, made if it is new.
func (p *parser) voiceNamed(id string) *voice {
	if v := p.known(id); v != nil {
		return v
	}
	v := &voice{id: id, strands: []*strand{newStrand()}}
	v.strand = v.strands[0]
	if p.body {
		p.dress(v)
	}
	p.voices = append(p.voices, v)
	return v
}

func (p *parser) voiceField(text string, at place) error {
	words := fieldWords(text)
	if len(words) == 0 {
		return at.fail("V: does not name a voice", "write V:1")
	}
	if len(p.voices) >= maxVoices && p.known(words[0]) == nil {
		return at.fail("there are more than {n} voices", "keep only those of the keyboard", "{n}", strconv.Itoa(maxVoices))
	}
	if p.pending.at != (place{}) {
		p.dropPending()
	}
	v := p.voiceNamed(words[0])
	f, err := p.parseKey(strings.Join(words[1:], " "), at, true)
	if err != nil {
		return err
	}
	if f.clef != nil {
		p.setClef(v, f.clef)
	}
	if f.octave != nil {
		v.octave = *f.octave
	}
	if p.body {
		p.voice, p.named = v, true
	}
	return nil
}

// setClef makes a clef the voice's first, or a change within it.
func (p *parser) setClef(v *voice, clef *score.Clef) {
	if len(v.bars) == 0 && v.bar == nil {
		v.clef = clef
		return
	}
	v.annotate(item{clef: clef})
}

func (p *parser) keyFieldLine(text string, at place) error {
	f, err := p.parseKey(text, at, false)
	if err != nil {
		return err
	}
	if !p.body {
		p.key = f
		p.startBody()
		return nil
	}
	before := p.key.clef
	common := p.common()
	if common {
		p.key = f.over(p.key)
	}
	p.eachVoice(func(v *voice) {
		own := f
		if common && v.clef != before {
			own.clef = nil // the voice has named its clef
		}
		p.changeKey(v, own, at)
	})
	return nil
}

// over returns what a field says, and for what it does not say the one before.
func (f keyField) over(before keyField) keyField {
	if f.key == nil {
		f.key, f.extra = before.key, before.extra
	}
	if f.clef == nil {
		f.clef = before.clef
	}
	if f.octave == nil {
		f.octave = before.octave
	}
	return f
}

// changeKey gives a voice another key, clef or octave from here on.
func (p *parser) changeKey(v *voice, f keyField, at place) {
	if v.strand != v.strands[0] {
		p.warn(at, "a key or clef changes in the voice itself, before its &")
		return
	}
	if f.clef != nil {
		p.setClef(v, f.clef)
	}
	if f.octave != nil {
		v.octave = *f.octave
	}
	if f.key != nil && (*f.key != v.key || f.extra != nil || v.extra != nil) {
		v.key, v.extra = *f.key, f.extra
		switch {
		case v.begun():
			v.annotate(item{key: f.key})
		case v.bar != nil:
			v.bar.key = v.key
		}
	}
}

func (p *parser) metreField(text string, at place) error {
	metre, ok := parseMetre(text)
	if !ok {
		return at.fail(`"{text}" is not a time signature`, "write M:3/4, M:C or M:C|", "{text}", text)
	}
	if !p.body {
		p.metre = metre
		return nil
	}
	if p.common() {
		p.metre = metre
	}
	p.eachVoice(func(v *voice) {
		v.metre = metre
		switch {
		case v.begun():
			p.warn(at, "a change of time signature inside a bar takes effect from the next bar; put a bar line before it")
		case v.bar != nil:
			v.bar.metre = metre
		}
	})
	return nil
}

// parseMetre reads "3/4", "C", "C|", "2+3/8", "(2+2+3)/8" and "none".
func parseMetre(text string) (music.Metre, bool) {
	switch text {
	case "C":
		return music.Metre{Beats: 4, Unit: 4, Symbol: music.CommonTime}, true
	case "C|":
		return music.Metre{Beats: 2, Unit: 2, Symbol: music.CutTime}, true
	case "none", "":
		return music.Metre{}, true
	}
	over, under, ok := strings.Cut(text, "/")
	unit, err := strconv.Atoi(strings.TrimSpace(under))
	if !ok || err != nil || unit < 1 || unit > 64 || unit&(unit-1) != 0 {
		return music.Metre{}, false
	}
	beats := 0
	for part := range strings.SplitSeq(strings.Trim(strings.TrimSpace(over), "()"), "+") {
		n, err := strconv.Atoi(strings.TrimSpace(part))
		if err != nil || n < 1 || n > 64 {
			return music.Metre{}, false
		}
		beats += n
	}
	return music.Metre{Beats: beats, Unit: unit}, beats <= 64
}

// parseUnit reads the fraction of an L: field and returns it in quarters.
func parseUnit(text string, at place) (music.Frac, error) {
	f, err := music.ParseFrac(strings.ReplaceAll(text, " ", ""))
	if err != nil || f.Sign() <= 0 || music.Int(1).Less(f) || f.Den() > 64 || f.Den()&(f.Den()-1) != 0 {
		return music.Frac{}, at.fail(`"{text}" is not a unit note length`, "write L:1/8 or L:1/16", "{text}", text)
	}
	return f.Mul(music.Int(4)), nil
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

// parseTempo reads "1/4=120", "Allegro" in quotes, both, or a bare number.
func (p *parser) parseTempo(text string, at place) (*score.Tempo, error) {
	tempo := &score.Tempo{}
	for {
		before, rest, ok := strings.Cut(text, "\"")
		if !ok {
			break
		}
		words, after, closed := strings.Cut(rest, "\"")
		if !closed {
			return nil, at.fail("the words of the tempo have no closing quotation mark", `write Q:"Andante" 1/4=72`)
		}
		tempo.Text = strings.TrimSpace(words)
		text = before + " " + after
	}
	text = strings.TrimSpace(text)
	if text == "" {
		return tempo, nil
	}
	text = p.oldTempo(text)
	beats, perMinute, ok := strings.Cut(text, "=")
	if !ok {
		beats, perMinute = "1/4", text
	}
	n, err := strconv.ParseFloat(strings.TrimSpace(perMinute), 64)
	if err != nil || !(n >= 1 && n <= 1000) {
		return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
	}
	var sum music.Frac
	for _, b := range strings.Fields(beats) {
		f, err := music.ParseFrac(b)
		if err != nil || f.Sign() <= 0 || !f.Bounded(64) {
			return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
		}
		sum = sum.Add(f.Mul(music.Int(4)))
		if !sum.Bounded(1024) {
			return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
		}
	}
	if sum.Sign() == 0 {
		return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
	}
	tempo.QuartersPerMinute = n * sum.Float()
	if q := tempo.QuartersPerMinute; q < 1 || q > 1000 {
		return nil, at.fail(`"{text}" is not a tempo`, "write Q:1/4=72", "{text}", text)
	}
	v, ok := valueOf(sum)
	if !ok {
		v, n = score.Value{Type: score.Quarter}, tempo.QuartersPerMinute
	}
	tempo.Beat, tempo.PerMinute = v, n
	return tempo, nil
}
