package stage

import (
	"image/color"

	"agremens/game/engrave"
	"agremens/realize/score"
)

// Frame is what the staff shows at one moment.
type Frame struct {
	Layout *engrave.Layout
	// Scale is device pixels a staff space. See [Grid].
	Scale float64
	// ScrollX and ScrollY are the point of the layout, in staff spaces, that
	// stands at the stage's left and top edge.
	ScrollX, ScrollY float64
	// Pinned draws the layout's head at the left edge, over what passes there.
	Pinned bool
	// Line shows the fixed line, LineX device pixels from the left.
	Line  bool
	LineX float64
	// Pale are the parts of the layout, in staff spaces, that are dimmed: the
	// bars that are not practised.
	Pale []engrave.Box
	// Marks are drawn over the layout, in its coordinates.
	Marks []engrave.Item
	// Selected is the id of the chosen ornament, "" for none.
	Selected string
	// Note is the id of the chosen note where it is no ornament's, "" for none.
	Note score.ID
	// Sounding are the spots that sound now.
	Sounding []engrave.Spot
	Theme    Theme
	// Playing asks for the next frame as soon as the screen can show one.
	Playing bool
}

// Theme is the inks of the staff.
type Theme struct {
	Paper  color.NRGBA
	Ink    color.NRGBA
	Staff  color.NRGBA // staff and bar lines
	Played color.NRGBA // the line as played
	Mark   color.NRGBA // marks of a round
	Accent color.NRGBA // what sounds, what is chosen, the fixed line
	Tint   color.NRGBA // the ground of the chosen ornament
}

// ThemeFor returns the inks that go with the page's own (style.css).
func ThemeFor(dark, contrast bool) Theme {
	switch {
	case contrast && dark:
		return Theme{Paper: rgb(0x000000), Ink: rgb(0xffffff), Staff: rgb(0xffffff), Played: rgb(0xffffff),
			Mark: rgb(0xffb39f), Accent: rgb(0xffb39f), Tint: rgb(0x3a2620)}
	case contrast:
		return Theme{Paper: rgb(0xffffff), Ink: rgb(0x000000), Staff: rgb(0x000000), Played: rgb(0x000000),
			Mark: rgb(0x7a1200), Accent: rgb(0x7a1200), Tint: rgb(0xf3dcd7)}
	case dark:
		return Theme{Paper: rgb(0x1b1916), Ink: rgb(0xece5d6), Staff: rgb(0x9d9484), Played: rgb(0xc9c0af),
			Mark: rgb(0xf0947c), Accent: rgb(0xf0947c), Tint: rgb(0x35261f)}
	}
	return Theme{Paper: rgb(0xf8f4e9), Ink: rgb(0x23201b), Staff: rgb(0x6b6457), Played: rgb(0x4a443a),
		Mark: rgb(0x8c2a1b), Accent: rgb(0x8c2a1b), Tint: rgb(0xf0e2d2)}
}

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 0xff}
}

// Grid returns the nearest scale at which lines and spaces fall on whole
// device pixels, so that all five lines of a staff stand equally far apart
// and note heads sit on them exactly.
func Grid(scale float64) float64 {
	return max(4, 2*float64(int(scale/2+0.5)))
}
