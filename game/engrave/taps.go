package engrave

import (
	"math"

	"agremens/assets/font"
	"agremens/realize/score"
)

// Tap is one mark of a round, in quarters from the start of the passage.
type Tap struct {
	// Note and, for a note of an ornament, Ornament and Index say what was
	// wanted; Note "" is an extra tap.
	Note     score.ID
	Ornament string
	Index    int
	Wanted   float64 // when it was wanted
	At       float64 // when it was tapped
	Missed   bool
	Staff    int // of the hand, for extra taps; 1 is the upper
}

// Sizes of marks in staff spaces.
const (
	markDrop  = 0.75 // from the note's box to the mark's middle
	markRise  = 0.55 // half the height of the line where the tap was wanted
	markLine  = 0.13
	markCross = 0.42
)

// MarkItems draws the taps of a round beside their notes. A thin upright
// stands where the tap was wanted, a dot where it fell, to scale: left is
// early, right is late, and a bar joins the two. A missed note has an empty
// ring, an extra tap a cross. Each is told by its shape; colour is the
// drawer's.
func (l *Layout) MarkItems(taps []Tap) []Item {
	spots := map[tapKey]int{}
	for i, s := range l.Spots {
		k := tapKey{s.Note, s.Ornament, s.Index}
		if s.Index < 0 {
			k.ornament = ""
		}
		if _, seen := spots[k]; !seen {
			spots[k] = i
		}
	}
	var items []Item
	for _, t := range taps {
		if t.Note == "" {
			items = append(items, l.cross(t)...)
			continue
		}
		x, y, ok := l.markPlace(spots, t)
		if !ok {
			continue
		}
		items = append(items, l.mark(t, x, y)...)
	}
	return items
}

type tapKey struct {
	note     score.ID
	ornament string
	index    int
}

// markPlace finds where the mark of a wanted note stands: over a note of the
// line as played, under a printed one.
func (l *Layout) markPlace(spots map[tapKey]int, t Tap) (x, y float64, ok bool) {
	x = l.X(t.Wanted)
	if t.Ornament != "" {
		if i, found := spots[tapKey{t.Note, t.Ornament, t.Index}]; found {
			s := l.Spots[i]
			return x, l.lane(s, true), true
		}
	}
	i, found := spots[tapKey{t.Note, "", -1}]
	if !found {
		return 0, 0, false
	}
	return x, l.lane(l.Spots[i], false), true
}

// lane is the height of a mark: one level beside each staff, moved outward by
// notes that reach beyond it.
func (l *Layout) lane(s Spot, played bool) float64 {
	sys := &l.Systems[s.System]
	y := (s.Box.Top + s.Box.Bottom) / 2
	if played {
		for _, p := range sys.PlayedStaves {
			if p != 0 && math.Abs(p-y) < 4 {
				return max(p+2*playedScale, s.Box.Bottom) + markDrop
			}
		}
		return s.Box.Bottom + markDrop
	}
	staff := sys.Staves[0]
	for _, m := range sys.Staves {
		if math.Abs(m-y) < math.Abs(staff-y) {
			staff = m
		}
	}
	return max(staff+2, s.Box.Bottom) + markDrop
}

func (l *Layout) mark(t Tap, x, y float64) []Item {
	put := func(it Item) Item {
		it.Layer, it.Note, it.Ornament = LayerMark, t.Note, t.Ornament
		return it
	}
	if t.Missed {
		const r, k = 0.5, 0.5 * 4 / 3
		return []Item{
			put(Item{Kind: KindCurve, X: x - r, Y: y, C1X: x - r, C1Y: y - k, C2X: x + r, C2Y: y - k, X2: x + r, Y2: y, W: markLine, W2: markLine}),
			put(Item{Kind: KindCurve, X: x - r, Y: y, C1X: x - r, C1Y: y + k, C2X: x + r, C2Y: y + k, X2: x + r, Y2: y, W: markLine, W2: markLine}),
		}
	}
	// In its own system, also where the tap fell after its end.
	i, _ := l.Place(t.Wanted)
	at := l.Systems[i].at(t.At)
	const scale = 1.7
	dot := font.Bounds(font.AugmentationDot)
	return []Item{
		put(Item{Kind: KindLine, X: x, Y: y - markRise, X2: x, Y2: y + markRise, W: markLine}),
		put(Item{Kind: KindLine, X: x, Y: y, X2: at, Y2: y, W: markLine}),
		put(Item{Kind: KindGlyph, Glyph: font.AugmentationDot, X: at - float64(dot.Left+dot.Right)/2*scale, Y: y - float64(dot.Top+dot.Bottom)/2*scale, Scale: scale}),
	}
}

// cross draws an extra tap at the level of its hand's staff.
func (l *Layout) cross(t Tap) []Item {
	if len(l.Systems) == 0 {
		return nil
	}
	i, x := l.Place(t.At)
	staves := l.Systems[i].Staves
	y := staves[min(max(t.Staff-1, 0), len(staves)-1)] + 2 + markDrop
	const r = markCross
	return []Item{
		{Kind: KindLine, Layer: LayerMark, X: x - r, Y: y - r, X2: x + r, Y2: y + r, W: markLine * 1.3},
		{Kind: KindLine, Layer: LayerMark, X: x - r, Y: y + r, X2: x + r, Y2: y - r, W: markLine * 1.3},
	}
}
