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
	scale float64         // device pixels a staff space
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

// sight is a layout on the stage.
type sight struct {
	layout *engrave.Layout
	scale  float64 // device pixels a staff space
	seen   look.Seen
}

// frame describes what the staff shows now.
func (s *staff) frame() stage.Frame {
	c := &s.camera
	if !c.themed {
		s.dress()
	}
	f := stage.Frame{Theme: c.theme}
	if s.layout == nil {
		return f
	}
	v := s.sight()
	if c.shown != v.layout {
		s.arrive(&v)
		s.mark(v.layout)
	}
	if o, ok := s.host.OnDesk().Ornament(); ok {
		f.Selected = o.ID
	} else {
		f.Note = s.host.OnDesk().Note
	}
	f.Layout, f.Scale, f.Marks = v.layout, v.scale, s.marks
	f.Pinned = v.layout == s.layout
	sounds := false
	if !f.Pinned {
		f.Pale = s.page.pale
	} else if at, ok := s.rounds.Place(); ok && !s.rounds.Rests() {
		c.playing, sounds = true, true
		s.follow(&f, &v, at)
	}
	if f.Pinned && len(s.ink) > 0 && s.rounds.Tapping() {
		f.Marks = s.ink
	}
	if s.wet {
		s.wet = false
		dom.Dry()
	}
	if c.playing && !sounds {
		c.playing = false
		s.reveal()
		v = s.sight()
	}
	f.ScrollX, f.ScrollY = v.seen.X, v.seen.Y
	if !sounds {
		c.place = s.placeIn(&v)
	}
	c.shown, c.seen, c.scale = v.layout, v.seen, v.scale
	return f
}

// follow moves what is seen of the run to the sounding place.
func (s *staff) follow(f *stage.Frame, v *sight, at round.Place) {
	c, q := &s.camera, at.Quarters
	c.place = q
	f.Line, f.Playing = true, !c.still // a still staff waits for the next tick
	if c.sounded != s.performance() {
		s.prepare()
	}
	f.Sounding = c.sounding(at.Played)
	line := look.Line(v.layout, v.seen.Width)
	if at.Leapt {
		line += look.Glide(at.Since, v.layout.X(q)-v.layout.X(at.From), v.layout, v.seen.Width)
	}
	v.seen.X = v.layout.X(q) - line
	if c.still {
		head := v.layout.HeadWidth + 2*look.Margin
		room := (v.seen.Width - head - look.Margin) / v.layout.PerQuarter
		v.seen.X = v.layout.X(look.Turn(c.bars, room, q)) - head
		line = max(v.layout.X(look.Beat(c.beats, q))-v.seen.X, head-look.Margin)
	}
	f.LineX = line * v.scale
}

// sight returns what is on the stage at rest.
func (s *staff) sight() sight {
	width, height := stage.Size()
	ratio := dom.DevicePixelRatio()
	var v sight
	if s.onPage() {
		v.scale = stage.Grid(s.look.PageSpace(s.layout.Bottom-s.layout.Top, width/ratio, height/ratio) * ratio)
		v.layout = s.pageLayout(look.SystemWidth(width / v.scale))
	}
	paged := v.layout != nil
	if !paged { // or the page is not there yet
		v.layout = s.layout
		v.scale = stage.Grid(s.look.RunSpace(s.layout.Bottom-s.layout.Top, width/ratio, height/ratio) * ratio)
		if s.rounds.Clapping() {
			v.scale = stage.Grid(height / (s.layout.Bottom - s.layout.Top + 2*look.Margin))
		}
	}
	l := v.layout
	v.seen.Width, v.seen.Height = width/v.scale, height/v.scale
	margin := look.Margin
	if !paged {
		margin = look.RunMargin(l.Bottom-l.Top, v.seen.Height)
	}
	tall := l.Bottom - l.Top + 2*margin
	dom.SetExtent(tall * v.scale / ratio)
	v.seen.Y = l.Top - margin + dom.Scrolled()*ratio/v.scale
	if paged {
		v.seen.X = (l.Left + l.Right - v.seen.Width) / 2
	} else {
		above := 0.5
		if s.rounds.Tapping() && s.glass {
			above = 0.85 // low, near the fingers
		}
		v.seen.Y -= max(0, v.seen.Height-tall) * above
		v.seen.X = look.Bounded(l, s.camera.scroll, v.seen.Width)
	}
	return v
}

// arrive keeps the place when another layout comes on the stage.
func (s *staff) arrive(v *sight) {
	c, was := &s.camera, s.camera.shown
	switch {
	case was == nil:
		c.scroll = v.layout.Left - v.layout.HeadWidth - look.Margin
	case v.layout.PerQuarter == 0:
		if was.PerQuarter > 0 {
			v.seen.Y = v.layout.Bottom + 1 // what was there says nothing
		}
		s.scrollPage(v, look.RevealOnPage(v.layout, s.named(), v.seen))
	case was.PerQuarter == 0:
		c.scroll = look.Bounded(v.layout, v.layout.X(s.named())-look.Line(v.layout, v.seen.Width), v.seen.Width)
	default:
		c.scroll = look.Carry(was, v.layout, c.seen, c.place)
	}
	*v = s.sight()
}
