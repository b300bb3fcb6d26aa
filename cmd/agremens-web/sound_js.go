package main

import (
	"agremens/game/conduct"
	"agremens/synth"
	"agremens/synth/clock"
	"agremens/synth/speaker"
	"agremens/web/dom"
)

// sound is the engine, the speaker it plays through and the clock that knows
// when each of its frames is heard.
type sound struct {
	*synth.Engine
	speaker *speaker.Speaker
	clock   *clock.Clock
	failed  error
	// lead is the player's own mean error on the present output, nil where it
	// was not measured; pictureMS how late its picture is.
	lead      *float64
	pictureMS float64
	opened    func() // is called when the device has been asked to open
	measured  func() bool
}

func newSound() *sound {
	return &sound{Engine: synth.New(conduct.Rate), clock: clock.New(conduct.Rate)}
}

// open opens the speaker. The browser keeps it silent until the page is
// touched; the page's audio.js wakes it then, and after every pause.
func (s *sound) open() {
	if s.speaker == nil && s.failed == nil {
		s.speaker, s.failed = speaker.Open(conduct.Rate, s.Render)
	}
}

// Open opens the speaker, and finds out again where the sound goes.
func (s *sound) Open() error {
	s.open()
	s.opened()
	return s.failed
}

// Poll feeds the clock with what the page's audio thread has told since.
func (s *sound) Poll() {
	if s.speaker != nil {
		dom.PollAudio(s.clock, s.speaker.Delivered())
	}
}

// Clock tells when a frame is heard.
func (s *sound) Clock() *clock.Clock { return s.clock }

// Held reports whether the browser has stopped the sound for a while.
func (s *sound) Held() bool { return dom.AudioHeld() }

// Failure says why the browser gives no sound, "" unknown.
func (s *sound) Failure() string { return dom.AudioFailed() }

// Lead is the player's own mean error on the present output.
func (s *sound) Lead() *float64 { return s.lead }

// PictureMS is how late the page's picture is.
func (s *sound) PictureMS() float64 { return s.pictureMS }

// Measured reports whether the delay of the present output was measured.
func (s *sound) Measured() bool { return s.measured() }
