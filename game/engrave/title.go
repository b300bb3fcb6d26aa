package engrave

import (
	"strconv"

	"agremens/assets/font"
	"agremens/realize/score"
)

// Sizes of what is above a page's first system, in staff spaces.
const (
	titleSize    = 5.5
	composerSize = 2.8
	titleGap     = 1.6 // from the composer's line to the music
)

// title prints title, composer and year above the first system.
func (l *Layout) title(p *score.Passage, width float64) {
	if len(l.Systems) == 0 {
		return
	}
	e := &engraver{p: p, layer: LayerInk}
	y := l.Top - titleGap
	by := p.Composer
	if p.Year != 0 {
		if by != "" {
			by += ", "
		}
		by += strconv.Itoa(p.Year)
	}
	top := y
	if by != "" {
		w := font.Width(font.Italic, by, composerSize)
		top = e.text(font.Italic, by, max(0, width-w), y, composerSize).Top
	}
	if p.Title != "" {
		size := titleSize
		if w := font.Width(font.Roman, p.Title, size); w > width {
			size *= width / w
		}
		w := font.Width(font.Roman, p.Title, size)
		top = e.text(font.Roman, p.Title, (width-w)/2, top-0.9, size).Top
	}
	l.Items = append(l.Items, e.out.items...)
	l.Top = min(l.Top, top)
}
