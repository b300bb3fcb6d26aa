//go:build js

package stage

import (
	"math"

	"agremens/assets/font"
	"agremens/game/engrave"
	"agremens/realize/score"

	"github.com/hajimehoshi/ebiten/v2"
)

// painter builds the triangles of frames.
type painter struct {
	mesh  mesh
	atlas *atlas

	layout  *engrave.Layout // what sorted and chosen belong to
	moved   moved           // what the texture is prepared for
	sorted  *sorted
	visible []int32

	chosen     string
	chosenNote score.ID
	chosenBox  []engrave.Box // one a system

	// of the frame at hand
	frame         *Frame
	scale         float64
	offX, offY    float64 // device pixels of the layout's origin
	width, height float64
	inks          [layers]ink
	accent        ink
}

// moved is what runs across the stage, and how large.
type moved struct {
	layout *engrave.Layout
	scale  float64
	atlas  *atlas
}

// curveSteps is how many pieces a slur is drawn in.
const curveSteps = 24

// paint builds the frame.
func (p *painter) paint(f *Frame, width, height float64) {
	for range 4 { // again when the texture was too small
		p.build(f, width, height)
		if !p.atlas.makeRoom() {
			return
		}
	}
}

func (p *painter) build(f *Frame, width, height float64) {
	p.mesh.clear()
	p.frame, p.width, p.height, p.scale = f, width, height, f.Scale
	if f.Layout == nil || f.Scale <= 0 {
		return
	}
	shift := 0.0
	if p.staffLine()%2 == 1 {
		shift = 0.5
	}
	if p.atlas == nil || p.atlas.shift != shift {
		p.atlas = newAtlas(shift)
	}
	if p.layout != f.Layout {
		p.layout, p.sorted, p.chosen = f.Layout, sortItems(f.Layout.Items), "\x00" // gathered anew
	}
	if now := (moved{f.Layout, p.scale, p.atlas}); f.Playing && p.moved != now {
		p.moved = now
		p.atlas.prepare(f.Layout.Items, p.scale)
	}
	p.offX, p.offY = -f.ScrollX*p.scale, math.Round(-f.ScrollY*p.scale)
	if !f.Playing {
		p.offX = math.Round(p.offX)
	}
	t := &f.Theme
	p.inks = [layers]ink{
		engrave.LayerStaff: inkOf(t.Staff), engrave.LayerInk: inkOf(t.Ink), engrave.LayerSign: inkOf(t.Ink),
		engrave.LayerPlayed: inkOf(t.Played), engrave.LayerMark: inkOf(t.Mark),
	}
	p.accent = inkOf(t.Accent)

	// A fill of its own would be one more call to the graphics.
	p.mesh.hard(0, 0, width, height, inkOf(t.Paper))
	p.ground()
	v := view{
		left: float32(-p.offX / p.scale), right: float32((width - p.offX) / p.scale),
		top: float32(-p.offY / p.scale), bottom: float32((height - p.offY) / p.scale),
	}
	for layer := range layers {
		p.visible = p.sorted.appendVisible(p.visible[:0], layer, v)
		for _, i := range p.visible {
			it := &f.Layout.Items[i]
			p.item(it, p.inkFor(it))
		}
	}
	p.shade()
	for i := range f.Marks {
		p.item(&f.Marks[i], p.inks[engrave.LayerMark])
	}
	if f.Pinned { // over the marks too
		p.head()
	}
	if f.Line {
		p.line()
	}
}

// staffLine is the thickness of a staff line in whole device pixels.
func (p *painter) staffLine() int {
	return max(1, int(p.scale*font.Defaults.StaffLineThickness+0.5))
}

// inkFor returns the ink of an item: its layer's, or the accent for what is
// chosen or sounds.
func (p *painter) inkFor(it *engrave.Item) ink {
	if it.Kind == engrave.KindGlyph && it.Note != "" {
		for i := range p.frame.Sounding {
			s := &p.frame.Sounding[i]
			if it.X < s.Box.Right && it.X >= s.Box.Left-0.5 && it.Y >= s.Box.Top-0.5 && it.Y <= s.Box.Bottom+0.5 && s.Note == it.Note {
				return p.accent
			}
		}
	}
	if p.frame.Note != "" && it.Note == p.frame.Note {
		return p.accent
	}
	if p.frame.Selected != "" && (it.Ornament == p.frame.Selected && it.Layer >= engrave.LayerSign || p.chosenPart(it)) {
		return p.accent
	}
	return p.inks[min(int(it.Layer), layers-1)]
}

// chosenPart reports whether a beam or slur of the line as played, which can
// belong to several notes, stands among those of the chosen ornament.
func (p *painter) chosenPart(it *engrave.Item) bool {
	if it.Layer != engrave.LayerPlayed || it.Ornament != "" || it.Kind != engrave.KindBeam && it.Kind != engrave.KindCurve {
		return false
	}
	for i := range p.chosenBox {
		b := &p.chosenBox[i]
		if it.X >= b.Left-0.2 && it.X2 <= b.Right+0.2 && it.Y >= b.Top-1.5 && it.Y <= b.Bottom+1.5 {
			return true
		}
	}
	return false
}

// item adds one item.
func (p *painter) item(it *engrave.Item, k ink) {
	s := p.scale
	x, y := it.X*s+p.offX, it.Y*s+p.offY
	x2, y2 := it.X2*s+p.offX, it.Y2*s+p.offY
	w := float64(it.W) * s
	switch it.Kind {
	case engrave.KindGlyph:
		p.glyph(it, x, y, k)
	case engrave.KindLine:
		if it.Y == it.Y2 {
			p.level(min(x, x2), max(x, x2), y, w, k)
			return
		}
		length := math.Hypot(x2-x, y2-y)
		if length == 0 {
			return
		}
		ux, uy := (x2-x)/length, (y2-y)/length
		p.mesh.soft((x+x2)/2, (y+y2)/2, axis{ux, uy, length / 2}, axis{-uy, ux, w / 2}, k)
	case engrave.KindRect:
		p.mesh.softRect(min(x, x2), min(y, y2), max(x, x2), max(y, y2), k)
	case engrave.KindBeam:
		length := math.Hypot(x2-x, y2-y)
		if length == 0 {
			return
		}
		p.mesh.soft((x+x2)/2, (y+y2+w)/2, axis{(x2 - x) / length, (y2 - y) / length, length / 2}, axis{0, 1, w / 2}, k)
	case engrave.KindCurve:
		p.curve(it, k)
	}
}

func (p *painter) glyph(it *engrave.Item, x, y float64, k ink) {
	c, ok := p.atlas.cell(it.Glyph, p.scale*float64(it.Scale), x)
	if !ok {
		return
	}
	if c.width == 0 {
		return
	}
	// The origin's row is snapped, as the staff's lines are; its column only
	// as finely as the texture has it.
	top := snap(y-c.dy) + float64(c.top)
	left := x - c.dx + float64(c.left)
	if n := steps(p.scale * float64(it.Scale)); n > 1 || !p.frame.Playing {
		left = math.Floor(left + 0.5)
	}
	p.mesh.picture(float32(left), float32(top), c, k)
}

// snap rounds to whole pixels; what lies just between two goes down, however
// the numbers were computed.
func snap(v float64) float64 { return math.Floor(v + 0.5 + 1e-4) }

// level adds a horizontal line on whole device pixels: a staff line, a ledger.
func (p *painter) level(left, right, y, w float64, k ink) {
	thick := max(1, math.Floor(w+0.5))
	top := snap(y-p.atlas.shift) + p.atlas.shift - thick/2
	if top != math.Floor(top) { // even and odd thicknesses meet
		top = math.Floor(top)
	}
	// Far ends would cost precision and show nothing.
	p.mesh.softRect(max(left, -2), top, min(right, p.width+2), top+thick, k)
}

func (p *painter) curve(it *engrave.Item, k ink) {
	s := p.scale
	ax, ay, bx, by := it.X*s+p.offX, it.Y*s+p.offY, it.C1X*s+p.offX, it.C1Y*s+p.offY
	cx, cy, dx, dy := it.C2X*s+p.offX, it.C2Y*s+p.offY, it.X2*s+p.offX, it.Y2*s+p.offY
	ends, middle := float64(it.W2)*s, float64(it.W)*s
	nx, ny := 0.0, -1.0
	for i := range curveSteps + 1 {
		t := float64(i) / curveSteps
		u := 1 - t
		x := u*u*u*ax + 3*u*u*t*bx + 3*u*t*t*cx + t*t*t*dx
		y := u*u*u*ay + 3*u*u*t*by + 3*u*t*t*cy + t*t*t*dy
		tx := u*u*(bx-ax) + 2*u*t*(cx-bx) + t*t*(dx-cx)
		ty := u*u*(by-ay) + 2*u*t*(cy-by) + t*t*(dy-cy)
		if l := math.Hypot(tx, ty); l > 1e-9 {
			nx, ny = -ty/l, tx/l
		}
		p.mesh.band(i == 0, x, y, nx, ny, (ends+(middle-ends)*4*u*t)/2, k)
	}
}

// ground tints what belongs to the chosen ornament.
func (p *painter) ground() {
	f := p.frame
	if f.Selected != p.chosen || f.Note != p.chosenNote {
		p.chosen, p.chosenNote, p.chosenBox = f.Selected, f.Note, p.chosenBox[:0]
		p.gather()
		p.gatherNote()
	}
	k := inkOf(f.Theme.Tint)
	for _, b := range p.chosenBox {
		const pad = 0.5
		p.mesh.softRect((b.Left-pad)*p.scale+p.offX, (b.Top-pad)*p.scale+p.offY,
			(b.Right+pad)*p.scale+p.offX, (b.Bottom+pad)*p.scale+p.offY, k)
	}
}

// gather collects the extent of the chosen ornament, one box a system: its
// printed note, its sign and its notes as played.
func (p *painter) gather() {
	if p.chosen == "" {
		return
	}
	last := -1
	for i := range p.layout.Spots {
		s := &p.layout.Spots[i]
		if s.Ornament != p.chosen {
			continue
		}
		if s.System != last {
			last = s.System
			p.chosenBox = append(p.chosenBox, s.Box)
		}
		box := &p.chosenBox[len(p.chosenBox)-1]
		widen(box, s.Box)
		for j := range p.layout.Spots {
			if o := &p.layout.Spots[j]; o.Note == s.Note && o.Ornament == "" && o.System == s.System {
				widen(box, o.Box)
			}
		}
	}
	if len(p.chosenBox) != 1 {
		return
	}
	for i := range p.layout.Items { // stems, beams and accidentals
		if it := &p.layout.Items[i]; it.Ornament == p.chosen && !(it.Kind == engrave.KindLine && it.Y == it.Y2) {
			widen(&p.chosenBox[0], it.Bounds())
		}
	}
}

// gatherNote adds the place of a chosen note.
func (p *painter) gatherNote() {
	if p.chosenNote == "" {
		return
	}
	for i := range p.layout.Spots {
		if s := &p.layout.Spots[i]; s.Note == p.chosenNote && s.Index < 0 {
			p.chosenBox = append(p.chosenBox, s.Box)
		}
	}
}

func widen(b *engrave.Box, by engrave.Box) {
	b.Left, b.Top = min(b.Left, by.Left), min(b.Top, by.Top)
	b.Right, b.Bottom = max(b.Right, by.Right), max(b.Bottom, by.Bottom)
}

// shade pales what is not practised.
func (p *painter) shade() {
	k := inkOf(p.frame.Theme.Paper).faded(0.66)
	for i := range p.frame.Pale {
		b := &p.frame.Pale[i]
		p.mesh.hard(b.Left*p.scale+p.offX, b.Top*p.scale+p.offY, b.Right*p.scale+p.offX, b.Bottom*p.scale+p.offY, k)
	}
}

// head pins clefs, key and metre at the left, on paper that hides what
// passes beneath and fades towards it.
func (p *painter) head() {
	f := p.frame
	edge := f.Layout.HeadWidth * p.scale
	k := inkOf(f.Theme.Paper)
	p.mesh.hard(0, 0, edge, p.height, k)
	p.mesh.fading(edge, 0, edge+p.scale, p.height, k, k.faded(0))
	offX := p.offX
	// What holds where the music comes out from under the head.
	head := f.Layout.HeadAt(f.Layout.Onset((edge - offX) / p.scale))
	p.offX = 0
	for layer := range layers {
		for i := range head {
			it := head[i]
			if int(it.Layer) != layer {
				continue
			}
			if it.Kind == engrave.KindLine && it.Y == it.Y2 && it.X2 > f.Layout.HeadWidth-1 {
				// Staff lines go on to where the music begins, and over the fading.
				it.X2 = max(it.X2, min(it.X2+1, f.Layout.Right+offX/p.scale), f.Layout.Left+offX/p.scale+0.5)
			}
			p.item(&it, p.inks[layer])
		}
	}
	p.offX = offX
}

// line shows where now is.
func (p *painter) line() {
	f := p.frame
	thick := max(1, math.Floor(p.scale*0.12+0.5))
	left := math.Floor(f.LineX - thick/2 + 0.5)
	p.mesh.hard(left, 0, left+thick, p.height, p.accent)
}

var drawOptions = &ebiten.DrawTrianglesOptions{
	Filter:         ebiten.FilterLinear,
	DisableMipmaps: true,
}

func (p *painter) draw(screen *ebiten.Image) {
	if len(p.mesh.indices) == 0 {
		screen.Fill(&p.frame.Theme.Paper) // the colour itself would be copied to the heap
		return
	}
	p.atlas.upload()
	screen.DrawTriangles32(p.mesh.vertices, p.mesh.indices, p.atlas.texture, drawOptions)
}
