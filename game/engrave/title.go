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
	titleGap     = 1.6  // from the composer's line to the music
	descent      = 0.25 // of letters below the baseline, in ems
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
		size, w := fit(font.Italic, by, composerSize, width)
		top = e.text(font.Italic, by, width-w, y, size).Top
	}
	if p.Title != "" {
		size, w := fit(font.Roman, p.Title, titleSize, width)
		top = e.text(font.Roman, p.Title, (width-w)/2, top-descent*size-0.4, size).Top
	}
	l.Items = append(l.Items, e.out.items...)
	l.Top = min(l.Top, top)
}

// fit returns the size at which a text keeps to a width, at most the one given,
// and how wide it is then.
func fit(style font.Style, text string, size, width float64) (fitting, w float64) {
	if w := font.Width(style, text, size); w > width {
		size *= width / w
	}
	return size, font.Width(style, text, size)
}
