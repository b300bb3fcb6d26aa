package main

import (
	"agremens/game/engrave"
	"agremens/game/stage"
	"agremens/web/dom"
)

// pageView is the passage as a page.
type pageView struct {
	layout *engrave.Layout // nil before one is made
	width  float64         // it is broken to
	pale   []engrave.Box   // the bars that are not at work
	stale  bool            // the desk has changed since
	making *pageTask       // another is on its way
}

// pageTask is a page that is being laid out.
type pageTask struct{ width float64 }

// pageAtOnce is how many measures are laid out between two frames; more take
// their time beside them.
const pageAtOnce = 48

// onPage reports whether the page is on the stage: while it sounds, and until
// then from the moment it was asked for, it is the run.
func (s *staff) onPage() bool {
	return s.look.Page && !s.rounds.Sounding() && !s.rounds.Covered()
}

// pageLayout breaks the whole passage to a width, once. A long one is laid out
// beside the frames: until it is there, it returns the page as it was, or nil.
func (s *staff) pageLayout(width float64) *engrave.Layout {
	p := &s.page
	if p.layout != nil && p.width == width && !p.stale || p.making != nil && p.making.width == width {
		return p.layout
	}
	p.making = &pageTask{width}
	if len(s.host.OnDesk().Passage.Measures) > pageAtOnce {
		go s.makePage(p.making, dom.Breathe(turnMS))
	} else {
		s.makePage(p.making, nil)
	}
	return p.layout
}

// makePage lays the desk's passage out and shows it, if it is still wanted.
func (s *staff) makePage(t *pageTask, yield func()) {
	d := s.host.OnDesk()
	l := engrave.Page(d.Passage, d.Reading, t.width, engrave.Options{
		Played: d.Ornaments && !s.rounds.Covered(), Open: d.Lines(), Title: true, Yield: yield,
	})
	if p := &s.page; p.making == t {
		*p = pageView{layout: l, width: t.width, pale: l.Outside(p.pale[:0], d.From, d.To)}
		stage.Refresh()
	}
}
