package abc

import (
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// modes gives each mode's distance in fifths from the major key on the same
// tonic (ABC 2.1, section 4.6).
var modes = []struct {
	name   string
	fifths int8
	mode   music.Mode
}{
	{"maj", 0, music.Major},
	{"ion", 0, music.Major},
	{"min", -3, music.Minor},
	{"aeo", -3, music.Minor},
	{"mix", -1, music.UnknownMode},
	{"dor", -2, music.UnknownMode},
	{"phr", -4, music.UnknownMode},
	{"lyd", 1, music.UnknownMode},
	{"loc", -5, music.UnknownMode},
}

// tonics is the line of fifths from F, C is at 1.
const tonics = "FCGDAEB"

// clefs are the standard's names; a digit after one moves it to that line.
var clefs = []struct {
	name, sign string
	line       int
}{
	{"treble", "G", 2},
	{"bass", "F", 4},
	{"alto", "C", 3},
	{"tenor", "C", 4},
	{"soprano", "C", 1},
	{"mezzosoprano", "C", 2},
	{"baritone", "C", 5},
	{"G", "G", 2},
	{"F", "F", 4},
	{"C", "C", 3},
}

// keyField is what a K: or V: field can say.
type keyField struct {
	key    *music.Key
	extra  map[music.Step]int8 // accidentals beside the mode's
	clef   *score.Clef
	octave *int
}

// parseKey reads a K: field, or the properties of a V: field.
func (p *parser) parseKey(text string, at place, voiceOnly bool) (keyField, error) {
	var f keyField
	words := fieldWords(text)
	if !voiceOnly {
		if len(words) == 0 || words[0] == "none" || words[0] == "HP" {
			f.key = &music.Key{}
			words = words[min(1, len(words)):]
		} else if words[0] == "Hp" { // the pipes' two sharps (ABC 2.1, section 3.1.14)
			f.key = &music.Key{Fifths: 2}
			words = words[1:]
		} else if tonic := strings.IndexByte(tonics, words[0][0]); tonic >= 0 && !isClef(words[0]) && !strings.Contains(words[0], "=") {
			used, key, err := parseTonic(words, tonic, at)
			if err != nil {
				return f, err
			}
			f.key, words = &key, words[used:]
		}
	}
	for _, w := range words {
		name, value, assigned := strings.Cut(w, "=")
		switch {
		case isClef(w):
			f.clef = parseClef(w)
		case assigned && name == "clef":
			if isClef(value) {
				f.clef = parseClef(value)
			} else if value != "none" {
				p.warn(at, `there is no clef "{name}"`, "{name}", value)
			}
		case assigned && name == "octave":
			n, err := strconv.Atoi(value)
			if err != nil || n < -4 || n > 4 {
				return f, at.fail("octave={n} is not a shift by octaves", "write octave=-1, octave=1 …", "{n}", value)
			}
			f.octave = &n
		case !voiceOnly && strings.ContainsAny(w[:1], "^_="):
			step, alter, ok := parseKeyAccidental(w)
			if !ok {
				p.warn(at, "the accidental {sign} of the key was not understood", "{sign}", w)
				break
			}
			if f.extra == nil {
				f.extra = map[music.Step]int8{}
			}
			f.extra[step] = alter
		case !voiceOnly && w == "exp":
			f.key = &music.Key{}
		case name == "transpose", name == "t":
			if value != "0" {
				p.warn(at, "{word} is left out: the notes sound as they are written", "{word}", w)
			}
		case name == "middle", name == "m":
			p.warn(at, "{word} is left out: the clef is in its usual place", "{word}", w)
		case voiceOnly, name == "stafflines", name == "staffscale", name == "name", name == "snm":
			// What they set is not shown.
		default:
			p.warn(at, `"{word}" in a key was not understood`, "{word}", w)
		}
	}
	if fifths, ok := signature(f.extra); ok && f.key != nil && *f.key == (music.Key{}) {
		f.key.Fifths, f.extra = fifths, nil
	}
	if f.extra != nil {
		p.warn(at, "accidentals that the key adds to its mode are printed on the notes")
	}
	return f, nil
}

// signature returns the usual signature that holds just these accidentals.
func signature(extra map[music.Step]int8) (int8, bool) {
	for fifths := int8(-7); fifths <= 7; fifths++ {
		k := music.Key{Fifths: fifths}
		same := true
		for step := music.C; step <= music.B; step++ {
			same = same && int(extra[step]) == k.Alter(step)
		}
		if same {
			return fifths, true
		}
	}
	return 0, false
}

// parseTonic reads "G", "Bb", "F#m", "D mix" and returns how many words it used.
func parseTonic(words []string, tonic int, at place) (int, music.Key, error) {
	fifths := tonic - 1
	rest := words[0][1:]
	switch {
	case strings.HasPrefix(rest, "#"):
		fifths, rest = fifths+7, rest[1:]
	case strings.HasPrefix(rest, "b"):
		fifths, rest = fifths-7, rest[1:]
	}
	used := 1
	if rest == "" && len(words) > 1 && modeOf(words[1]) >= 0 {
		rest, used = words[1], 2
	}
	key := music.Key{Mode: music.Major}
	if rest != "" {
		i := modeOf(rest)
		if i < 0 {
			return 0, key, at.fail(`there is no key "{key}"`, "write K:G, K:Gm, K:Gdor …", "{key}", strings.Join(words[:used], " "))
		}
		fifths += int(modes[i].fifths)
		key.Mode = modes[i].mode
	}
	if fifths < -7 || fifths > 7 {
		return 0, key, at.fail("this key would need more than seven accidentals", "write it enharmonically")
	}
	key.Fifths = int8(fifths)
	return used, key, nil
}

// modeOf returns the index of a mode's name in modes, -1 if it is none. Three
// letters count, in any case; "m" alone is minor.
func modeOf(name string) int {
	name = strings.ToLower(name)
	if name == "m" {
		name = "min"
	}
	for i, m := range modes {
		if strings.HasPrefix(name, m.name) && strings.Trim(name, "abcdefghijklmnopqrstuvwxyz") == "" {
			return i
		}
	}
	return -1
}

func parseKeyAccidental(w string) (music.Step, int8, bool) {
	s := &scanner{text: []rune(w)}
	alter, _ := s.accidental()
	if s.done() || !isNote(s.peek(0)) {
		return 0, 0, false
	}
	step, _ := stepOf(s.peek(0))
	return step, int8(alter), true
}

// isClef reports whether a word names a clef, perhaps with line and octave:
// "bass", "alto1", "treble-8".
func isClef(w string) bool { return parseClef(w) != nil }

func parseClef(w string) *score.Clef {
	var clef score.Clef
	if base, ok := strings.CutSuffix(w, "-8"); ok {
		w, clef.Octave = base, -1
	} else if base, ok := strings.CutSuffix(w, "+8"); ok {
		w, clef.Octave = base, 1
	}
	line := 0
	if n := len(w); n > 1 && w[n-1] >= '1' && w[n-1] <= '5' {
		line, w = int(w[n-1]-'0'), w[:n-1]
	}
	for _, c := range clefs {
		// A single letter alone is a key, not a clef.
		if w == c.name && (len(w) > 1 || line > 0) {
			clef.Sign, clef.Line = c.sign, c.line
			if line > 0 {
				clef.Line = line
			}
			return &clef
		}
	}
	return nil
}

// fieldWords splits a field at blanks, keeping quoted text together.
func fieldWords(text string) []string {
	var words []string
	var word strings.Builder
	quoted := false
	flush := func() {
		if word.Len() > 0 {
			words = append(words, word.String())
			word.Reset()
		}
	}
	for _, r := range text {
		switch {
		case r == '"':
			quoted = !quoted
			word.WriteRune(r)
		case (r == ' ' || r == '\t') && !quoted:
			flush()
		default:
			word.WriteRune(r)
		}
	}
	flush()
	return words
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
