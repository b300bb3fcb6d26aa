package look

import (
	"math"
	"sort"

	"agremens/game/engrave"
)

// Seen is the part of a layout on the stage, in its own staff spaces.
type Seen struct{ X, Y, Width, Height float64 }

// lineShare is where the fixed line stands, of the stage's width.
const lineShare = 0.3

// Line returns where the fixed line stands, in staff spaces from the left of a
// stage so many spaces wide: never on the pinned head.
func Line(l *engrave.Layout, width float64) float64 {
	return max(lineShare*width, l.HeadWidth+3)
}

// Bounded keeps the left edge of what is seen of a run within the layout.
func Bounded(l *engrave.Layout, x, width float64) float64 {
	first := l.Left - l.HeadWidth - Margin
	last := max(first, l.Right+Margin-width)
	return min(last, max(first, x))
}

// Reveal returns the left edge at which an onset of a run is in sight: the one
// there is, where it is already.
func Reveal(l *engrave.Layout, onset, left, width float64) float64 {
	x := l.X(onset)
	from := left + l.HeadWidth + Margin
	if x >= from && x <= left+width-4*Margin {
		return left
	}
	return Bounded(l, x-max(l.HeadWidth+Margin, width*lineShare), width)
}

// RevealOnPage returns the top edge at which the system of an onset is in
// sight, with what comes before it where there is room: the one there is, where
// it is already.
func RevealOnPage(l *engrave.Layout, onset float64, seen Seen) float64 {
	if len(l.Systems) == 0 {
		return seen.Y
	}
	i, _ := l.Place(onset)
	s := &l.Systems[i]
	if s.Top >= seen.Y && s.Bottom <= seen.Y+seen.Height {
		return seen.Y
	}
	top := s.Top - Margin
	if i == 0 && s.Bottom+Margin-(l.Top-Margin) <= seen.Height {
		top = l.Top - Margin // with the title
	}
	if i > 0 && s.Bottom+Margin-l.Systems[i-1].Top+Margin <= seen.Height {
		top = l.Systems[i-1].Top - Margin
	}
	return BoundedPage(l, top, seen.Height)
}

// OnPage reports whether the system of an onset is in sight, half of it at
// least.
func OnPage(l *engrave.Layout, onset float64, seen Seen) bool {
	if len(l.Systems) == 0 {
		return false
	}
	i, _ := l.Place(onset)
	middle := (l.Systems[i].Top + l.Systems[i].Bottom) / 2
	return middle >= seen.Y && middle <= seen.Y+seen.Height
}

// BoundedPage keeps the top edge of what is seen of a page within the layout.
func BoundedPage(l *engrave.Layout, y, height float64) float64 {
	first := l.Top - Margin
	return min(max(first, l.Bottom+Margin-height), max(first, y))
}

// Place returns the onset that someone looking at a layout has before them:
// the chosen one where it is in sight, else the first in sight. The other view
// opens there.
func Place(l *engrave.Layout, seen Seen, chosen float64, some bool) float64 {
	if len(l.Systems) == 0 {
		return 0
	}
	if l.PerQuarter > 0 {
		from := seen.X + l.HeadWidth + Margin
		if x := l.X(chosen); some && x >= from-1 && x <= seen.X+seen.Width {
			return chosen
		}
		return max(l.Systems[0].Start, l.Onset(from))
	}
	if some && OnPage(l, chosen, seen) {
		return chosen
	}
	i := sort.Search(len(l.Systems), func(i int) bool { s := &l.Systems[i]; return (s.Top+s.Bottom)/2 >= seen.Y })
	return l.Systems[min(i, len(l.Systems)-1)].Start
}

// Carry returns the left edge at which a run shows what was seen of another
// laid out otherwise: the place before the eye stays where it was on the stage.
func Carry(was, now *engrave.Layout, seen Seen, place float64) float64 {
	if seen.X <= Bounded(was, math.Inf(-1), seen.Width)+1e-9 && was.PerQuarter == now.PerQuarter {
		return math.Inf(-1) // it stood at the beginning
	}
	at := min(max(was.X(place)-seen.X, now.HeadWidth+Margin), seen.Width)
	return Bounded(now, now.X(place)-at, seen.Width)
}
