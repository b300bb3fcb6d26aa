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

// SmallNotesPicture draws small notes before a note, each so many steps from it.
func SmallNotesPicture(steps []int, slash bool) *Layout {
	g := font.GraceNoteAppoggiaturaStemUp
	if slash {
		g = font.GraceNoteAcciaccaturaStemUp
	}
	const apart = 1.9
	var items []Item
	for i, step := range steps {
		items = append(items, Item{Glyph: g, X: apart * float64(i), Y: -float64(step) / 2, Scale: 1})
	}
	return small(append(items, Item{Glyph: font.NoteheadBlack, X: apart * float64(len(steps)), Scale: 1})...)
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
