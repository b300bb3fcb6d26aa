package main

import (
	"agremens/game/engrave"
	"agremens/game/look"
	"agremens/game/round"
	"agremens/game/stage"
	"agremens/realize/perf"
	"agremens/web/dom"
)

// camera is where the staff stands on the stage.
type camera struct {
	scroll float64 // left edge of the run while nothing sounds, in staff spaces
	pulled float64 // where scroll was when a pull began

	shown *engrave.Layout // what the frame before showed
	seen  look.Seen       // which part of it
	place float64         // the onset before the eye, kept from view to view

	sounds  []soundingSpot
	sounded *perf.Performance // what sounds is taken from
	now     []engrave.Spot    // reused from frame to frame
	bars    []float64         // starts of bars and the end, in quarters
	beats   []float64
	theme   stage.Theme
	still   bool // goes on bar by bar
	themed  bool
	playing bool
}

// soundingSpot is a spot of the layout and when it sounds, in quarters of the
// way through the piece.
type soundingSpot struct {
	from, until float64
	spot        engrave.Spot
}

// sight is a layout on the stage.
type sight struct {
	layout *engrave.Layout
	scale  float64 // device pixels a staff space
	seen   look.Seen
}

// frame describes what the staff shows now.
func (a *app) frame() stage.Frame {
	c := &a.camera
	if !c.themed {
		a.dress()
	}
	f := stage.Frame{Theme: c.theme}
	if a.layout == nil {
		return f
	}
	s := a.sight()
	if c.shown != s.layout {
		a.arrive(&s)
		a.mark(s.layout)
	}
	if o, ok := a.desk.Ornament(); ok {
		f.Selected = o.ID
	} else {
		f.Note = a.desk.Note
	}
	f.Layout, f.Scale, f.Marks = s.layout, s.scale, a.marks
	f.Pinned = s.layout == a.layout
	sounds := false
	if !f.Pinned {
		f.Pale = a.page.pale
	} else if a.rounds.Round != nil && !a.rounds.Rests() {
		now := dom.Now()
		if at, ok := a.rounds.Round.Place(now+a.sound.pictureMS, a.sound.clock); ok {
			c.playing, sounds = true, true
			a.follow(&f, &s, at)
		}
	}
	if c.playing && !sounds {
		c.playing = false
		a.reveal()
		s = a.sight()
	}
	f.ScrollX, f.ScrollY = s.seen.X, s.seen.Y
	if !sounds {
		c.place = a.placeIn(&s)
	}
	c.shown, c.seen = s.layout, s.seen
	return f
}

// follow moves what is seen of the run to the sounding place.
func (a *app) follow(f *stage.Frame, s *sight, at round.Place) {
	c, q := &a.camera, at.Quarters
	c.place = q
	f.Line, f.Playing = true, !c.still // a still staff waits for the next tick
	if c.sounded != a.sounding() {
		c.prepare(a)
	}
	f.Sounding = c.sounding(at.Played)
	line := look.Line(s.layout, s.seen.Width)
	if at.Leapt {
		line += look.Glide(at.Since, s.layout.X(q)-s.layout.X(at.From), s.layout, s.seen.Width)
	}
	s.seen.X = s.layout.X(q) - line
	if c.still {
		head := s.layout.HeadWidth + 2*look.Margin
		room := (s.seen.Width - head - look.Margin) / s.layout.PerQuarter
		s.seen.X = s.layout.X(look.Turn(c.bars, room, q)) - head
		line = max(s.layout.X(look.Beat(c.beats, q))-s.seen.X, head-look.Margin)
	}
	f.LineX = line * s.scale
}

// sight returns what is on the stage at rest.
func (a *app) sight() sight {
	width, height := stage.Size()
	ratio := dom.DevicePixelRatio()
	var s sight
	if a.onPage() {
		s.scale = stage.Grid(a.look.PageSpace(width/ratio) * ratio)
		s.layout = a.pageLayout(look.SystemWidth(width / s.scale))
	}
	paged := s.layout != nil
	if !paged { // or the page is not there yet
		s.layout = a.layout
		s.scale = stage.Grid(a.look.RunSpace(s.layout.Bottom-s.layout.Top, width/ratio, height/ratio) * ratio)
		if a.rounds.Clapping() {
			s.scale = stage.Grid(height / (s.layout.Bottom - s.layout.Top + 2*look.Margin))
		}
	}
	l := s.layout
	s.seen.Width, s.seen.Height = width/s.scale, height/s.scale
	margin := look.Margin
	if !paged {
		margin = look.RunMargin(l.Bottom-l.Top, s.seen.Height)
	}
	tall := l.Bottom - l.Top + 2*margin
	dom.SetExtent(tall * s.scale / ratio)
	s.seen.Y = l.Top - margin + dom.Scrolled()*ratio/s.scale
	if paged {
		s.seen.X = (l.Left + l.Right - s.seen.Width) / 2
	} else {
		s.seen.Y -= max(0, s.seen.Height-tall) / 2
		s.seen.X = look.Bounded(l, a.camera.scroll, s.seen.Width)
	}
	return s
}

// arrive keeps the place when another layout comes on the stage.
func (a *app) arrive(s *sight) {
	c, was := &a.camera, a.camera.shown
	switch {
	case was == nil:
		c.scroll = s.layout.Left - s.layout.HeadWidth - look.Margin
	case s.layout.PerQuarter == 0:
		if was.PerQuarter > 0 {
			s.seen.Y = s.layout.Bottom + 1 // what was there says nothing
		}
		a.scrollPage(s, look.RevealOnPage(s.layout, c.place, s.seen))
	case was.PerQuarter == 0:
		c.scroll = look.Bounded(s.layout, s.layout.X(c.place)-look.Line(s.layout, s.seen.Width), s.seen.Width)
	default:
		c.scroll = look.Carry(was, s.layout, c.seen, c.place)
	}
	*s = a.sight()
}

// scrollPage scrolls a page so that y stands at the top of the stage.
func (a *app) scrollPage(s *sight, y float64) {
	dom.ScrollTo((y - (s.layout.Top - look.Margin)) * s.scale / dom.DevicePixelRatio())
}

// placeIn is the onset before the eye.
func (a *app) placeIn(s *sight) float64 {
	onset, ok := a.desk.Onset()
	return look.Place(s.layout, s.seen, onset.Float(), ok)
}

// reveal brings what is selected in sight.
func (a *app) reveal() {
	onset, ok := a.desk.Onset()
	if !ok || a.layout == nil {
		return
	}
	s := a.sight()
	if s.layout != a.layout {
		a.scrollPage(&s, look.RevealOnPage(s.layout, onset.Float(), s.seen))
		return
	}
	a.camera.scroll = look.Reveal(s.layout, onset.Float(), s.seen.X, s.seen.Width)
}

// pull moves the resting run with a finger or the wheel.
func (a *app) pull(d dom.Drag) {
	if a.rounds.Round != nil || a.layout == nil || a.onPage() {
		return
	}
	s := a.sight()
	if d.Phase == dom.DragStart {
		a.camera.pulled = a.camera.scroll
	}
	spaces := d.DX * dom.DevicePixelRatio() / s.scale
	a.camera.scroll = look.Bounded(s.layout, a.camera.pulled-spaces, s.seen.Width)
	stage.Refresh()
}

// finger is half of a 44-pixel target, in CSS pixels.
const finger = 22

// pick selects what stands at a place of the stage, in CSS pixels. The sign
// that is chosen already opens its line, or closes it.
func (a *app) pick(x, y float64) {
	if a.layout == nil || a.rounds.Round != nil {
		return
	}
	s := a.sight()
	per := dom.DevicePixelRatio() / s.scale
	spot, ok := s.layout.At(x*per+s.seen.X, y*per+s.seen.Y, finger*per)
	if !ok {
		return
	}
	before := a.desk.Selected
	if spot.Ornament == "" {
		a.desk.SelectNote(spot.Note)
	} else if a.desk.SelectID(spot.Ornament); a.desk.Selected == before {
		a.toggleLine()
		return
	}
	a.show()
	a.keep()
	stage.Refresh()
}

// prepare collects what changes while the run sounds.
func (c *camera) prepare(a *app) {
	c.sounds = c.sounds[:0]
	spots := map[string][]engrave.Spot{}
	for _, s := range a.layout.Spots {
		key := string(s.Note)
		if s.Ornament != "" && s.Index >= 0 {
			key = s.Ornament
		}
		spots[key] = append(spots[key], s)
	}
	c.sounded = a.sounding()
	for _, n := range c.sounded.Notes {
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
	c.bars, c.beats = c.bars[:0], c.beats[:0]
	for m := a.desk.From; m < a.desk.To; m++ {
		c.bars = append(c.bars, a.desk.Passage.Measures[m].Onset.Float())
	}
	c.bars = append(c.bars, a.layout.Systems[0].End)
	for _, b := range a.desk.Sounding().Beats {
		c.beats = append(c.beats, b.Onset.Float())
	}
}

// sounding is what sounds: along the repeats, where a round plays them.
func (a *app) sounding() *perf.Performance {
	if a.rounds.Round != nil && a.rounds.Round.Plan().Settings.Legs > 0 {
		return a.rounds.Round.Plan().Sounding
	}
	return a.desk.Sounding()
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
