package kern

import (
	"cmp"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// clefChange is a clef of a track; its staff is known when all is read.
type clefChange struct{ score.Clef }

// interpret reads a line of tandem interpretations.
func (r *reader) interpret(fields []string) {
	for i, f := range fields {
		c := r.columns[i]
		if len(f) < 2 || c.track == nil {
			continue
		}
		f = strings.TrimSpace(f[1:])
		switch {
		case strings.HasPrefix(f, "*"):
		case strings.HasPrefix(f, "part"):
			c.track.part = clip(f[4:])
		case strings.HasPrefix(f, "staff"):
			c.track.staff = clip(f[5:])
		case !c.isNotes():
		case strings.HasPrefix(f, "clef"):
			r.clef(c, f[4:])
		case strings.HasPrefix(f, "ITr"):
			c.track.transposed = true
		case f == "tremolo":
			r.warn(i, "tremolos are printed with all their notes")
		case strings.HasPrefix(f, "k["):
			r.signature(i, f)
		case strings.HasPrefix(f, "MM"):
			r.tempo(i, f[2:])
		case strings.HasPrefix(f, "M") && len(f) > 1 && f[1] >= '0' && f[1] <= '9':
			r.metreOf(i, f[1:])
		case strings.HasPrefix(f, "met("):
			r.metreSymbol(f)
		case strings.HasPrefix(f, ">"):
			r.label(i, f[1:])
		case strings.HasPrefix(f, `I"`):
			c.track.name = plain(f[2:])
		case strings.HasPrefix(f, "I") && len(f) > 1 && f[1] >= 'a' && f[1] <= 'z':
			c.track.instrument = clip(f[1:])
		case f == "tuplet" || f == "Xtuplet":
			c.track.silent = f[0] == 'X'
		case f == "brackettup" || f == "Xbrackettup" || f == "tupbreak":
			c.track.unbracket = f[0] == 'X'
		case f == "cue" || f == "Xcue":
			c.track.cue = f[0] == 'c'
		case f == "ped" || f == "Xped":
			r.pedal(c, f[0] != 'X')
		case strings.HasSuffix(f, "va") || strings.HasSuffix(f, "ba") || strings.HasSuffix(f, "ma"):
			r.octaveLine(i, c, f)
		case strings.HasSuffix(f, ":") && len(f) <= 4:
			r.keyNote(f[:len(f)-1])
		}
	}
}

// onset defers what is between rows to the next row's moment.
func (r *reader) onset(do func(measure int, onset music.Frac)) {
	r.pending = append(r.pending, func() { do(r.current(), r.now) })
}

func (r *reader) clef(c *column, text string) {
	if text == "" || strings.IndexByte("GFC", text[0]) < 0 {
		return
	}
	k := score.Clef{Sign: text[:1]}
	rest := text[1:]
	for rest != "" && (rest[0] == 'v' || rest[0] == '^') {
		if rest[0] == 'v' {
			k.Octave--
		} else {
			k.Octave++
		}
		rest = rest[1:]
	}
	line, err := strconv.Atoi(rest)
	if err != nil || line < 1 || line > 5 || k.Octave < -2 || k.Octave > 2 {
		return
	}
	k.Line = line
	if c.track.clef == 0 {
		c.track.clef = text[0]
	}
	t := c.track
	r.onset(func(measure int, onset music.Frac) {
		t.clefs = append(t.clefs, at[clefChange]{measure, onset, clefChange{k}})
	})
}

// signature reads "k[f#c#]".
func (r *reader) signature(i int, text string) {
	inside, _, closed := strings.Cut(text[2:], "]")
	if !closed {
		r.warn(i, "“{text}” is not a key signature; it was left out", "{text}", clip("*"+text))
		return
	}
	sharps, flats := strings.Count(inside, "#"), strings.Count(inside, "-")
	if sharps > 7 || flats > 7 || sharps > 0 && flats > 0 {
		r.warn(i, "a key signature that mixes sharps and flats, or has too many, was left out")
		return
	}
	usual := "fcgdaeb"
	for n, part := range strings.FieldsFunc(inside, func(c rune) bool { return c == '#' || c == '-' }) {
		want := usual[n%7]
		if flats > 0 {
			want = usual[6-n%7]
		}
		if part != string(want) {
			r.warn(i, "a key signature in an unusual order was read by the number of its accidentals")
			break
		}
	}
	fifths := int8(sharps - flats)
	r.onset(func(measure int, onset music.Frac) { r.setKey(measure, onset, music.Key{Fifths: fifths}) })
}

// keyNote reads the name of a key: it tells major from minor where it fits the
// signature.
func (r *reader) keyNote(text string) {
	if text == "" || text[0] == '?' {
		return
	}
	letter := text[0] | 0x20
	if letter < 'a' || letter > 'g' {
		return
	}
	// Fifths of the major keys on a to g.
	fifths := [7]int{3, 5, 0, 2, 4, -1, 1}[letter-'a']
	mode := music.Major
	if text[0] >= 'a' {
		mode, fifths = music.Minor, fifths-3
	}
	for _, c := range text[1:] {
		switch c {
		case '#':
			fifths += 7
		case '-':
			fifths -= 7
		default:
			return
		}
	}
	r.onset(func(measure int, onset music.Frac) {
		key := r.keyNow()
		if int(key.Fifths) == fifths && key.Mode != mode {
			key.Mode = mode
			r.setKey(measure, onset, key)
		}
	})
}

func (r *reader) keyNow() music.Key { return r.key }

// setKey puts a key in force; the columns of a line say the same one each.
func (r *reader) setKey(measure int, onset music.Frac, key music.Key) {
	if key.Fifths == r.key.Fifths && key.Mode == music.UnknownMode {
		return
	}
	r.key = key
	m := &r.measures[measure]
	if onset.IsZero() {
		m.Key = key
		return
	}
	if n := len(m.KeyChanges); n > 0 && m.KeyChanges[n-1].Onset == onset {
		m.KeyChanges[n-1].Key = key
		return
	}
	m.KeyChanges = append(m.KeyChanges, score.KeyChange{Onset: onset, Key: key})
}

// metreOf reads "3/4" and "3+2/8".
func (r *reader) metreOf(i int, text string) {
	above, below, ok := strings.Cut(text, "/")
	below, _, _ = strings.Cut(below, "%")
	beats := 0
	for _, part := range strings.Split(above, "+") {
		n, err := strconv.Atoi(part)
		if err != nil || n < 1 || n > 64 {
			ok = false
		}
		beats += n
	}
	unit, err := strconv.Atoi(below)
	if !ok || err != nil || beats > 64 || unit < 1 || unit > 64 || unit&(unit-1) != 0 {
		r.warn(i, "“{text}” is not a time signature; it was left out", "{text}", clip("*M"+text))
		return
	}
	metre := music.Metre{Beats: beats, Unit: unit}
	r.onset(func(measure int, onset music.Frac) {
		if at := (metreSign{measure, onset, r.sign.symbol}); at == r.sign {
			metre.Symbol = r.sign.symbol // files put it before or after the fraction
		}
		r.metre = metre
		if onset.IsZero() {
			r.measures[measure].Metre = metre
		}
	})
}

// metreSign is where the last "*met" stood and what it asked for.
type metreSign struct {
	measure int
	onset   music.Frac
	symbol  music.MetreSymbol
}

// metreSymbol reads "*met(c)" and "*met(c|)" beside the metre that they print;
// other mensuration signs leave it a fraction.
func (r *reader) metreSymbol(text string) {
	symbol := music.Fraction
	switch text {
	case "met(c)":
		symbol = music.CommonTime
	case "met(c|)":
		symbol = music.CutTime
	}
	r.onset(func(measure int, onset music.Frac) {
		r.sign = metreSign{measure, onset, symbol}
		r.metre.Symbol = symbol
		if onset.IsZero() {
			r.measures[measure].Metre.Symbol = symbol
		}
	})
}

// tempo reads the number of quarters a minute.
func (r *reader) tempo(i int, text string) {
	q, err := strconv.ParseFloat(text, 64)
	if err != nil { // a word in brackets: the printed one says it
		return
	}
	if !(q >= 5 && q <= 1000) {
		r.warn(i, "an impossible tempo was ignored")
		return
	}
	r.onset(func(measure int, onset music.Frac) {
		r.addTempo(measure, onset, score.Tempo{QuartersPerMinute: q})
	})
}

// addTempo adds a tempo, or completes the one that stands at the place.
func (r *reader) addTempo(measure int, onset music.Frac, t score.Tempo) {
	if n := len(r.tempos); n > 0 && r.tempos[n-1].measure == measure && r.tempos[n-1].onset == onset {
		b := &r.tempos[n-1].item
		switch {
		case b.Text == "" || strings.Contains(t.Text, b.Text):
			b.Text = cmp.Or(t.Text, b.Text)
		case !strings.Contains(b.Text, t.Text): // "Rondo", "Allegro"
			b.Text += ". " + t.Text
		}
		if t.PerMinute > 0 {
			b.Beat, b.PerMinute = t.Beat, t.PerMinute
		}
		// The number of a column counts before what a printed mark amounts to.
		if t.QuartersPerMinute > 0 && (b.QuartersPerMinute == 0 || t.PerMinute == 0) {
			b.QuartersPerMinute = t.QuartersPerMinute
		}
		return
	}
	r.tempos = append(r.tempos, at[score.Tempo]{measure, onset, t})
}
