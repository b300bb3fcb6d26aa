package main

import (
	"strings"

	"agremens/game/conduct"
	"agremens/game/listening"
	"agremens/game/listening/ear"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/tap"
	"agremens/realize/words"
	"agremens/web/dom"
)

// restMS is how long it is silent after the last note before the round ends by
// itself, ms; lookMS how often that is looked at.
const (
	restMS = 2500
	lookMS = 250
)

// hark is a round at the piano that the page listens to.
type hark struct {
	words   *words.Catalogue
	rounds  *conduct.Conductor
	say     func(string)
	plan    *round.Plan // what is being played, nil nothing
	wants   []tap.Want  // its notes, as the listener counts them
	altered bool        // the device changes the sound
	taken   bool        // and took the microphone away
	opening bool
	ended   bool    // the last note was heard
	warned  bool    // it was said that nothing is heard
	last    float64 // when a note was heard last, ms
	stop    func()  // ends the looking
}

func newHark(c *words.Catalogue, r *conduct.Conductor, say func(string)) *hark {
	h := &hark{words: c, rounds: r, say: say}
	dom.OnClick("hark-start", func() { go h.start() })
	dom.OnFiles("hark-file", func(files []dom.File) { h.file(files[0]) })
	dom.OnHidden(func(hidden bool) {
		if hidden && h.plan != nil {
			h.Enough()
		}
	})
	return h
}

// start asks for the microphone and begins.
func (h *hark) start() {
	if h.opening {
		return
	}
	h.rounds.Stop()
	h.opening = true
	dom.SetDisabled("hark-start", true)
	altered, trouble := dom.OpenMicrophone(h.microphone())
	h.opening = false
	dom.SetDisabled("hark-start", false)
	if trouble != "" {
		h.say(listening.Trouble(trouble).Say(h.words))
		return
	}
	if h.plan = h.rounds.Play(h); h.plan == nil {
		dom.DropListening()
		return
	}
	h.altered, h.taken, h.ended = altered, false, false
	task, wants := listening.Task(h.plan)
	h.wants = wants
	h.sign("")
	dom.BeginListening(task.Pack())
	h.stop = dom.Every(lookMS, h.look)
	h.show()
}

func (h *hark) microphone() dom.Microphone {
	return dom.Microphone{
		Heard: h.heard, Report: h.report,
		Taken:  func() { h.taken = true; h.Enough() },
		Failed: h.failed,
		Take:   func([]float64, []float64) {},
	}
}

// mostFile is the largest recording that is read, bytes.
const mostFile = 30 << 20

// dropped judges a recording that was dropped on a round at the piano, and
// reports whether it was one.
func (h *hark) dropped(files []dom.File) bool {
	if h.rounds.Kind != practice.Piano || len(files) != 1 || !listening.Recording(files[0].Name) {
		return false
	}
	h.file(files[0])
	return true
}

// file judges a recording, or a MIDI file, as if it were played now.
func (h *hark) file(f dom.File) {
	if f.Err != nil || len(f.Data) > mostFile {
		h.say(listening.Unreadable.Say(h.words))
		return
	}
	if h.plan = h.rounds.Play(h); h.plan == nil {
		return
	}
	task, wants := listening.Task(h.plan)
	h.wants, h.altered, h.taken, h.ended = wants, false, false, false
	h.show()
	if trouble := dom.HearFile(task.Pack(), f.Data, h.microphone()); trouble != "" {
		h.Drop()
		h.rounds.Played(nil, nil, listening.Trouble(trouble).Say(h.words))
	}
}

// heard shows what came: notes on the staff, and what is wrong with the sound.
func (h *hark) heard(notes []float64) {
	for _, n := range notes {
		if said := listening.SayLevel(ear.Level(n), h.words); said != "" {
			h.sign(said)
			h.warned = ear.Level(n) == ear.LevelFaint
			continue
		}
		if h.warned { // it was only that nothing had been played yet
			h.sign("")
		}
		h.last = dom.Now()
		h.ended = h.ended || n < 0
		if i := int(n); i >= 0 && i < len(h.wants) {
			h.rounds.Light(&h.wants[i])
		}
	}
}

// sign says that the microphone is on, and more.
func (h *hark) sign(more string) {
	text := h.words.Say("The microphone is on.")
	h.warned = false
	if h.altered {
		text += " " + h.words.Say("This device changes the sound although it was asked not to: soft notes may be missed.")
	}
	dom.SetText("hark-sign", strings.TrimSpace(text+" "+more))
}

// look ends the round a while after the last note.
func (h *hark) look() {
	if h.ended && dom.Now()-h.last > restMS {
		h.Enough()
	}
}

// Enough switches the microphone off and has what was heard judged.
func (h *hark) Enough() {
	if h.stop == nil {
		return
	}
	h.quiet()
	dom.EndListening()
}

// Drop forgets what was heard.
func (h *hark) Drop() {
	h.quiet()
	h.plan = nil
	dom.DropListening()
	h.show()
}

func (h *hark) quiet() {
	if h.stop != nil {
		h.stop()
		h.stop = nil
	}
	h.show()
}

// report ends the round with what was heard.
func (h *hark) report(row []float64) {
	if h.plan == nil {
		return
	}
	r := ear.Unpack(row)
	var judged *round.Round
	var remarks []string
	refusal := listening.Refusal(r, h.words)
	if refusal == "" {
		judged, remarks = listening.Judge(h.plan, r), listening.Remarks(r, h.altered, h.words)
	}
	if h.taken {
		remarks = append(remarks, listening.Taken.Say(h.words))
	}
	h.plan = nil
	h.rounds.Played(judged, remarks, refusal)
	h.show()
}

func (h *hark) failed() {
	if h.plan != nil {
		h.Drop()
		h.rounds.Played(nil, nil, listening.Unheard.Say(h.words))
	}
}

// show shows the way in by the kind of round that it belongs to, and the sign
// while the microphone is open.
func (h *hark) show() {
	dom.SetHidden("hark", h.rounds.Kind != practice.Piano)
	dom.SetHidden("hark-start", h.plan != nil)
	dom.SetHidden("hark-why", h.plan != nil)
	dom.SetHidden("hark-recording", h.plan != nil)
	dom.SetHidden("hark-sign", h.stop == nil)
}
