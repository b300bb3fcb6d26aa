package stage

import (
	"cmp"
	"slices"

	"agremens/game/engrave"
	"agremens/realize/sorting"
)

// layers is the number of layers of package engrave.
const layers = int(engrave.LayerMark) + 1

// long is the width in staff spaces from which an item is kept apart, so that
// a staff line as long as the piece does not make every search long.
const long = 24

// sorted is a layout's items in the order of drawing, so that those in view
// are found without looking at the others.
type sorted struct {
	layer [layers]struct{ short, long []entry }
}

// entry is an item with its extent.
type entry struct {
	left, right, top, bottom float32
	item                     int32
}

// view is the part of a layout that is seen, in staff spaces.
type view struct{ left, right, top, bottom float32 }

func sortItems(items []engrave.Item) *sorted {
	s := &sorted{}
	for i := range items {
		b := items[i].Bounds()
		e := entry{float32(b.Left), float32(b.Right), float32(b.Top), float32(b.Bottom), int32(i)}
		l := &s.layer[min(int(items[i].Layer), layers-1)]
		if e.right-e.left > long {
			l.long = append(l.long, e)
		} else {
			l.short = append(l.short, e)
		}
	}
	for i := range s.layer {
		byLeft := func(a, b entry) int { return cmp.Or(cmp.Compare(a.left, b.left), cmp.Compare(a.item, b.item)) }
		sorting.Stable(s.layer[i].short, byLeft)
		sorting.Stable(s.layer[i].long, byLeft)
	}
	return s
}

// appendVisible appends the numbers of the items of a layer that are in view:
// the long ones first, then from left to right.
func (s *sorted) appendVisible(dst []int32, layer int, v view) []int32 {
	l := &s.layer[layer]
	dst = appendSeen(dst, l.long, v)
	from, _ := slices.BinarySearchFunc(l.short, v.left-long, func(e entry, left float32) int {
		return cmp.Compare(e.left, left)
	})
	return appendSeen(dst, l.short[from:], v)
}

func appendSeen(dst []int32, entries []entry, v view) []int32 {
	for i := range entries {
		e := &entries[i]
		if e.left > v.right {
			break
		}
		if e.right >= v.left && e.bottom >= v.top && e.top <= v.bottom {
			dst = append(dst, e.item)
		}
	}
	return dst
}
