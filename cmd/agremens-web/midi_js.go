package main

import (
	"errors"
	"strconv"
	"strings"

	"agremens/game/conduct"
	"agremens/realize/tap"
	"agremens/realize/words"
	"agremens/web/dom"
)

// midiKey remembers that a MIDI keyboard was connected here.
const midiKey = "agremens.midi"

// midi connects a MIDI keyboard when the user asks for it; later visits find
// it again where the browser need not ask.
type midi struct {
	words  *words.Catalogue
	rounds *conduct.Conductor
	speed  *speed
	playIt *playIt
}

func newMIDI(c *words.Catalogue, r *conduct.Conductor, s *speed, p *playIt) {
	m := &midi{c, r, s, p}
	dom.OnClick("midi", m.open)
	if _, before, _ := dom.Load(midiKey); before {
		go func() {
			if dom.MIDIAllowed() {
				m.open()
			}
		}()
	}
}

func (m *midi) open() {
	dom.SetText("midi-text", m.words.Say("Looking for keyboards …"))
	err := dom.OpenMIDI(m.struck, func(names []string) {
		text := m.words.Say("No keyboard is connected yet. Switch it on or plug it in; it is recognized by itself.")
		if len(names) > 0 {
			text = m.words.Say("Connected: {names}. You can play on it, and pitch is compared too.", "{names}", strings.Join(names, ", "))
		}
		dom.SetText("midi-text", text)
		dom.SetDisabled("midi", true)
	})
	switch {
	case errors.Is(err, dom.ErrNoMIDI):
		dom.SetText("midi-text", m.words.Say("This browser does not connect MIDI keyboards. Chrome, Edge and Firefox do; letter keys and touchscreens work everywhere."))
	case err != nil:
		dom.SetText("midi-text", m.words.Say("The keyboard was not connected: {error}.", "{error}", m.words.Tell(err)))
	default:
		_ = dom.Store(midiKey, "on")
	}
}

// struck takes a key of a MIDI keyboard: as a tap, for the measurement of the
// rate, or to write down what is played.
func (m *midi) struck(s dom.Strike) {
	if m.speed.test != nil {
		if s.Down {
			m.speed.burst(s.At, conduct.OnMIDI)
		}
		return
	}
	if m.playIt.struck(s) {
		return
	}
	t := tap.Tap{At: s.At, Key: s.Key, Strength: s.Velocity}
	if s.Down {
		t.Hand = m.rounds.HandOf(s.Key, s.At)
	}
	m.rounds.Strike(s.Down, t, "key "+s.Port+" "+strconv.Itoa(s.Key), conduct.OnMIDI)
}
