package main

import (
	"agremens/game/engrave"
	"agremens/game/stage"
	"agremens/web/dom"
)

// Sizes of the staff, in CSS pixels and staff spaces.
const (
	smallestSpace = 5.0  // pixels a staff space
	largestSpace  = 13.0 // pixels a staff space
	margin        = 1.5  // spaces left free above and below
	lineShare     = 0.3  // where the fixed line stands, of the stage's width
)

// camera is where the staff stands on the stage.
type camera struct {
	scroll  float64 // staff spaces at the left edge while nothing sounds
	pulled  float64 // where scroll was when a pull began
	sounds  []soundingSpot
	now     []engrave.Spot // reused from frame to frame
	theme   stage.Theme
	themed  bool
	playing bool
}

// soundingSpot is a spot of the layout and when it sounds, in quarters.
type soundingSpot struct {
	from, until float64
	spot        engrave.Spot
}

// frame describes what the staff shows now.
func (a *app) frame() stage.Frame {
	c := &a.camera
	if !c.themed {
		c.theme, c.themed = stage.ThemeFor(dom.PreferDark(), dom.MoreContrast()), true
	}
	f := stage.Frame{Layout: a.layout, Theme: c.theme, Pinned: true, Marks: a.marks}
	if a.layout == nil {
		return f
	}
	width, height := stage.Size()
	f.Scale = a.scale(height)
	f.ScrollY = a.layout.Top - (height/f.Scale-(a.layout.Bottom-a.layout.Top))/2
	if o, ok := a.desk.Ornament(); ok {
		f.Selected = o.ID
	}
	f.LineX = max(lineShare*width, (a.layout.HeadWidth+3)*f.Scale)
	if a.round != nil {
		now := dom.Now()
		if q, ok := a.round.Quarters(now+a.sound.pictureMS, a.sound.clock); ok {
			c.playing = true
			f.Line, f.Playing = true, true
			f.ScrollX = a.layout.X(q) - f.LineX/f.Scale
			f.Sounding = c.sounding(q)
			return f
		}
	}
	if c.playing {
		// Stay where the sound stopped.
		c.playing = false
		a.reveal(width / f.Scale)
	}
	f.ScrollX = a.bounded(c.scroll, width/f.Scale)
	return f
}

// scale returns device pixels a staff space: as large as the height allows.
func (a *app) scale(height float64) float64 {
	ratio := dom.DevicePixelRatio()
	fit := height / (a.layout.Bottom - a.layout.Top + 2*margin)
	return stage.Grid(min(largestSpace*ratio, max(smallestSpace*ratio, fit)))
}

// bounded keeps a scroll within the layout; spaces is the stage's width.
func (a *app) bounded(scroll, spaces float64) float64 {
	first := a.layout.Left - a.layout.HeadWidth - margin
	last := max(first, a.layout.Right+margin-spaces)
	return min(last, max(first, scroll))
}

// reveal moves the resting staff so that the selected ornament is in sight.
func (a *app) reveal(spaces float64) {
	o, ok := a.desk.Ornament()
	if !ok {
		return
	}
	x := a.layout.X(o.Onset.Float())
	left := a.camera.scroll + a.layout.HeadWidth + margin
	if x < left || x > a.camera.scroll+spaces-4*margin {
		a.camera.scroll = a.bounded(x-max(a.layout.HeadWidth+margin, spaces*lineShare), spaces)
	}
}

// stageSpaces is the stage's width in staff spaces.
func (a *app) stageSpaces() float64 {
	width, height := stage.Size()
	return width / a.scale(height)
}

// pull moves the resting staff with a finger or the wheel.
func (a *app) pull(d dom.Drag) {
	if a.round != nil || a.layout == nil {
		return
	}
	_, height := stage.Size()
	spaces := d.DX * dom.DevicePixelRatio() / a.scale(height)
	if d.Phase == dom.DragStart {
		a.camera.pulled = a.camera.scroll
	}
	a.camera.scroll = a.bounded(a.camera.pulled-spaces, a.stageSpaces())
	stage.Refresh()
}

// pick selects the ornament at a place of the stage, in CSS pixels.
func (a *app) pick(x, y float64) {
	if a.layout == nil || a.round != nil {
		return
	}
	_, height := stage.Size()
	scale := a.scale(height)
	ratio := dom.DevicePixelRatio()
	top := a.layout.Top - (height/scale-(a.layout.Bottom-a.layout.Top))/2
	const finger = 22 // CSS pixels: half of a 44-pixel target
	spot, ok := a.layout.At(x*ratio/scale+a.bounded(a.camera.scroll, a.stageSpaces()), y*ratio/scale+top, finger*ratio/scale)
	if !ok {
		return
	}
	if spot.Ornament != "" {
		a.desk.SelectID(spot.Ornament)
	} else {
		a.desk.SelectNote(spot.Note)
	}
	a.show()
	a.keep()
	stage.Refresh()
}

// listen prepares the spots that light up while they sound.
func (c *camera) follow(a *app) {
	c.sounds = c.sounds[:0]
	spots := map[string][]engrave.Spot{}
	for _, s := range a.layout.Spots {
		key := string(s.Note)
		if s.Ornament != "" && s.Index >= 0 {
			key = s.Ornament
		}
		spots[key] = append(spots[key], s)
	}
	for _, n := range a.desk.Sounding.Notes {
		from, until := n.Onset.Float(), n.End().Float()
		for _, s := range spots[string(n.From)] {
			if n.Ornament == "" || n.Index == 0 {
				c.sounds = append(c.sounds, soundingSpot{from, until, s})
			}
		}
		if n.Ornament != "" {
			for _, s := range spots[n.Ornament] {
				if s.Index == n.Index {
					c.sounds = append(c.sounds, soundingSpot{from, until, s})
				}
			}
		}
	}
}

// sounding returns the spots that sound at a place in quarters.
func (c *camera) sounding(q float64) []engrave.Spot {
	c.now = c.now[:0]
	for i := range c.sounds {
		if s := &c.sounds[i]; s.from <= q && q < s.until {
			c.now = append(c.now, s.spot)
		}
	}
	return c.now
}
