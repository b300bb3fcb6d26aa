package engrave

import (
	"agremens/assets/font"
)

// drawJumps prints segno and coda over the start of their measure, and da
// capo, dal segno and fine at its end.
func (e *engraver) drawJumps(right float64) {
	for i := range e.cols {
		k := &e.cols[i]
		if k.measure < 0 {
			continue
		}
		m := &e.p.Measures[k.measure]
		for _, jump := range m.Jumps {
			switch jump {
			case "segno", "coda":
				g := font.Segno
				if jump == "coda" {
					g = font.Coda
				}
				x := k.x - k.notes
				e.onStaff(0, g, x, e.clearOf(0, g, x, e.staves[0].y-3, 0.85, 1, 0.5), 0.85, "")
				continue
			}
			text := map[string]string{"dacapo": "D.C.", "dalsegno": "D.S.", "tocoda": "To Coda", "fine": "Fine"}[jump]
			if text == "" {
				continue
			}
			end := e.colAt(m.End())
			x := min(end.x-end.notes-end.block+barPad, right) - font.Width(font.Italic, text, wordSize)
			w := font.Width(font.Italic, text, wordSize)
			y := e.beside(0, true, x, x+w, wordSize*0.65, wordSize*0.2, 0.4)
			e.cover(0, e.text(font.Italic, text, x, y, wordSize))
		}
	}
}
