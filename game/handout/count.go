package handout

import (
	"fmt"
	"strconv"
	"strings"

	"agremens/game/engrave"
	"agremens/realize/music"
	"agremens/realize/score"
)

// syllable is what is said at a place within a beat: "1 e & a" for quarters of
// it, "1 la li" for thirds, "1 & a" where the beat is dotted (common practice,
// no source). Other places have none.
func syllable(in music.Frac, dotted bool) string {
	thirds := [2]string{"la", "li"}
	if dotted {
		thirds = [2]string{"&", "a"}
	}
	switch in {
	case music.F(1, 4):
		return "e"
	case music.F(1, 2):
		return "&"
	case music.F(3, 4):
		return "a"
	case music.F(1, 3):
		return thirds[0]
	case music.F(2, 3):
		return thirds[1]
	}
	return ""
}

// said is a syllable and where it is said, in quarters.
type said struct {
	at   music.Frac
	text string
}

// counting returns the numbers of all beats of a measure, and between them a
// syllable wherever a written note begins. An upbeat has the numbers of the
// end of its measure.
func counting(p *score.Passage, m int) []said {
	measure := &p.Measures[m]
	beat := measure.Metre.Beat()
	missing := music.Frac{}
	if full := measure.Metre.Bar(); measure.Implicit && measure.Length.Less(full) && m == 0 {
		missing = full.Sub(measure.Length)
	}
	begins := map[music.Frac]bool{}
	for i := range p.Chords {
		if c := &p.Chords[i]; c.Measure == m && c.Grace == nil && !c.IsRest() {
			begins[c.Onset.Sub(measure.Onset)] = true
		}
	}
	var all []said
	unit := beat.Mul(music.F(1, 12))
	for at := music.Int(0); at.Less(measure.Length); at = at.Add(unit) {
		place := at.Add(missing).Div(beat)
		in := place.Mod(music.Int(1))
		switch {
		case in.IsZero():
			all = append(all, said{measure.Onset.Add(at), strconv.FormatInt(place.Floor()+1, 10)})
		case begins[at]:
			if s := syllable(in, measure.Metre.Compound()); s != "" {
				all = append(all, said{measure.Onset.Add(at), s})
			}
		}
	}
	return all
}

// How far below a system the counting stands, and its size, in staff spaces.
const countBelow, countSize = 1.6, 1.7

// counted draws a layout with the counting of its measures under their
// systems. It makes room for it in the layout first.
func counted(l *engrave.Layout, p *score.Passage, title string) []byte {
	l.Bottom += countBelow
	picture := string(engrave.SVG(l, engrave.SVGOptions{Title: title}))
	end := strings.LastIndex(picture, "</svg>")
	if end < 0 {
		return []byte(picture)
	}
	var b strings.Builder
	b.WriteString(picture[:end])
	fmt.Fprintf(&b, `<g font-family="Georgia, serif" font-style="italic" font-size="%.1f" text-anchor="middle">`, countSize)
	from, to := 0, 0
	if n := len(l.Systems); n > 0 {
		from, to = l.Systems[0].From, l.Systems[n-1].To
	}
	for m := from; m < to; m++ {
		for _, s := range counting(p, m) {
			system, x := l.Place(s.at.Float())
			fmt.Fprintf(&b, `<text x="%.2f" y="%.2f">%s</text>`, x, l.Systems[system].Bottom+countBelow, strings.ReplaceAll(s.text, "&", "&amp;"))
		}
	}
	b.WriteString("</g></svg>")
	return []byte(b.String())
}
