package engrave

import (
	"sort"

	"agremens/assets/font"
	"agremens/realize/score"
)

// graceScale is the size of small notes (common practice, no source).
const graceScale = 0.6

// chord is one stem's worth of heads, or a rest, as engraved.
type chord struct {
	src   *score.Chord
	index int // in the passage
	staff int // of the stem
	voice int // rank on its staff and measure: 0 alone, 1 upper, 2 lower
	scale float64
	x     float64 // middle of the head column
	dx    float64 // moved aside for another voice, counted in x already when drawn
	dir   int     // stem: 1 up, -1 down, 0 none
	heads []head  // from low to high
	group int     // beam group, -1 none
	tip   float64 // absolute y of the stem's end
	// Extents of heads, accidentals and the like left and right of x.
	left, right float64
	restPos     int
	dots        []int // staff positions of the dots, one a column of dots
	ornament    string
	tight       bool // its accidentals are small, for want of room
	main        int  // for a small note: the place in chords of the chord it leans on
}

// head is one note head.
type head struct {
	pos           int // staff position on its own staff
	staff         int
	dx            float64 // left edge from the column's middle
	glyph         font.Glyph
	acc           font.Glyph
	hasAcc, paren bool
	accX          float64 // origin of the accidental from the column's middle
}

// accScale is the size of the chord's accidentals.
func (c *chord) accScale() float64 {
	if c.tight {
		return c.scale * tightScale
	}
	return c.scale
}

// top and bottom heads by pitch.
func (c *chord) topHead() *head    { return &c.heads[len(c.heads)-1] }
func (c *chord) bottomHead() *head { return &c.heads[0] }
func (c *chord) rest() bool        { return len(c.heads) == 0 }
func (c *chord) grace() bool       { return c.src.Grace != nil }

// note returns the id of the note a stem, flag or dot is counted to.
func (c *chord) note() score.ID {
	if c.rest() {
		return ""
	}
	return c.src.Notes[len(c.src.Notes)-1].ID
}

// headY returns the absolute y of a head.
func (e *engraver) headY(h *head) float64 { return e.staves[h.staff].y - float64(h.pos)/2 }

// build makes the engraved chords of the range.
func (e *engraver) build() {
	start, end := e.start(), e.end()
	e.first = e.p.FirstAt(start)
	if e.played {
		e.first = 0
	}
	last := len(e.p.Chords)
	if !e.played {
		last = e.first + sort.Search(last-e.first, func(i int) bool { return end.Less(e.p.Chords[e.first+i].Onset) })
	}
	e.byIndex, e.chords = make([]int, 0, last-e.first), make([]chord, 0, last-e.first)
	for i := e.first; i < last; i++ {
		c := &e.p.Chords[i]
		if c.Hidden || c.Measure < e.from || c.Measure >= e.to {
			e.byIndex = append(e.byIndex, -1)
			continue
		}
		e.byIndex = append(e.byIndex, len(e.chords))
		e.chords = append(e.chords, e.buildChord(c, i))
		if len(e.chords)%256 == 0 {
			e.yield()
		}
	}
	// Small notes lean on the next ordinary chord of their voice.
	next := map[string]int{}
	for i := len(e.chords) - 1; i >= 0; i-- {
		c := &e.chords[i]
		if !c.grace() {
			next[c.src.Voice] = i
			continue
		}
		c.main = -1
		if m, ok := next[c.src.Voice]; ok && !c.src.Grace.After && e.chords[m].src.Onset == c.src.Onset {
			c.main = m
			if c.ornament == "" {
				c.ornament = e.chords[m].ornament
			}
		}
	}
}

func (e *engraver) buildChord(src *score.Chord, index int) chord {
	c := chord{src: src, index: index, scale: 1, group: -1, main: -1, ornament: e.ornament[index]}
	c.staff = min(max(src.Staff-1, 0), len(e.staves)-1)
	if src.Grace != nil || src.Cue {
		c.scale = graceScale
	}
	if len(src.Notes) > 0 {
		c.heads = make([]head, 0, len(src.Notes))
	}
	for i := range src.Notes {
		n := &src.Notes[i]
		h := head{staff: c.staff}
		if n.Staff > 0 && n.Staff <= len(e.staves) {
			h.staff = n.Staff - 1
		}
		h.pos = e.position(n.Pitch, h.staff, src.Onset)
		h.glyph = headGlyph(n.Head, valueType(src))
		h.dx = -width(h.glyph) / 2 * c.scale
		h.acc, h.hasAcc = accidentalGlyph(n.Accidental)
		h.paren = n.Parentheses
		c.heads = append(c.heads, h)
	}
	return c
}

// valueType returns the written value, guessed from the length where the
// file leaves it out.
func valueType(c *score.Chord) score.ValueType {
	if c.Value.Type != score.Unspecified {
		return c.Value.Type
	}
	if c.Grace != nil {
		return score.Eighth
	}
	t := score.Long
	for v := (score.Value{Type: t}); t < score.N256th && c.Dur.Less(v.Quarters()); {
		t++
		v.Type = t
	}
	return t
}

func flags(c *score.Chord) int { return max(0, int(valueType(c))-int(score.Quarter)) }

func headGlyph(shape string, t score.ValueType) font.Glyph {
	switch shape {
	case "x":
		return font.NoteheadXBlack
	case "diamond":
		if t <= score.Half {
			return font.NoteheadDiamondHalf
		}
		return font.NoteheadDiamondBlack
	case "triangle":
		return font.NoteheadTriangleUpBlack
	case "slash":
		return font.NoteheadSlashVerticalEnds
	}
	switch {
	case t <= score.Breve:
		return font.NoteheadDoubleWhole
	case t == score.Whole:
		return font.NoteheadWhole
	case t == score.Half:
		return font.NoteheadHalf
	}
	return font.NoteheadBlack
}

func hasStem(c *score.Chord) bool {
	return len(c.Notes) > 0 && valueType(c) >= score.Half && c.Stem != score.StemNone
}
