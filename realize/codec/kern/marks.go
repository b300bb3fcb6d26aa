package kern

import (
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// markPlace is a mark with its place; a line has an end as well.
type markPlace struct {
	track      *track // nil: of the whole score
	measure    int
	onset      music.Frac
	mark       score.Mark
	ended      bool
	endMeasure int
	end        music.Frac
	label      string // what a hairpin without an end is called
}

func (r *reader) addMark(t *track, measure int, onset music.Frac, m score.Mark) *markPlace {
	p := &markPlace{track: t, measure: measure, onset: onset, mark: m}
	r.marks = append(r.marks, p)
	return p
}

// dynamicWords are the levels; anything else in a column of dynamics is named
// as left out.
const dynamicWords = " p pp ppp pppp ppppp pppppp f ff fff ffff fffff ffffff mp mf sf sfp sfpp fp rf rfz sfz sffz fz n pf sfzp ffp sff "

// dynamics reads a field of a column of dynamics: levels, and the beginnings
// ("<" and ">") and ends ("[" and "]") of hairpins.
func (r *reader) dynamics(c *column, text string) {
	onset, measure := r.now, r.current()
	side := c.hintOf("DY")
	for _, part := range strings.Fields(text) {
		if strings.HasSuffix(part, "yy") {
			continue // invisible
		}
		part = strings.Trim(part, "Xxy.")
		// "f>" is a level and a hairpin.
		for part != "" {
			k := strings.IndexAny(part, "<>[]()")
			word := part
			if k == 0 {
				k = 1
				for k < len(part) && part[k] == part[0] {
					k++
				}
				r.hairpin(c, part[0], measure, onset)
				part = part[k:]
				continue
			}
			if k > 0 {
				word, part = part[:k], part[k:]
			} else {
				part = ""
			}
			switch {
			case strings.Contains(dynamicWords, " "+word+" "):
				if said, shown := side["t"]; shown && !strings.Contains(said, "%s") {
					r.addMark(c.track, measure, onset, score.Mark{Kind: score.Words, Text: plain(said)})
				} else {
					r.addMark(c.track, measure, onset, score.Mark{Kind: score.Dynamics, Text: word})
					if rest := plain(strings.ReplaceAll(said, "%s", "")); rest != "" {
						r.addMark(c.track, measure, onset, score.Mark{Kind: score.Words, Text: rest})
					}
				}
			case word == "r": // nothing is said here
			default:
				r.left.Add("dynamics")
				r.warn(-1, "“{text}” is not a dynamic that is known here; it was left out", "{text}", clip(word))
			}
		}
	}
	c.hints = nil
}

// hairpin opens or closes a hairpin.
func (r *reader) hairpin(c *column, sign byte, measure int, onset music.Frac) {
	open := r.wedges[c.track]
	kind, label := "crescendo", "cresc."
	if sign == '>' || sign == ']' {
		kind, label = "diminuendo", "dim."
	}
	switch sign {
	case '<', '>':
		hint := c.hintOf("HP")
		if said := plain(strings.ReplaceAll(hint["t"], "%s", label)); said != "" {
			label = said
		}
		p := r.addMark(c.track, measure, onset, score.Mark{Kind: score.Wedge, Text: kind})
		_, p.mark.Above = hint["a"]
		p.label = label
		r.wedges[c.track] = p
	case '[', ']':
		if open != nil && open.mark.Text == kind {
			open.ended, open.endMeasure, open.end = true, measure, onset
			delete(r.wedges, c.track)
		}
	}
}

// hintOf returns what the hints of a kind that wait for a column say.
func (c *column) hintOf(kind string) map[string]string {
	for _, h := range c.hints {
		if h.kind == kind {
			return h.keys
		}
	}
	return nil
}

// pedal reads the pedal; the columns of a staff say it once.
func (r *reader) pedal(c *column, down bool) {
	kind := "stop"
	if down {
		kind = "start"
	}
	t := c.track
	r.onset(func(measure int, onset music.Frac) {
		r.addMark(t, measure, onset, score.Mark{Kind: score.Pedal, Text: kind})
	})
}

// octaveLine reads *8va, *8ba, *15ma and their ends (*X8va). Pitches are
// already those that sound.
func (r *reader) octaveLine(i int, c *column, text string) {
	t := c.track
	name, ends := strings.CutPrefix(text, "X")
	size := map[string]int{"8va": 8, "8ba": -8, "8vba": -8, "15ma": 15, "15mba": -15, "15ba": -15}[name]
	if size == 0 {
		return
	}
	r.onset(func(measure int, onset music.Frac) {
		switch {
		case ends && t.shift != nil:
			t.shift.ended, t.shift.endMeasure, t.shift.end = true, measure, onset
			t.shift = nil
		case !ends && t.shift == nil:
			t.shift = r.addMark(t, measure, onset, score.Mark{Kind: score.OctaveShift, Size: size, Above: size > 0})
		}
	})
}
