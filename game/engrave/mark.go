package engrave

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"agremens/assets/font"
	"agremens/realize/music"
	"agremens/realize/score"
)

func dynamicGlyphs(text string) []font.Glyph {
	switch text {
	case "pp":
		return []font.Glyph{font.DynamicPP}
	case "ppp":
		return []font.Glyph{font.DynamicPPP}
	case "mp":
		return []font.Glyph{font.DynamicMP}
	case "mf":
		return []font.Glyph{font.DynamicMF}
	case "ff":
		return []font.Glyph{font.DynamicFF}
	case "fff":
		return []font.Glyph{font.DynamicFFF}
	case "fp":
		return []font.Glyph{font.DynamicFortePiano}
	case "fz":
		return []font.Glyph{font.DynamicForzando}
	case "sf":
		return []font.Glyph{font.DynamicSforzando1}
	case "sfp":
		return []font.Glyph{font.DynamicSforzandoPiano}
	case "sfz":
		return []font.Glyph{font.DynamicSforzato}
	}
	var gs []font.Glyph
	for _, r := range text {
		i := strings.IndexRune("pmfszrn", r)
		if i < 0 {
			return nil
		}
		gs = append(gs, [7]font.Glyph{font.DynamicPiano, font.DynamicMezzo, font.DynamicForte, font.DynamicSforzando,
			font.DynamicZ, font.DynamicRinforzando, font.DynamicNiente}[i])
	}
	return gs
}

// drawMarks draws dynamics, wedges, octave lines, pedal, words and tempo
// between two onsets.
func (e *engraver) drawMarks(from, to music.Frac, right float64) {
	inside := func(t music.Frac) bool { return t.Cmp(from) >= 0 && t.Less(to) }
	pass := func(kind score.MarkKind, draw func(score.Mark)) {
		for _, m := range e.p.Marks {
			if m.Kind == kind && (inside(m.Onset) || m.Onset.Less(from) && from.Less(m.End)) {
				m.Staff = min(max(m.Staff, 1), len(e.staves))
				draw(m)
			}
		}
	}
	span := func(m score.Mark) (x0, x1 float64) {
		x0, x1 = e.x(m.Onset.Max(from).Float()), right
		if m.End.Cmp(to) <= 0 {
			x1 = e.x(m.End.Float())
		}
		return x0 - blackHead()/2, x1 - blackHead()/2 - 0.3
	}
	pass(score.OctaveShift, func(m score.Mark) { x0, x1 := span(m); e.drawOttava(m, x0, x1) })
	e.findDashes(from, to, span)
	pass(score.Dynamics, func(m score.Mark) { e.drawDynamic(m, right) })
	var pair *swell
	pass(score.Wedge, func(m score.Mark) {
		x0, x1 := span(m)
		pair = e.drawWedge(m, x0, x1, pair, func(n score.Mark) bool { return n.Onset == m.End && n.Onset.Less(to) })
	})
	pass(score.Words, func(m score.Mark) { e.drawWords(m, right) })
	e.drawDashes()
	pass(score.Rehearsal, func(m score.Mark) {
		if inside(m.Onset) {
			e.drawRehearsal(m, right)
		}
	})
	pass(score.Pedal, e.drawPedal)
	pass(score.FiguredBass, e.drawFigures)
	for _, t := range e.p.Tempos {
		if inside(t.Onset) {
			e.drawTempo(t, right)
		}
	}
}

// beside returns the baseline of something with the given reach above and
// below it, outside a staff and clear of what is drawn there.
func (e *engraver) beside(s int, above bool, x0, x1, up, down, gap float64) float64 {
	if above {
		return min(e.staves[s].y-3, e.above(s, x0, x1)-gap-down)
	}
	return max(e.staves[s].y+3, e.below(s, x0, x1)+gap+up)
}

// besideAcross is beside for something w wide at x, which moves aside from stems
// and beams that cross from staff to staff. It returns its x and baseline; end
// is how far right what follows it reaches.
func (e *engraver) besideAcross(s int, above bool, x, w, end, up, down, gap float64) (float64, float64) {
	const most, pad = 4.5, 0.3
	y := e.beside(s, above, x, max(x+w, end), up, down, gap)
	hit := func(x, y float64) *Box {
		box := Box{x, y - up, x + w, y + down}
		for i := range e.crossing {
			if e.crossing[i].Overlaps(box) {
				return &e.crossing[i]
			}
		}
		return nil
	}
	first := hit(x, y)
	if first == nil {
		return x, y
	}
	best, bestY := x, y
	for _, step := range [2]func(b *Box) float64{
		func(b *Box) float64 { return b.Left - w - pad },
		func(b *Box) float64 { return b.Right + pad },
	} {
		at, atY, b := x, y, first
		for b != nil && math.Abs(at-x) <= most {
			at = step(b)
			atY = e.beside(s, above, at, max(at+w, end), up, down, gap)
			b = hit(at, atY)
		}
		if b == nil && math.Abs(at-x) <= most && (best == x || math.Abs(at-x) < math.Abs(best-x)) {
			best, bestY = at, atY
		}
	}
	return best, bestY
}

// drawDynamic sets letters like p and sf in the music font and whatever words
// stand with them in italics.
func (e *engraver) drawDynamic(m score.Mark, right float64) {
	s := m.Staff - 1
	words := strings.Fields(m.Text)
	if len(words) == 0 {
		return
	}
	first := dynamicGlyphs(words[0])
	w, up, down := 0.0, 1.2, 0.4
	for i, word := range words {
		if i > 0 {
			w += 0.6
		}
		gs := dynamicGlyphs(word)
		if gs == nil {
			w += font.Width(font.Italic, word, wordSize)
		}
		w += advance(gs)
		for _, g := range gs {
			b := font.Bounds(g)
			up, down = max(up, float64(-b.Top)), max(down, float64(b.Bottom))
		}
	}
	x := e.x(m.Onset.Float()) - advance(first)/2
	if len(words) > 1 || first == nil { // words keep to the system
		x = max(min(x, right-w), min(x, e.cols[0].x))
	}
	d := e.dashesOf(m)
	x, y := e.besideAcross(s, m.Above, x-0.2, w+0.4, d.end(), up, down, 0.3)
	x += 0.2
	d.follow(x+w, y)
	for _, word := range words {
		gs := dynamicGlyphs(word)
		if gs == nil {
			e.cover(s, e.text(font.Italic, word, x, y, wordSize))
			x += font.Width(font.Italic, word, wordSize)
		}
		for _, g := range gs {
			e.onStaff(s, g, x, y, 1, "")
			x += font.Advance(g)
		}
		x += 0.6
	}
}

// swell is a hairpin and the height at which one that goes on from it stands.
type swell struct {
	mark score.Mark
	y    float64
}

// drawWedge draws a hairpin: at the height of the one before where it goes on
// from there, else clear of what is under it and under the one that follows.
func (e *engraver) drawWedge(m score.Mark, x0, x1 float64, before *swell, follows func(score.Mark) bool) *swell {
	s := m.Staff - 1
	const open = 0.55
	// Between the dynamics at its ends, not under them.
	for _, d := range e.p.Marks {
		if d.Kind != score.Dynamics || d.Staff != m.Staff {
			continue
		}
		gs := dynamicGlyphs(d.Text)
		if len(gs) == 0 {
			continue
		}
		// Some letters reach beyond their advance.
		first, last := font.Bounds(gs[0]), font.Bounds(gs[len(gs)-1])
		w, gap := advance(gs)/2, 0.4
		if d.Onset == m.Onset {
			x0 = max(x0, e.x(d.Onset.Float())+w-font.Advance(gs[len(gs)-1])+float64(last.Right)+gap)
		}
		if d.Onset == m.End {
			x1 = min(x1, e.x(d.Onset.Float())-w+float64(first.Left)-gap)
		}
	}
	if x1-x0 < 1 {
		x1 = x0 + 1
	}
	y := 0.0
	if before != nil && before.mark.End == m.Onset && before.mark.Staff == m.Staff && before.mark.Above == m.Above {
		y = before.y
	} else {
		end := x1
		for _, n := range e.p.Marks {
			if n.Kind == score.Wedge && n.Staff == m.Staff && n.Above == m.Above && follows(n) {
				end = max(end, e.x(n.End.Float()))
			}
		}
		y = e.beside(s, m.Above, x0, end, open, open, 0.4)
	}
	l, r := open, 0.0
	if m.Text == "crescendo" {
		l, r = 0, open
	}
	w := font.Defaults.HairpinThickness
	e.line(x0, y-l, x1, y-r, w)
	e.line(x0, y+l, x1, y+r, w)
	e.cover(s, Box{x0, y - open, x1, y + open})
	return &swell{m, y}
}

func (e *engraver) drawOttava(m score.Mark, x0, x1 float64) {
	s := m.Staff - 1
	above := m.Size > 0
	g := font.Ottava
	switch {
	case m.Size >= 15:
		g = font.QuindicesimaAlta
	case m.Size > 0:
		g = font.OttavaAlta
	case m.Size <= -15:
		g = font.QuindicesimaBassaMb
	default:
		g = font.OttavaBassaVb
	}
	b := font.Bounds(g)
	x1 = max(x1, x0+float64(b.Right)+1)
	y := e.beside(s, above, x0, x1, float64(-b.Top), float64(b.Bottom), 0.5)
	e.onStaff(s, g, x0, y, 1, "")
	w := font.Defaults.OctaveLineThickness
	lineY := y + float64(b.Top)*0.9
	hook := 1.0
	if !above {
		lineY = y
		hook = -1
	}
	for x := x0 + float64(b.Right) + 0.3; x < x1; x += 0.9 {
		e.line(x, lineY, min(x+0.5, x1), lineY, w)
	}
	e.line(x1, lineY-hook*w/2, x1, lineY+hook, w)
	e.cover(s, Box{x0, y + float64(b.Top), x1, y + float64(b.Bottom)})
}

const wordSize = 2.3

func (e *engraver) drawWords(m score.Mark, right float64) {
	s := m.Staff - 1
	if finger(m.Text) {
		e.drawFingerWord(m)
		return
	}
	x := e.x(m.Onset.Float()) - blackHead()/2
	w := font.Width(font.Italic, m.Text, wordSize)
	x = max(min(x, right-w), min(x, e.cols[0].x))
	d := e.dashesOf(m)
	x, y := e.besideAcross(s, m.Above, x, w, d.end(), wordSize*0.65, wordSize*0.2, 0.4)
	d.follow(x+w, y)
	e.cover(s, e.text(font.Italic, m.Text, x, y, wordSize))
}

// drawRehearsal prints a rehearsal letter or number in a frame above the upper
// staff. Longer ones are headings ("Var. II"), and stand without.
func (e *engraver) drawRehearsal(m score.Mark, right float64) {
	const size, pad = 2.9, 0.4
	w := font.Width(font.Roman, m.Text, size)
	x := e.x(m.Onset.Float()) - blackHead()/2
	x = max(min(x, right-w-pad), min(x, e.cols[0].x))
	y := e.beside(0, true, x-pad, x+w+pad, size*0.7, size*0.22+pad, 0.5)
	b := e.text(font.Roman, m.Text, x, y, size)
	if utf8.RuneCountInString(m.Text) <= 3 {
		b = Box{b.Left - pad, y - size*0.65 - pad, b.Right + pad, y + pad}
		t := font.Defaults.TextEnclosureThickness
		e.line(b.Left-t/2, b.Top, b.Right+t/2, b.Top, t)
		e.line(b.Left-t/2, b.Bottom, b.Right+t/2, b.Bottom, t)
		e.line(b.Left, b.Top, b.Left, b.Bottom, t)
		e.line(b.Right, b.Top, b.Right, b.Bottom, t)
	}
	e.cover(0, b)
}

func (e *engraver) drawPedal(m score.Mark) {
	s := len(e.staves) - 1
	g := font.KeyboardPedalPed
	if m.Text == "stop" {
		g = font.KeyboardPedalUp
	} else if m.Text != "start" && m.Text != "change" {
		return
	}
	x := e.x(m.Onset.Float()) - blackHead()/2
	b := font.Bounds(g)
	y := e.beside(s, false, x, x+float64(b.Right), float64(-b.Top), float64(b.Bottom), 0.5)
	e.onStaff(s, g, x, y, 1, "")
}

var metNotes = [...]font.Glyph{score.Breve: font.MetNoteDoubleWhole, score.Whole: font.MetNoteWhole, score.Half: font.MetNoteHalfUp,
	score.Quarter: font.MetNoteQuarterUp, score.Eighth: font.MetNote8thUp, score.N16th: font.MetNote16thUp, score.N32nd: font.MetNote32ndUp}

func (e *engraver) drawTempo(t score.Tempo, right float64) {
	text := strings.TrimSpace(t.Text)
	beat := t.PerMinute > 0 && int(t.Beat.Type) < len(metNotes) && metNotes[t.Beat.Type] != 0
	if text == "" && !beat {
		return
	}
	const size = 2.7
	x := e.x(t.Onset.Float()) - blackHead()/2
	equals := " = " + strconv.FormatFloat(t.PerMinute, 'f', -1, 64)
	w := font.Width(font.Roman, text, size)
	if beat {
		w += font.Advance(metNotes[t.Beat.Type])*0.75 + float64(t.Beat.Dots)*0.6 + font.Width(font.Roman, " "+equals, size)
	}
	x = max(min(x, right-w), min(x, e.cols[0].x))
	y := e.beside(0, true, x, x+w, size*0.7, size*0.22, 0.6)
	if text != "" {
		e.cover(0, e.text(font.Roman, text, x, y, size))
		x += font.Width(font.Roman, text+" ", size)
	}
	if !beat {
		return
	}
	g := metNotes[t.Beat.Type]
	e.onStaff(0, g, x, y, 0.75, "")
	x += font.Advance(g) * 0.75
	for range t.Beat.Dots {
		e.onStaff(0, font.MetAugmentationDot, x+0.1, y, 0.75, "")
		x += 0.6
	}
	e.cover(0, e.text(font.Roman, equals, x, y, size*0.85))
}

// drawNumbers prints the bar numbers over the bar lines of a run, or over the
// clef of a page's system.
func (e *engraver) drawNumbers(page bool) {
	for i := range e.cols {
		k := &e.cols[i]
		if k.measure < 0 || k.measure == 0 || page && i > 0 {
			continue
		}
		m := &e.p.Measures[k.measure]
		if m.Implicit || m.Number == "" || m.Number == "0" {
			continue
		}
		const size = 1.75
		w := font.Width(font.Italic, m.Number, size)
		x := 0.2
		if !page {
			x = k.x - k.notes - barToHead/2 - w
		}
		y := min(e.staves[0].y-2.5, e.above(0, x-0.1, x+w+0.1)-0.35)
		e.cover(0, e.text(font.Italic, m.Number, x, y, size))
	}
}

// volta is a bracket over one ending.
type volta struct {
	x0, x1          float64
	text            string
	opening, closed bool
}

// drawVoltas draws the brackets of first and second endings over measures
// lo to hi, all at one height.
func (e *engraver) drawVoltas(lo, hi int, right float64) {
	var list []volta
	y := e.staves[0].y - 4.5
	for m := lo; m < hi; m++ {
		now := &e.p.Measures[m]
		if len(now.Endings) == 0 || m > lo && sameEnding(&e.p.Measures[m-1], now) {
			continue
		}
		last := m
		for last+1 < hi && sameEnding(&e.p.Measures[last], &e.p.Measures[last+1]) {
			last++
		}
		k := e.colAt(now.Onset)
		v := volta{x0: k.x - k.notes - barPad, x1: right, opening: m == 0 || !sameEnding(&e.p.Measures[m-1], now),
			closed: e.p.Measures[last].EndingStop && !e.p.Measures[last].EndingOpen}
		if end := e.colAt(e.p.Measures[last].End()); last+1 < hi {
			v.x1 = end.x - end.notes - barPad - 0.3
		} else if end.ends {
			v.x1 = end.x - 0.3
		}
		var names []string
		for _, n := range now.Endings {
			names = append(names, strconv.Itoa(n)+".")
		}
		v.text = strings.Join(names, " ")
		y = min(y, e.above(0, v.x0, v.x1)-2.2)
		list = append(list, v)
	}
	w := font.Defaults.RepeatEndingLineThickness
	for _, v := range list {
		e.line(v.x0, y, v.x1, y, w)
		if v.opening {
			e.line(v.x0, y, v.x0, y+1.9, w)
		}
		if v.closed {
			e.line(v.x1, y, v.x1, y+1.9, w)
		}
		e.text(font.Roman, v.text, v.x0+0.4, y+1.7, 2)
		e.cover(0, Box{v.x0, y, v.x1, y + 0.1})
	}
}

func sameEnding(a, b *score.Measure) bool {
	if a.EndingStop || len(a.Endings) != len(b.Endings) {
		return false
	}
	for i := range a.Endings {
		if a.Endings[i] != b.Endings[i] {
			return false
		}
	}
	return true
}
