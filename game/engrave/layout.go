// Package engrave turns a passage and its reading into a display list: glyphs,
// lines, beams and curves in staff spaces, y down, which any drawer can draw.
//
// [Run] lays out one endless system in which x is strictly proportional to
// time, [Page] breaks systems to a width. Both stand the line as played above
// the printed notes. Sizes and thicknesses come from the font's SMuFL
// metadata (package font).
//
// A layout is made in passes, one file each: chords are built (chord.go) and
// given stems and beam groups (voice.go, beam.go), heads, accidentals and dots
// are placed around their column (column.go, accidental.go), columns get an x
// (space.go), and then everything is drawn and kept clear of what is
// already (draw.go and the files it calls).
package engrave

import (
	"sort"

	"agremens/realize/score"
)

// Options say what to lay out.
type Options struct {
	// From and To are the measures, half open; To 0 means to the end.
	From, To int
	// Played adds the line as played above its staff.
	Played bool
	// Open holds the ornaments whose realization is shown; nil shows all.
	Open map[string]bool
	// PerQuarter fixes a run's spaces to the quarter; 0 chooses.
	PerQuarter float64
	// Title prints title and composer above a page.
	Title bool
	// Yield, if any, is called every few milliseconds of a page's work, so that
	// a single-threaded caller can do other things.
	Yield func()
}

func (o Options) yield() {
	if o.Yield != nil {
		o.Yield()
	}
}

// Layout is a display list with what one needs to find one's way in it.
type Layout struct {
	Items []Item
	// Head is a run's clefs, key and metre, to be pinned at the left: it
	// starts at x = 0 and is HeadWidth wide. A page has its heads in Items.
	Head      []Item
	HeadWidth float64
	// Heads are the heads in force later on, where clef, key or metre change;
	// see HeadAt. All are HeadWidth wide.
	Heads []Head
	// The extent of Items.
	Left, Right, Top, Bottom float64
	Systems                  []System
	Spots                    []Spot
	// PerQuarter is a run's spaces to the quarter, 0 on a page.
	PerQuarter float64
}

// Head is a pinned head from an onset on.
type Head struct {
	From  float64 // quarters
	Items []Item
}

// HeadAt returns the head in force at an onset in quarters. The slice is the
// same for all onsets it holds for.
func (l *Layout) HeadAt(onset float64) []Item {
	i := sort.Search(len(l.Heads), func(i int) bool { return onset < l.Heads[i].From })
	if i == 0 {
		return l.Head
	}
	return l.Heads[i-1].Items
}

// System is one line of music.
type System struct {
	From, To                 int     // measures, half open
	Start, End               float64 // quarters
	Left, Right, Top, Bottom float64
	// Staves are the y of the staves' middle lines, upper first.
	Staves []float64
	// PlayedStaves are the y of the played lines' middle lines, 0 where none.
	PlayedStaves []float64
	columns      []column
	bar          float64   // the right edge of the last bar line
	measures     []float64 // the x of the bar line before each measure
	perQuarter   float64
	items        [2]int // its part of the layout's items, half open
}

// Part returns some systems of a page, half open, as a layout of their own: as
// wide as the page, and where they stood on it. Spots are left out.
func (l *Layout) Part(from, to int) *Layout {
	part := &Layout{Left: l.Left, Right: l.Right, Systems: l.Systems[from:to:to]}
	if from == to {
		return part
	}
	part.Top, part.Bottom = l.Systems[from].Top, l.Systems[from].Bottom
	for _, s := range part.Systems {
		part.Items = append(part.Items, l.Items[s.items[0]:s.items[1]]...)
		part.Top, part.Bottom = min(part.Top, s.Top), max(part.Bottom, s.Bottom)
	}
	return part
}

// Spot is where a note or an ornament stands.
type Spot struct {
	Note     score.ID
	Ornament string // the ornament a sign, small note or played note belongs to
	// Index is the place among the notes of an ornament's chosen choice, -1
	// for what is printed.
	Index  int
	Onset  float64 // quarters
	System int
	Box    Box
}

// column is a moment at which something starts.
type column struct {
	onset float64
	x     float64
}

// X returns where an onset in quarters stands: the middle of a note head that
// starts then, in its system.
func (l *Layout) X(onset float64) float64 {
	_, x := l.Place(onset)
	return x
}

// Place returns the system an onset lies in and its x there.
func (l *Layout) Place(onset float64) (system int, x float64) {
	if len(l.Systems) == 0 {
		return 0, 0
	}
	i := sort.Search(len(l.Systems), func(i int) bool { return onset < l.Systems[i].Start }) - 1
	i = max(i, 0)
	return i, l.Systems[i].at(onset)
}

// Onset returns the quarters that stand at x in a run; on a page it returns
// the start of the first system.
func (l *Layout) Onset(x float64) float64 {
	if len(l.Systems) == 0 {
		return 0
	}
	if s := &l.Systems[0]; l.PerQuarter > 0 {
		return s.Start + x/l.PerQuarter
	}
	return l.Systems[0].Start
}

// at interpolates between columns; outside it goes on at the nearest pace.
func (s *System) at(onset float64) float64 {
	c := s.columns
	switch {
	case s.perQuarter > 0:
		return (onset - s.Start) * s.perQuarter
	case len(c) == 0:
		return s.Left
	case len(c) == 1:
		return c[0].x
	}
	i := sort.Search(len(c), func(i int) bool { return onset < c[i].onset })
	i = min(max(i, 1), len(c)-1)
	a, b := c[i-1], c[i]
	pace := (b.x - a.x) / (b.onset - a.onset)
	if onset < a.onset { // what sounds before the first beat stays near it
		pace = min(pace, quarterSpace)
	}
	return a.x + (onset-a.onset)*pace
}

// Find returns the spots of a note, in the order printed, small, played.
func (l *Layout) Find(id score.ID) []Spot {
	var found []Spot
	for _, s := range l.Spots {
		if s.Note == id {
			found = append(found, s)
		}
	}
	return found
}

// At returns the spot nearest to a point, of those whose box comes within
// reach of it; ok is false where there is none.
func (l *Layout) At(x, y, reach float64) (spot Spot, ok bool) {
	best := reach
	for _, s := range l.Spots {
		dx := max(s.Box.Left-x, 0, x-s.Box.Right)
		dy := max(s.Box.Top-y, 0, y-s.Box.Bottom)
		if d := max(dx, dy); d < best || d == best && !ok {
			best, spot, ok = d, s, true
		}
	}
	return spot, ok
}
