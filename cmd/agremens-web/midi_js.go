package main

import (
	"errors"
	"strconv"
	"strings"

	"agremens/game/conduct"
	"agremens/realize/tap"
	"agremens/web/dom"
)

// midiKey remembers that a MIDI keyboard was connected here.
const midiKey = "agremens.midi"

// bindMIDI connects a MIDI keyboard when the user asks for it; later visits
// find it again where the browser need not ask.
func (a *app) bindMIDI() {
	dom.OnClick("midi", a.openMIDI)
	if _, before, _ := dom.Load(midiKey); before {
		go func() {
			if dom.MIDIAllowed() {
				a.openMIDI()
			}
		}()
	}
}

func (a *app) openMIDI() {
	dom.SetText("midi-text", a.words.Say("Looking for keyboards …"))
	err := dom.OpenMIDI(a.struck, func(names []string) {
		text := a.words.Say("No keyboard is connected yet. Switch it on or plug it in; it is recognized by itself.")
		if len(names) > 0 {
			text = a.words.Say("Connected: {names}. You can play on it, and pitch is compared too.", "{names}", strings.Join(names, ", "))
		}
		dom.SetText("midi-text", text)
		dom.SetDisabled("midi", true)
	})
	switch {
	case errors.Is(err, dom.ErrNoMIDI):
		dom.SetText("midi-text", a.words.Say("This browser does not connect MIDI keyboards. Chrome, Edge and Firefox do; letter keys and touchscreens work everywhere."))
	case err != nil:
		dom.SetText("midi-text", a.words.Say("The keyboard was not connected: {error}.", "{error}", a.words.Tell(err)))
	default:
		_ = dom.Store(midiKey, "on")
	}
}

// struck takes a key of a MIDI keyboard, as a tap or for the measurement of
// the rate.
func (a *app) struck(s dom.Strike) {
	if a.speed.test != nil {
		if s.Down {
			a.burst(s.At, conduct.OnMIDI)
		}
		return
	}
	t := tap.Tap{At: s.At, Key: s.Key, Strength: s.Velocity}
	if s.Down {
		t.Hand = a.rounds.HandOf(s.Key, s.At)
	}
	a.rounds.Strike(s.Down, t, "key "+s.Port+" "+strconv.Itoa(s.Key), conduct.OnMIDI)
}
