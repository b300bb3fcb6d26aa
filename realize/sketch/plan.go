package sketch

import (
	"fmt"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

// plan lays a place out in time. Times are in quarters from the start of the
// first full bar; an upbeat lies before it.
type plan struct {
	Place
	bar      music.Frac
	beat     music.Frac // what a neighbour lasts at most
	upbeat   music.Frac
	start    music.Frac // of the note
	length   music.Frac // of the note, its tie included
	afterEnd music.Frac
}

func (p Place) plan() (*plan, error) {
	if p.Metre.Unit == 0 {
		p.Metre = music.Metre{Beats: 4, Unit: 4}
	}
	pl := &plan{Place: p, bar: p.Metre.Bar(), beat: p.Metre.Beat()}
	if p.Value.Type == score.Unspecified || p.Value.Actual != 0 {
		return nil, words.Errorf(nil, "the note needs a value: quarter, dotted half …")
	}
	if !p.Metre.Compound() {
		pl.beat = pl.beat.Min(music.Int(1))
	}
	if p.Key.Fifths < -7 || p.Key.Fifths > 7 {
		return nil, words.Errorf(nil, "a key has up to seven accidentals")
	}
	pl.length = p.Value.Quarters().Add(p.Tied.Quarters())
	end := pl.bar.Add(pl.bar)
	pl.start = pl.bar
	if pl.length.Cmp(pl.bar) >= 0 {
		pl.start = music.Frac{}
		if p.Before != nil {
			pl.upbeat = pl.neighbour()
		}
	}
	pl.afterEnd = pl.start.Add(pl.length)
	if end.Less(pl.afterEnd) || p.After != nil && pl.afterEnd == end {
		return nil, words.Errorf(nil, "the note fills more than its two bars of {metre}: take a shorter value or a time signature with longer bars", "{metre}", p.Metre.String())
	}
	if p.After != nil {
		to := music.Int(pl.afterEnd.Div(pl.beat).Floor() + 1).Mul(pl.beat)
		pl.afterEnd = to.Min(end)
	}
	for _, pitch := range []*music.Pitch{&pl.Note, p.Before, p.After, p.Bass} {
		if pitch != nil && (pitch.MIDI() < 12 || pitch.MIDI() > 120 || pitch.Alter < -2 || pitch.Alter > 2) {
			return nil, words.Errorf(nil, "{note} is outside the range of every keyboard", "{note}", pitch.String())
		}
	}
	if p.SlurBefore && p.Before == nil || p.SlurAfter && p.After == nil {
		return nil, words.Errorf(nil, "a slur needs the note it starts from or leads to")
	}
	if p.Accidental != "" && p.Sign == "" {
		return nil, words.Errorf(nil, "an accidental needs a sign")
	}
	if pl.bass().MIDI() < 12 {
		return nil, words.Errorf(nil, "the note is too low for a bass beneath it")
	}
	return pl, nil
}

// neighbour returns how long the note before lasts: one felt beat, in compound
// metre an eighth of it as the upbeats there are.
func (pl *plan) neighbour() music.Frac {
	if pl.Metre.Compound() {
		return music.F(4, int64(pl.Metre.Unit))
	}
	return pl.beat
}

// text writes the passage as ABC.
func (pl *plan) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "M:%s\nL:1/4\n", pl.Metre)
	if pl.Year != 0 {
		fmt.Fprintf(&b, "H:%04d\n", pl.Year)
	}
	if pl.Tempo > 0 {
		fmt.Fprintf(&b, "Q:1/4=%g\n", pl.Tempo)
	}
	b.WriteString("%%score {R L}\nV:R" + clef(pl.Note) + "\nV:L" + clef(pl.bass()) + "\n")
	fmt.Fprintf(&b, "K:%s\n", signature(pl.Key))
	fmt.Fprintf(&b, "[V:R]%s|]\n[V:L]%s|]\n", pl.upper(), pl.lower())
	return b.String()
}

// clef is bass for what lies below middle C.
func clef(p music.Pitch) string {
	if p.MIDI() < 60 {
		return " clef=bass"
	}
	return " clef=treble"
}

// signature writes a key by its name, or by its accidentals alone where the
// mode is not known.
func signature(k music.Key) string {
	step, alter := k.Tonic()
	name := step.String() + [3]string{"b", "", "#"}[alter+1]
	switch k.Mode {
	case music.Major:
		return name
	case music.Minor:
		return name + "m"
	}
	if k.Fifths == 0 {
		return "none"
	}
	name += " exp"
	for s := music.C; s <= music.B; s++ {
		switch k.Alter(s) {
		case 1:
			name += " ^" + s.String()
		case -1:
			name += " _" + s.String()
		}
	}
	return name
}

// line writes one voice from left to right and sets bar lines on its way.
type line struct {
	strings.Builder
	pl      *plan
	at      music.Frac
	altered map[music.Step]bool // letters altered in this bar
	tied    bool                // a tie leads to the next note, which needs no accidental
}

func (pl *plan) newLine() *line {
	return &line{pl: pl, at: pl.upbeat.Neg(), altered: map[music.Step]bool{}}
}

// toBar returns the next bar line.
func (l *line) toBar() music.Frac {
	return music.Int(l.at.Div(l.pl.bar).Floor() + 1).Mul(l.pl.bar)
}

// add writes a note, or a rest for no pitch, tied over bar lines.
func (l *line) add(pitch *music.Pitch, length music.Frac, before, after string) {
	for length.Sign() > 0 {
		part := length.Min(l.toBar().Sub(l.at))
		length = length.Sub(part)
		l.WriteString(before)
		before = ""
		if pitch == nil {
			l.WriteString("z" + factor(part))
		} else {
			l.WriteString(l.name(*pitch) + factor(part))
			if length.Sign() > 0 {
				l.WriteByte('-')
			}
			l.tied = length.Sign() > 0
		}
		if length.IsZero() {
			l.WriteString(after)
			l.tied = after == "-"
		}
		l.at = l.at.Add(part)
		l.bar()
	}
}

// bar sets a bar line where one is due, but for the last.
func (l *line) bar() {
	if l.at.Mod(l.pl.bar).IsZero() && l.at.Less(l.pl.bar.Add(l.pl.bar)) {
		l.WriteString("|")
		l.altered = map[music.Step]bool{}
	}
}

func factor(d music.Frac) string {
	if d == music.Int(1) {
		return ""
	}
	return d.String()
}

// name writes a pitch. Its accidental is written where the key has another,
// and where the letter was altered before in the bar.
func (l *line) name(p music.Pitch) string {
	text := ""
	if l.tied {
		// The tie carries the alteration.
	} else if int(p.Alter) != l.pl.Key.Alter(p.Step) || l.altered[p.Step] {
		text = [5]string{"__", "_", "=", "^", "^^"}[p.Alter+2]
		l.altered[p.Step] = true
	}
	if p.Octave >= 5 {
		return text + strings.ToLower(p.Step.String()) + strings.Repeat("'", int(p.Octave)-5)
	}
	return text + p.Step.String() + strings.Repeat(",", 4-int(p.Octave))
}

// upper writes the voice of the note.
func (pl *plan) upper() string {
	l := pl.newLine()
	if pl.Before != nil {
		length := pl.neighbour()
		l.add(nil, pl.start.Sub(length).Sub(l.at), "", "")
		l.add(pl.Before, length, open(pl.SlurBefore), "")
	} else {
		l.add(nil, pl.start.Sub(l.at), "", "")
	}
	l.add(&pl.Note, pl.Value.Quarters(), open(pl.SlurAfter), closing(pl.SlurBefore, pl.Tied)+tie(pl.Tied))
	if pl.Tied.Type != score.Unspecified {
		l.add(&pl.Note, pl.Tied.Quarters(), "", closing(pl.SlurBefore, score.Value{}))
	}
	if pl.After != nil {
		l.add(pl.After, pl.afterEnd.Sub(l.at), "", closing(pl.SlurAfter, score.Value{}))
	}
	l.add(nil, pl.bar.Add(pl.bar).Sub(l.at), "", "")
	return l.String()
}

func open(slur bool) string {
	if slur {
		return "("
	}
	return ""
}

// closing ends a slur, on the last of tied notes.
func closing(slur bool, tied score.Value) string {
	if slur && tied.Type == score.Unspecified {
		return ")"
	}
	return ""
}

func tie(tied score.Value) string {
	if tied.Type != score.Unspecified {
		return "-"
	}
	return ""
}

// find returns the id of the note: what starts at its onset on the upper staff.
func (pl *plan) find(p *score.Passage) (score.ID, error) {
	onset := pl.upbeat.Add(pl.start)
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Staff == 1 && c.Onset == onset && !c.IsRest() && c.Grace == nil {
			return c.Notes[0].ID, nil
		}
	}
	return "", words.Errorf(nil, "the note is not in its passage")
}
