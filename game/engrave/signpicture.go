package engrave

import (
	"agremens/assets/font"
	"agremens/realize/score"
)

// SignPicture draws a sign by itself, for a menu. It is empty for a sign that
// has no picture.
func SignPicture(s score.Sign) *Layout {
	g, ok := signGlyph(s)
	if !ok {
		return &Layout{}
	}
	if s.Kind == score.DelayedTurn || s.Kind == score.DelayedInvertedTurn {
		// After its note.
		return small(Item{Glyph: font.NoteheadBlack, Y: 1.6, Scale: 0.8}, Item{Glyph: g, X: 1.6, Scale: 1})
	}
	return small(Item{Glyph: g, Scale: 1})
}

// SmallNotePicture draws a small note before a note, so many steps from it.
func SmallNotePicture(steps int, slash bool) *Layout {
	g := font.GraceNoteAppoggiaturaStemUp
	if slash {
		g = font.GraceNoteAcciaccaturaStemUp
	}
	return small(Item{Glyph: g, Y: -float64(steps) / 2, Scale: 1}, Item{Glyph: font.NoteheadBlack, X: 1.9, Scale: 1})
}

// small makes a layout of glyphs.
func small(items ...Item) *Layout {
	l := &Layout{Items: items}
	box := items[0].Bounds()
	for i := range items {
		box = box.union(items[i].Bounds())
	}
	l.Left, l.Top, l.Right, l.Bottom = box.Left, box.Top, box.Right, box.Bottom
	return l
}
