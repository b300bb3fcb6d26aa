package main

import (
	"strings"

	"agremens/game/conduct"
	"agremens/game/listening"
	"agremens/game/listening/ear"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/game/studio"
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

// hark is a round at the piano, or a climb there, that the page listens to.
type hark struct {
	words    *words.Catalogue
	rounds   *conduct.Conductor
	say      func(string)
	today    *studio.Today
	plan     *round.Plan // what is being played, nil nothing
	wants    []tap.Want  // its notes, as the listener counts them
	open     bool        // the microphone is, and nothing is heard yet
	altered  bool        // the device changes the sound
	taken    bool        // and took the microphone away
	opening  bool
	unsteady bool    // the page's own sound stuttered
	ended    bool    // the last note was heard
	tuned    float64 // the tuning that was told last, cents
	warned   bool    // it was said that nothing is heard
	last     float64 // when a note was heard last, ms
	stop     func()  // ends the looking
}

func newHark(c *words.Catalogue, r *conduct.Conductor, t *studio.Today, say func(string)) *hark {
	h := &hark{words: c, rounds: r, today: t, say: say}
	dom.OnClick("hark-start", func() { go h.start() })
	dom.OnChange("hark-with", h.show)
	dom.OnFiles("hark-file", func(files []dom.File) { h.file(files[0]) })
	dom.OnHidden(func(hidden bool) {
		if hidden && (h.plan != nil || h.open) {
			r.Enough()
		}
	})
	return h
}

// meanwhile is what is to sound; a climb has a beat.
func (h *hark) meanwhile() practice.Meanwhile {
	switch {
	case dom.Value("hark-with") == "hand":
		return practice.TheBeatAndHand
	case dom.Value("hark-with") == "beat":
		return practice.TheBeat
	}
	if kind, _ := h.kind(); kind == practice.Climb {
		return practice.TheBeat
	}
	return practice.Silence
}

// kind is the kind of round that is listened to: the one that is chosen, or the
// piano's where today's step is at the piano. ok is false for other kinds.
func (h *hark) kind() (key string, ok bool) {
	step := ""
	if h.today.On {
		step = string(h.today.Current().Key)
	}
	switch {
	case step == practice.Piano || step == practice.Climb:
		return step, true
	case h.today.On && h.today.Path != "":
		return h.rounds.Kind, false // another step of a teacher's path
	case h.rounds.Kind == practice.Piano || h.rounds.Kind == practice.Climb:
		return h.rounds.Kind, true
	}
	return h.rounds.Kind, false
}

// start asks for the microphone and begins.
func (h *hark) start() {
	if h.opening {
		return
	}
	kind, _ := h.kind()
	meanwhile := h.meanwhile()
	h.rounds.Stop()
	if h.ask(meanwhile != practice.Silence) {
		if h.rounds.Play(h, kind, meanwhile) == nil {
			h.Drop()
		}
	}
}

// ask opens the microphone, beside what sounds or by itself, or says what is in
// the way.
func (h *hark) ask(beside bool) bool {
	h.opening = true
	dom.SetDisabled("hark-start", true)
	altered, trouble := dom.OpenMicrophone(h.microphone(), beside)
	h.opening = false
	dom.SetDisabled("hark-start", false)
	if trouble != "" {
		if trouble != "dropped" {
			h.say(listening.Trouble(trouble).Say(h.words))
		}
		return false
	}
	h.altered, h.open = altered, true
	return true
}

// Listen hears a plan from now on; the microphone of the next round of a climb
// is opened anew.
func (h *hark) Listen(p *round.Plan, begun func()) {
	beside := len(p.Sequence.Clicks) > 0
	h.plan = p
	begin := func() {
		task, wants := listening.Task(p)
		h.wants, h.open = wants, false
		h.taken, h.ended, h.unsteady, h.last = false, false, false, dom.Now()
		h.sign("")
		dom.BeginListening(task.Pack())
		h.stop = dom.Every(lookMS, h.look)
		begun()
		h.show()
	}
	if h.open {
		begin()
		return
	}
	go func() {
		switch ok := h.ask(beside); {
		case h.plan != p: // it was stopped meanwhile
			h.Drop()
		case ok:
			begin()
		default:
			h.rounds.Stop()
		}
	}()
}

func (h *hark) microphone() dom.Microphone {
	return dom.Microphone{
		Heard: h.heard, Report: h.report,
		Taken:  func() { h.taken = true; h.rounds.Enough() },
		Failed: h.failed,
		Take:   func([]float64, []float64) {},
	}
}

// mostFile is the largest recording that is read, bytes.
const mostFile = 30 << 20

// dropped judges a recording that was dropped on a round at the piano, and
// reports whether it was one.
func (h *hark) dropped(files []dom.File) bool {
	if kind, ok := h.kind(); !ok || kind != practice.Piano || len(files) != 1 || !listening.Recording(files[0].Name) {
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
	if h.rounds.Play(&recording{h, f.Data}, practice.Piano, practice.Silence) == nil {
		h.Drop()
	}
}

// recording is a hark that hears a file.
type recording struct {
	*hark
	file []byte
}

func (r *recording) Listen(p *round.Plan, _ func()) {
	task, wants := listening.Task(p)
	r.plan, r.wants, r.altered, r.taken, r.ended, r.unsteady = p, wants, false, false, false, false
	r.show()
	if trouble := dom.HearFile(task.Pack(), r.file, r.microphone()); trouble != "" {
		r.Drop()
		r.rounds.Played(nil, nil, listening.Trouble(trouble).Say(r.words))
	}
}

// heard shows what came: notes on the staff, and what is wrong with the sound.
func (h *hark) heard(notes []float64) {
	for _, n := range notes {
		if said := listening.SayLevel(ear.Level(n), h.words); said != "" {
			h.sign(said)
			h.warned = ear.Level(n) == ear.LevelFaint || ear.Level(n) == ear.LevelBeat
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
		h.rounds.Enough()
	}
}

// Enough switches the microphone off and has what was heard judged.
func (h *hark) Enough(steady bool) {
	if h.stop == nil {
		if h.opening { // nothing can be heard yet
			h.rounds.Stop()
		}
		return
	}
	h.unsteady = !steady
	h.quiet()
	dom.EndListening()
}

// Drop forgets what was heard.
func (h *hark) Drop() {
	h.quiet()
	h.plan, h.open = nil, false
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
	if refusal == "" && h.unsteady && r.Beat == ear.HeardBeat {
		refusal = listening.Broken.Say(h.words)
	}
	if refusal == "" {
		judged, remarks = listening.Judge(h.plan, r), listening.Remarks(r, h.altered, h.words)
		if said := listening.Tuning(r, h.tuned, h.words); said != "" {
			remarks, h.tuned = append(remarks, said), r.Cents
		}
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

// show shows the way in by the kinds of round that it belongs to, and the sign
// while the microphone is open.
func (h *hark) show() {
	kind, ok := h.kind()
	climb, busy := kind == practice.Climb, h.plan != nil
	dom.SetHidden("hark", !ok)
	dom.SetData("hark", "kind", kind)
	if ok && kind != h.rounds.Kind { // today's step, whatever is chosen
		dom.SetHidden("round", false)
		dom.SetHidden("round-caution", false)
		dom.SetText("round-purpose", "")
	}
	if climb && dom.Value("hark-with") == "silence" {
		dom.SetValue("hark-with", "beat") // a climb has a tempo to keep
	}
	dom.SetText("hark-start", map[bool]string{false: h.words.Say("Play, and the page listens"), true: h.words.Say("Climb at the piano, and the page listens")}[climb])
	dom.SetHidden("hark-start", busy)
	dom.SetHidden("hark-beside", busy)
	dom.SetHidden("hark-why", busy)
	dom.SetHidden("hark-recording", busy || climb)
	dom.SetHidden("hark-sign", h.stop == nil)
	why := h.words.Say("Your browser then asks for the microphone. The page hears on this device which notes you play and when: nothing of the sound is kept or sent.")
	if h.meanwhile() == practice.Silence {
		why += " " + h.words.Say("Play at your own tempo.")
	} else {
		why += " " + h.words.Say("A bar is counted in. Let the loudspeaker be heard, and your notes are held against its beat; with headphones they are held against each other.")
	}
	dom.SetText("hark-why", why)
}
