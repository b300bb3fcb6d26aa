// Package font holds the outlines and metrics of the music glyphs and of a
// text face, as generated tables: no font file is parsed at run time.
//
// Everything is in staff spaces with y pointing down; a glyph's origin is
// where SMuFL puts it. Letters have the same scale: their em is 4 staff spaces.
//
// The music outlines come from Bravura (© Steinberg Media Technologies GmbH),
// the letters from EB Garamond (© The EB Garamond Project Authors), both under
// the SIL Open Font License 1.1; see OFL.txt. The list of glyphs is glyphs.txt.
package font

import (
	_ "embed" // the outlines
	"encoding/binary"
	"strings"
	"unicode/utf8"
)

//go:generate go run ./gen

// Glyph is a glyph of these tables.
type Glyph uint16

// Count is the number of glyphs; every Glyph below it exists.
const Count = len(metrics)

// AnchorKind names an anchor of SMuFL metadata.
type AnchorKind uint8

// Style is a style of the text face.
type Style uint8

// Styles.
const (
	Roman Style = iota
	Italic
)

// Point is a point in staff spaces, y down.
type Point struct{ X, Y float32 }

// Box is an extent in staff spaces, y down: Top is less than Bottom.
type Box struct{ Left, Top, Right, Bottom float32 }

// Op is what a segment does.
type Op uint8

// Ops. Every contour starts with a Move and closes by itself.
const (
	Move Op = iota
	Line
	Quad
	Cubic
)

// Segment is a piece of an outline; Move and Line use the first point, Quad
// two, Cubic three, the last one being where the segment ends.
type Segment struct {
	Op Op
	P  [3]Point
}

type metric struct {
	offset                            uint32
	advance, left, top, right, bottom int16
}

type anchorEntry struct {
	glyph Glyph
	kind  AnchorKind
	x, y  int16
}

//go:embed outlines.bin
var outlines string

const unit = 1.0 / 250

// Outline returns the outline of g, to be filled by the non-zero rule. It
// panics if g does not exist.
func Outline(g Glyph) []Segment { return AppendOutline(nil, g) }

// AppendOutline appends the outline of g to dst.
func AppendOutline(dst []Segment, g Glyph) []Segment {
	data := outlines[metrics[g].offset:]
	if int(g)+1 < Count {
		data = data[:metrics[g+1].offset-metrics[g].offset]
	}
	x, y := 0, 0
	for len(data) > 0 {
		op, n := Op(data[0]&3), int(data[0]>>2)
		data = data[1:]
		points := [4]int{1, 1, 2, 3}[op]
		for range n {
			s := Segment{Op: op}
			for i := range points {
				var dx, dy int
				dx, data = step(data)
				dy, data = step(data)
				x, y = x+dx, y+dy
				s.P[i] = Point{float32(x) * unit, float32(y) * unit}
			}
			dst = append(dst, s)
		}
	}
	return dst
}

func step(data string) (int, string) {
	var buf [binary.MaxVarintLen32]byte
	v, n := binary.Varint(buf[:copy(buf[:], data)])
	return int(v), data[n:]
}

// Advance returns the advance width of g in staff spaces.
func Advance(g Glyph) float64 { return float64(metrics[g].advance) * unit }

// Bounds returns the extent of g's outline.
func Bounds(g Glyph) Box {
	m := &metrics[g]
	return Box{float32(m.left) * unit, float32(m.top) * unit, float32(m.right) * unit, float32(m.bottom) * unit}
}

// Anchor returns an anchor of g; ok is false where the font gives none.
func Anchor(g Glyph, kind AnchorKind) (p Point, ok bool) {
	lo, hi := 0, len(anchors)
	for lo < hi {
		mid := (lo + hi) / 2
		if anchors[mid].glyph < g {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	for ; lo < len(anchors) && anchors[lo].glyph == g; lo++ {
		if a := anchors[lo]; a.kind == kind {
			return Point{float32(a.x) * unit, float32(a.y) * unit}, true
		}
	}
	return Point{}, false
}

// ByName returns the glyph with a SMuFL name.
func ByName(name string) (Glyph, bool) {
	i := Glyph(0)
	for n := range strings.FieldsSeq(names) {
		if n == name {
			return i, true
		}
		i++
	}
	return 0, false
}

// Name returns the SMuFL name of g, "" for a letter.
func Name(g Glyph) string {
	i := Glyph(0)
	for n := range strings.FieldsSeq(names) {
		if i == g {
			return n
		}
		i++
	}
	return ""
}

// Music reports whether g is a music glyph, not a letter.
func Music(g Glyph) bool { return g < musicGlyphs }

// Letter returns the glyph of a character; ok is false where the face lacks it.
func Letter(style Style, c rune) (g Glyph, ok bool) {
	i := 0
	if c >= ' ' && c <= '~' {
		i = int(c - ' ')
	} else {
		at := strings.IndexRune(textChars, c)
		if at < 0 {
			return 0, false
		}
		i = utf8.RuneCountInString(textChars[:at])
	}
	if style == Italic {
		return Glyph(italicGlyphs + i), true
	}
	return Glyph(romanGlyphs + i), true
}
