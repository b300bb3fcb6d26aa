package engrave

import (
	"strings"

	"agremens/assets/font"
	"agremens/realize/score"
)

var figureDigits = [10]font.Glyph{font.Figbass0, font.Figbass1, font.Figbass2, font.Figbass3, font.Figbass4,
	font.Figbass5, font.Figbass6, font.Figbass7, font.Figbass8, font.Figbass9}

// Sizes of figured bass in staff spaces.
const (
	figureScale = 1.15
	figureStep  = 2.0 // from figure to figure
	figureGap   = 0.12
)

// drawFigures sets figured bass under its staff: "6 4+" from top to bottom.
func (e *engraver) drawFigures(m score.Mark) {
	s := m.Staff - 1
	rows := strings.Fields(m.Text)
	if len(rows) == 0 {
		return
	}
	w := 0.0
	for _, row := range rows {
		w = max(w, e.figure(row, 0, 0, false))
	}
	x := e.x(m.Onset.Float()) - blackHead()/2
	up := 1.4 * figureScale
	y := e.beside(s, false, x, x+w, up, float64(len(rows)-1)*figureStep, 0.5)
	for i, row := range rows {
		e.figure(row, x, y+float64(i)*figureStep, true)
	}
	e.cover(s, Box{x, y - up, x + w, y + float64(len(rows)-1)*figureStep + 0.3})
}

// figure sets one figure with what comes before or after it on a baseline and
// returns its width; with draw false it only measures.
func (e *engraver) figure(row string, x, y float64, draw bool) float64 {
	from := x
	for _, r := range row {
		var g font.Glyph
		switch {
		case r >= '0' && r <= '9':
			g = figureDigits[r-'0']
		case r == '#':
			g = font.FigbassSharp
		case r == 'b':
			g = font.FigbassFlat
		case r == 'n':
			g = font.FigbassNatural
		case r == '/' && x > from:
			// A stroke through the figure before it.
			if draw {
				e.line(x-1.15*figureScale, y-0.35*figureScale, x-0.1, y-0.95*figureScale, 0.13)
			}
			continue
		case r == '+':
			if draw {
				mid, arm := y-0.65*figureScale, 0.4*figureScale
				e.line(x, mid, x+2*arm, mid, 0.13)
				e.line(x+arm, mid-arm, x+arm, mid+arm, 0.13)
			}
			x += 0.8*figureScale + figureGap
			continue
		default:
			continue
		}
		b := font.Bounds(g)
		if draw {
			// Sharps and flats hang from their middle: bring their foot to the baseline.
			e.glyph(g, x-float64(b.Left)*figureScale, y-float64(b.Bottom)*figureScale, figureScale, "")
		}
		x += float64(b.Right-b.Left)*figureScale + figureGap
	}
	return x - from
}
