package abc

import (
	"strings"

	"agremens/realize/score"
)

// signs gives the ornament each decoration stands for. The first name of a
// sign is the one written. Names are ABC 2.1's (section 4.14) down to the
// line, then those of MusicXML's elements without hyphens.
var signs = []struct {
	name string
	sign score.Sign
}{
	{"trill", score.Sign{Kind: score.TrillMark}},
	{"trill(", score.Sign{Kind: score.WavyLine, Line: "start"}},
	{"trill)", score.Sign{Kind: score.WavyLine, Line: "stop"}},
	{"mordent", score.Sign{Kind: score.Mordent}},
	{"lowermordent", score.Sign{Kind: score.Mordent}},
	{"uppermordent", score.Sign{Kind: score.InvertedMordent}},
	{"pralltriller", score.Sign{Kind: score.InvertedMordent}},
	{"turn", score.Sign{Kind: score.Turn}},
	{"turnx", score.Sign{Kind: score.Turn, Slash: true}},
	{"invertedturn", score.Sign{Kind: score.InvertedTurn}},
	{"invertedturnx", score.Sign{Kind: score.InvertedTurn, Slash: true}},
	{"slide", score.Sign{Kind: score.Schleifer}},
	{"roll", score.Sign{Kind: score.OtherOrnament, Text: "roll"}},
	// ----
	{"delayedturn", score.Sign{Kind: score.DelayedTurn}},
	{"delayedinvertedturn", score.Sign{Kind: score.DelayedInvertedTurn}},
	{"verticalturn", score.Sign{Kind: score.VerticalTurn}},
	{"invertedverticalturn", score.Sign{Kind: score.InvertedVerticalTurn}},
	{"longmordent", score.Sign{Kind: score.Mordent, Long: true}},
	{"longinvertedmordent", score.Sign{Kind: score.InvertedMordent, Long: true}},
	{"shake", score.Sign{Kind: score.Shake}},
	{"haydn", score.Sign{Kind: score.Haydn}},
	{"schleifer", score.Sign{Kind: score.Schleifer}},
	{"tremolo", score.Sign{Kind: score.Tremolo, Text: "3"}},
	{"aspiration", score.Sign{Kind: score.OtherOrnament, Text: "aspiration"}},
	{"suspension", score.Sign{Kind: score.OtherOrnament, Text: "suspension"}},
	{"tiercecoulee", score.Sign{Kind: score.OtherOrnament, Text: "tierce coulée"}},
}

// articulations gives the mark each decoration stands for; the first name of
// a mark is the one written.
var articulations = []struct {
	name string
	mark score.Articulation
}{
	{"staccato", "staccato"},
	{"tenuto", "tenuto"},
	{"accent", "accent"},
	{">", "accent"},
	{"emphasis", "accent"},
	{"wedge", "staccatissimo"},
	{"marcato", "strong-accent"},
	{"^", "strong-accent"},
	{"breath", "breath-mark"},
}

// jumps gives the words of a measure each decoration stands for.
var jumps = []struct{ name, jump string }{
	{"segno", "segno"},
	{"coda", "coda"},
	{"D.C.", "dacapo"},
	{"dacapo", "dacapo"},
	{"D.S.", "dalsegno"},
	{"dacoda", "tocoda"},
	{"fine", "fine"},
}

// dynamics are the levels of ABC 2.1 and those MusicXML adds.
var dynamics = []string{
	"p", "pp", "ppp", "pppp", "f", "ff", "fff", "ffff", "mp", "mf", "sfz",
	"fp", "sf", "rf", "rfz", "fz",
}

// wedges maps a decoration to the kind of wedge; a name that ends in ")" closes it.
var wedges = []struct{ name, kind string }{
	{"crescendo(", "crescendo"},
	{"crescendo)", "crescendo"},
	{"<(", "crescendo"},
	{"<)", "crescendo"},
	{"diminuendo(", "diminuendo"},
	{"diminuendo)", "diminuendo"},
	{">(", "diminuendo"},
	{">)", "diminuendo"},
}

// shortForms are the decorations of one character (ABC 2.1, section 4.14).
func shortForms() map[rune]string {
	return map[rune]string{
		'.': "staccato", '~': "roll", 'H': "fermata", 'L': "accent", 'M': "lowermordent",
		'O': "coda", 'P': "uppermordent", 'S': "segno", 'T': "trill", 'u': "upbow", 'v': "downbow",
	}
}

// pending is what comes before a note and belongs to it.
type pending struct {
	signs       []score.Sign
	accidentals []score.AccidentalMark
	artic       []score.Articulation
	marks       []item
	fingering   string
	fermata     bool
	arpeggio    bool
	courtesy    bool
	at          place
}

// decorate applies a decoration by its name.
func (p *parser) decorate(name string, at place) {
	if len(name) > 1 && name[0] == '"' && name[len(name)-1] == '"' {
		p.annotation(name[1:len(name)-1], at) // a short form for words (U:)
		return
	}
	v, d := p.voice, &p.pending
	if d.at == (place{}) {
		d.at = at
	}
	for _, s := range signs {
		if s.name == name {
			if name == "trill(" {
				d.signs = append(d.signs, score.Sign{Kind: score.TrillMark})
			}
			if name == "roll" {
				p.warn(at, "a roll is read as an ornament without notes; write !turn! for a turn")
			}
			d.signs = append(d.signs, s.sign)
			return
		}
	}
	for _, a := range articulations {
		if a.name == name {
			d.artic = append(d.artic, a.mark)
			return
		}
	}
	for _, j := range jumps {
		if j.name == name {
			b := v.open(at)
			b.jumps = append(b.jumps, j.jump)
			return
		}
	}
	for _, w := range wedges {
		if w.name == name {
			d.marks = append(d.marks, item{mark: &score.Mark{Kind: score.Wedge, Text: w.kind}})
			if strings.HasSuffix(name, ")") {
				d.marks[len(d.marks)-1].ends = &item{}
			}
			return
		}
	}
	for _, dyn := range dynamics {
		if dyn == name {
			d.marks = append(d.marks, item{mark: &score.Mark{Kind: score.Dynamics, Text: name}})
			return
		}
	}
	switch {
	case name == "fermata" || name == "invertedfermata":
		d.fermata = true
	case name == "arpeggio":
		d.arpeggio = true
	case name == "courtesy" || name == "editorial":
		d.courtesy = true
	case len(name) == 1 && name[0] >= '0' && name[0] <= '5':
		d.fingering = name
	case strings.HasPrefix(name, "ornament") && len(name) > len("ornament"):
		d.signs = append(d.signs, score.Sign{Kind: score.OtherOrnament, Glyph: name})
	default:
		p.warn(at, "the decoration !{name}! is not known here and was left out", "{name}", name)
	}
}

// annotation applies the text between quotation marks: a chord symbol, or
// words that start with their position, or an accidental of the next sign.
func (p *parser) annotation(text string, at place) {
	d := &p.pending
	if d.at == (place{}) {
		d.at = at
	}
	if text == "" {
		return
	}
	position, words := text[0], text[1:]
	if !strings.ContainsRune("^_<>@", rune(position)) {
		d.marks = append(d.marks, item{mark: &score.Mark{Kind: score.Harmony, Text: text, Above: true}})
		return
	}
	if value := accidentalWord(words); value != "" && position != '@' {
		d.accidentals = append(d.accidentals, score.AccidentalMark{Value: value, Below: position == '_', Placed: position == '_' || position == '^'})
		return
	}
	if words == "" {
		return
	}
	d.marks = append(d.marks, item{mark: &score.Mark{Kind: score.Words, Text: words, Above: position != '_'}})
}

// signAccidentals are the texts of an annotation that alter a sign.
var signAccidentals = []struct{ text, word string }{
	{"#", "sharp"}, {"b", "flat"}, {"=", "natural"}, {"##", "double-sharp"}, {"bb", "flat-flat"},
	{"♯", "sharp"}, {"♭", "flat"}, {"♮", "natural"}, {"x", "double-sharp"},
}

func accidentalWord(text string) string {
	for _, a := range signAccidentals {
		if a.text == text {
			return a.word
		}
	}
	return ""
}
