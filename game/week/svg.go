package week

import (
	"math"
	"strconv"
	"strings"

	"agremens/assets/font"
	"agremens/game/engrave"
	"agremens/realize/words"
)

// Size is how much of the picture is drawn.
type Size int8

// Sizes. A large picture names the days and the tempos of its lines and of the
// latest note; a small one is notes alone, for a row of a table.
const (
	Large Size = iota
	Small
)

// Lengths in staff spaces.
const (
	column   = 4.6
	left     = 5.2 // for the tempos of the lines
	side     = 0.8
	stem     = 3.0
	stemWide = 0.13
	lineWide = 0.11
	middle   = 2.0
	unit     = 10 // of the picture to a staff space
)

// Figures are in units of the picture.
const figure = 17

// SVG draws the week, "" where nothing was done and it is not one to fill in. Its parts have classes in
// place of colours: week-line, week-goal, week-note, week-now, week-rest,
// week-text. It holds no text of the user's, and says nothing to a screen
// reader: [Week.Text] is what its element should be called.
func (w Week) SVG(c *words.Catalogue, size Size) string {
	if w.Empty() && w.from == 0 {
		return ""
	}
	p := picture{week: w, scale: w.scale(), left: side, top: -2, bottom: 5}
	if size == Large {
		p.left, p.top, p.bottom = left, -3.2, 7.6
	}
	right := p.left + Length*column + side
	p.staff(right)
	for i, d := range w.Days {
		p.day(i, d)
	}
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="week" viewBox="`)
	for i, v := range []float64{0, p.top * unit, right * unit, (p.bottom - p.top) * unit} {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(number(v))
	}
	b.WriteString(`"><g transform="scale(` + strconv.Itoa(unit) + `)">`)
	for _, part := range []struct {
		class string
		items []engrave.Item
	}{{"week-line", p.lines}, {"week-goal", p.goal}, {"week-rest", p.rests}, {"week-note", p.notes}, {"week-now", p.now}} {
		for _, d := range engrave.Paths(&engrave.Layout{Items: part.items}) {
			b.WriteString(`<path class="` + part.class + `" d="` + d + `"/>`)
		}
	}
	b.WriteString("</g>")
	if size == Large {
		p.figures(&b, c)
	}
	b.WriteString("</svg>")
	return b.String()
}

// picture is the week as items, parted by their colours.
type picture struct {
	week                           Week
	scale                          scale
	left, top, bottom              float64
	lines, goal, rests, notes, now []engrave.Item
}

func (p *picture) x(i int) float64 { return p.left + (float64(i)+0.5)*column }

func line(x, y, x2, y2, wide float64) engrave.Item {
	return engrave.Item{Kind: engrave.KindLine, X: x, Y: y, X2: x2, Y2: y2, W: float32(wide)}
}

// staff draws the lines; the goal's is the top one, in dashes.
func (p *picture) staff(right float64) {
	for y := topLine + 1; y <= bottomLine; y++ {
		p.lines = append(p.lines, line(p.left, y, right-side, y, lineWide))
	}
	if p.week.Goal == 0 {
		p.lines = append(p.lines, line(p.left, topLine, right-side, topLine, lineWide))
		return
	}
	const dash, gap = 1.0, 0.6
	for x := p.left; x < right-side; x += dash + gap {
		p.goal = append(p.goal, line(x, topLine, min(x+dash, right-side), topLine, 2*lineWide))
	}
}

func (p *picture) day(i int, d Day) {
	ink := &p.notes
	if i == Length-1 {
		ink = &p.now
	}
	switch tempo := d.tempo(); {
	case tempo > 0:
		*ink = append(*ink, note(p.x(i), p.scale.y(tempo), d.Clean > 0)...)
	case d.Practised():
		*ink = append(*ink, centred(font.NoteheadWhole, p.x(i), bottomLine))
	case !d.Before && !(p.week.Open && i == Length-1):
		p.rests = append(p.rests, centred(font.RestQuarter, p.x(i), middle))
	}
}

// note is a quarter where the day was clean, else a half. Stems turn at the
// middle line, as is common practice.
func note(x, y float64, clean bool) []engrave.Item {
	g := font.NoteheadHalf
	if clean {
		g = font.NoteheadBlack
	}
	head := centred(g, x, y)
	box := head.Bounds()
	const inside = stemWide / 2
	if y > middle {
		return []engrave.Item{head, line(box.Right-inside, y-0.17, box.Right-inside, y-stem, stemWide)}
	}
	return []engrave.Item{head, line(box.Left+inside, y+0.17, box.Left+inside, y+stem, stemWide)}
}

// centred sets a glyph with its middle at x, its origin's height at y.
func centred(g font.Glyph, x, y float64) engrave.Item {
	box := font.Bounds(g)
	return engrave.Item{Kind: engrave.KindGlyph, Glyph: g, X: x - float64(box.Left+box.Right)/2, Y: y, Scale: 1}
}

// figures writes the names of the days and the tempos.
func (p *picture) figures(b *strings.Builder, c *words.Catalogue) {
	text := func(class string, x, y float64, s string) {
		b.WriteString(`<text class="week-text ` + class + `" x="` + number(x*unit) + `" y="` + number(y*unit) + `" font-size="` + strconv.Itoa(figure) + `">` + s + "</text>")
	}
	const base = 0.6 // from a figure's middle to its foot
	if p.week.Goal > 0 {
		text("week-goal week-end", p.left-0.8, topLine+base, beats(p.week.Goal))
	}
	text("week-end", p.left-0.8, bottomLine+base, beats(p.scale.low))
	latest := -1
	for i, d := range p.week.Days {
		if d.Clean > 0 {
			latest = i
		}
		class := "week-middle"
		if i == Length-1 && p.week.from == 0 {
			class += " week-now"
		}
		text(class, p.x(i), bottomLine+3.2, c.In("weekday", shortNames[p.week.weekday(i)]))
	}
	if latest < 0 {
		return
	}
	class := "week-middle"
	if latest == Length-1 {
		class += " week-now"
	}
	text(class, p.x(latest), topLine-1.4, beats(p.week.Days[latest].Clean)) // over all stems
}

// number writes a length to a hundredth.
func number(v float64) string { return strconv.FormatFloat(math.Round(100*v)/100, 'f', -1, 64) }
