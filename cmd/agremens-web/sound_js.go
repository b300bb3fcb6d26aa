package main

import (
	"agremens/synth"
	"agremens/synth/clock"
	"agremens/synth/speaker"
	"agremens/web/dom"
)

const sampleRate = 48000

// sound is the engine, the speaker it plays through and the clock that knows
// when each of its frames is heard.
type sound struct {
	engine  *synth.Engine
	speaker *speaker.Speaker
	clock   *clock.Clock
	failed  error
	// lead is the player's own mean error on the present output, nil where it
	// was not measured; pictureMS how late its picture is.
	lead      *float64
	pictureMS float64
	held      bool // the browser has stopped it for a while
}

func newSound() *sound { return &sound{engine: synth.New(sampleRate), clock: clock.New(sampleRate)} }

// open opens the speaker. The browser keeps it silent until the page is
// touched; the page's audio.js wakes it then, and after every pause.
func (s *sound) open() {
	if s.speaker == nil && s.failed == nil {
		s.speaker, s.failed = speaker.Open(sampleRate, s.engine.Render)
	}
}

// poll feeds the clock with what the page's audio thread has told since.
func (s *sound) poll() {
	if s.speaker != nil {
		dom.PollAudio(s.clock, s.speaker.Delivered())
	}
}

// running reports whether sound is really heard and its time is known: for a
// tapping round well enough to judge by, unless that takes too long.
func (s *sound) running(tapping bool, waited float64) bool {
	if _, ok := s.clock.FrameAt(dom.Now()); !ok {
		return false
	}
	return !tapping || waited > sureMS || s.clock.Status().Sure
}

// sureMS is how long a tapping round waits for a clock it can judge by.
const sureMS = 4000

// watchPause says so while the browser or the device holds the sound: a call,
// another page, a lid that was shut.
func (a *app) watchPause() {
	if held := dom.AudioHeld(); held != a.sound.held {
		a.sound.held = held
		words := ""
		if held {
			words = a.words.Say("The sound was interrupted. Tap the page to continue where it stopped.")
		}
		a.status(words)
	}
}
