package main

import (
	"agremens/game/look"
	"agremens/game/stage"
	"agremens/web/dom"
)

// scrollPage scrolls a page so that y stands at the top of the stage.
func (s *staff) scrollPage(v *sight, y float64) {
	dom.ScrollTo((y - (v.layout.Top - look.Margin)) * v.scale / dom.DevicePixelRatio())
}

// placeIn is the onset before the eye.
func (s *staff) placeIn(v *sight) float64 {
	onset, ok := s.host.OnDesk().Onset()
	return look.Place(v.layout, v.seen, onset.Float(), ok)
}

// named is the place that the words name, or, where they name none, the one
// before the eye.
func (s *staff) named() float64 {
	if onset, ok := s.host.OnDesk().Onset(); ok {
		return onset.Float()
	}
	return s.camera.place
}

// scrolled follows a page that was scrolled: the words go on to the first sign
// in sight when the one they name has left it.
func (s *staff) scrolled() {
	stage.Refresh()
	if s.layout == nil || !s.onPage() {
		return
	}
	v, d := s.sight(), s.host.OnDesk()
	if v.layout == s.layout || v.layout != s.camera.shown || look.OnPage(v.layout, s.named(), v.seen) {
		return
	}
	for _, i := range d.Inside() {
		if o := &d.Reading.Ornaments[i]; look.OnPage(v.layout, o.Onset.Float(), v.seen) {
			d.SelectID(o.ID)
			s.host.Selected()
			return
		}
	}
}

// reveal brings what is selected in sight.
func (s *staff) reveal() {
	onset, ok := s.host.OnDesk().Onset()
	if !ok || s.layout == nil {
		return
	}
	v := s.sight()
	if v.layout != s.layout {
		s.scrollPage(&v, look.RevealOnPage(v.layout, onset.Float(), v.seen))
		return
	}
	s.camera.scroll = look.Reveal(v.layout, onset.Float(), v.seen.X, v.seen.Width)
}

// pull moves the resting run with a finger or the wheel.
func (s *staff) pull(d dom.Drag) {
	if s.rounds.Round != nil || s.layout == nil || s.onPage() {
		return
	}
	v := s.sight()
	if d.Phase == dom.DragStart {
		s.camera.pulled = s.camera.scroll
	}
	spaces := d.DX * dom.DevicePixelRatio() / v.scale
	s.camera.scroll = look.Bounded(v.layout, s.camera.pulled-spaces, v.seen.Width)
	stage.Refresh()
}

// finger is half of a 44-pixel target, in CSS pixels.
const finger = 22

// pick selects what is at a place of the stage, in CSS pixels. The sign
// that is chosen already opens its line, or closes it.
func (s *staff) pick(x, y float64) {
	if s.layout == nil || s.rounds.Round != nil {
		return
	}
	v := s.sight()
	per := dom.DevicePixelRatio() / v.scale
	spot, ok := v.layout.At(x*per+v.seen.X, y*per+v.seen.Y, finger*per)
	if !ok {
		return
	}
	d := s.host.OnDesk()
	before := d.Selected
	if spot.Ornament == "" {
		d.SelectNote(spot.Note)
	} else if d.SelectID(spot.Ornament); d.Selected == before {
		s.toggleLine()
		return
	}
	s.host.Selected()
}
