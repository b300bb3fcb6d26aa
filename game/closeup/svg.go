package closeup

import (
	"math"
	"strconv"
	"strings"

	"agremens/assets/font"
	"agremens/game/engrave"
	"agremens/realize/words"
)

// The picture, in its own units; it is shown about as many pixels wide.
const (
	width   = 390.0
	height  = 236.0
	margin  = 46.0
	heads   = 72.0  // the principal's height
	step    = 6.0   // a scale step
	beam    = 26.0  // its upper edge
	upright = 104.0 // its upper end
	lane    = 146.0 // the dots' line
	foot    = 186.0 // the uprights' lower end
	near    = 206.0 // the words of the first note and the landing
	far     = 228.0 // the word of the note between
	dot     = 8.5
	letters = 17

	rowHeight = 58 // of an earlier day's taps under today's
)

// SVG draws the figure: notes above, the dots of the taps on a line beneath,
// left of its upright early, right of it late. Places are evenly apart, and a
// dot's distance is to the scale of the quick notes. Its parts have classes in
// place of colours: close-note, close-line, close-upright, close-dot,
// close-off, close-ring, close-word, close-last. [Figure.Text] says the same.
func (f Figure) SVG(c *words.Catalogue) string {
	if len(f.Notes) < 2 {
		return ""
	}
	p := drawing{figure: f, gap: (width - 2*margin) / float64(len(f.Notes)-1)}
	p.scale = p.gap / f.quick()
	tall := height
	if f.Before != nil {
		tall += rowHeight
	}
	p.b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="close" viewBox="0 0 ` + number(width) + " " + number(tall) + `">`)
	if f.Who != "" {
		p.text("close-word close-first", 8, 17, f.Who)
	}
	p.notes()
	p.line("close-line", margin/2, lane, width-margin/2, lane)
	for i := range f.Notes {
		p.line("close-upright", p.x(i), upright, p.x(i), foot)
	}
	for i, n := range f.Notes {
		p.tap(i, n)
	}
	for i, n := range f.Notes {
		p.word(i, n, c)
	}
	if f.Before != nil {
		p.before(c)
	}
	p.b.WriteString("</svg>")
	return p.b.String()
}

// before draws the taps of an earlier day, pale, under today's.
func (p *drawing) before(c *words.Catalogue) {
	y := height + 16
	p.line("close-line", margin/2, y, width-margin/2, y)
	for i, off := range p.figure.Before.Offs {
		p.line("close-upright", p.x(i), y-12, p.x(i), y+12)
		if !math.IsNaN(off) {
			p.circle("close-pale", p.place(i, off), y)
		}
	}
	p.text("close-word", width/2, y+31, p.figure.Before.label(c))
}

// place is where the dot of a tap stands that was so many ms late.
func (p *drawing) place(i int, off float64) float64 {
	x := p.x(i) + min(max(off*p.scale, -0.8*p.gap), 0.8*p.gap)
	return min(max(x, dot), width-dot)
}

func (p *drawing) circle(class string, x, y float64) {
	p.b.WriteString(`<circle class="` + class + `" cx="` + number(x) + `" cy="` + number(y) + `" r="` + number(min(dot, max(4, p.gap/3))) + `"/>`)
}

func (p *drawing) text(class string, x, y float64, text string) {
	p.b.WriteString(`<text class="` + class + `" x="` + number(x) + `" y="` + number(y) + `" font-size="` + strconv.Itoa(letters) + `">` + text + "</text>")
}

// quick is how long a place of the picture stands for, ms: the usual distance
// of the quick notes, within limits at which a dot's distance can be seen.
func (f Figure) quick() float64 {
	least := math.Inf(1)
	for i := 1; i < len(f.Notes); i++ {
		if d := f.Notes[i].Wanted - f.Notes[i-1].Wanted; d > 0 {
			least = min(least, d)
		}
	}
	return min(max(least, 120), 260)
}

type drawing struct {
	figure Figure
	gap    float64 // between places
	scale  float64 // units a millisecond
	b      strings.Builder
}

func (p *drawing) x(i int) float64 { return margin + float64(i)*p.gap }

// notes draws heads with stems under one beam; the note it lands on stands by
// itself.
func (p *drawing) notes() {
	scale := min(13, max(7, p.gap/2))
	box := font.Bounds(font.NoteheadBlack)
	wide := float64(box.Right-box.Left) * scale
	var items []engrave.Item
	stemX := func(i int) float64 { return p.x(i) + wide/2 - 1 }
	last := 0
	for i, n := range p.figure.Notes {
		y := heads - float64(n.Degree)*step
		items = append(items, engrave.Item{Kind: engrave.KindGlyph, Glyph: font.NoteheadBlack, X: p.x(i) - wide/2, Y: y, Scale: float32(scale)},
			engrave.Item{Kind: engrave.KindLine, X: stemX(i), Y: y - 2, X2: stemX(i), Y2: beam, W: 2})
		if !n.Landing {
			last = i
		}
	}
	if last > 0 && p.figure.Ornament != "" {
		items = append(items, engrave.Item{Kind: engrave.KindBeam, X: stemX(0) - 1, Y: beam, X2: stemX(last) + 1, Y2: beam, W: 7})
	}
	for _, d := range engrave.Paths(&engrave.Layout{Items: items}) {
		p.b.WriteString(`<path class="close-note" d="` + d + `"/>`)
	}
}

func (p *drawing) line(class string, x, y, x2, y2 float64) {
	p.b.WriteString(`<path class="` + class + `" d="M` + number(x) + " " + number(y) + "L" + number(x2) + " " + number(y2) + `"/>`)
}

// tap draws a note's dot, and a bar from its upright where it has a word that
// says early or late; an empty ring where nothing was tapped.
func (p *drawing) tap(i int, n Note) {
	if !n.Tapped {
		p.circle("close-ring", p.x(i), lane)
		return
	}
	x := p.place(i, n.Off)
	if n.Verdict == Early || n.Verdict == Late {
		p.line("close-off", p.x(i), lane, x, lane)
		p.circle("close-dot close-out", x, lane)
		return
	}
	p.circle("close-dot", x, lane)
}

// word writes a note's word under its upright: the first note's and the
// landing's in one row, that of a note between in another, so that none
// covers another.
func (p *drawing) word(i int, n Note, c *words.Catalogue) {
	word := n.Word(c)
	first, last := i == 0, i == len(p.figure.Notes)-1
	if inside := p.figure.missed(); word == "" || !first && !last && inside > 0 && (inside > 1 || n.Verdict != Missed) {
		return // two words side by side would meet
	}
	x, y, class := p.x(i), far, "close-word"
	switch {
	case first:
		x, y, class = x-margin+8, near, class+" close-first"
	case last:
		x, y, class = x+margin-8, near, class+" close-last"
	}
	if n.Verdict == Early || n.Verdict == Late || n.Verdict == Missed {
		class += " close-out"
	}
	p.text(class, x, y, word)
}

// missed is how many notes between the first and the last were not tapped.
func (f Figure) missed() (n int) {
	for _, note := range f.Notes[1 : len(f.Notes)-1] {
		if note.Verdict == Missed {
			n++
		}
	}
	return n
}

func number(v float64) string { return strconv.FormatFloat(math.Round(10*v)/10, 'f', -1, 64) }
