package main

import (
	"strconv"

	"agremens/game/calibration"
	"agremens/game/conduct"
	"agremens/realize/words"
	"agremens/web/dom"
)

// Names in the browser's storage.
const (
	delaysKey = "agremens.delays"
	listenKey = "agremens.listen"
)

// delaysHost is what the measuring asks of the program.
type delaysHost interface {
	StopRound()
	Say(string)
}

// delays is what is known of the outputs of this device, and the measuring
// of one.
type delays struct {
	words *words.Catalogue
	sound *sound
	host  delaysHost

	book   calibration.Book
	output string // key of the present one
	told   float64
	run    *calibration.Run
	result calibration.Result
	asked  float64 // when the measuring was asked for; 0 when it is not waiting
}

// newDelays connects the measuring of delays, which is never asked for: it
// waits under More.
func newDelays(c *words.Catalogue, s *sound, h delaysHost) *delays {
	d := &delays{words: c, sound: s, host: h}
	s.opened = func() { go d.find() }
	s.measured = func() bool { _, ok := d.book.Find(d.output); return ok }
	text, _, _ := dom.Load(delaysKey)
	d.book = calibration.ParseBook(text)
	var outputs []dom.Option
	for _, l := range calibration.Listening(d.words) {
		outputs = append(outputs, dom.Option{Key: l[0], Label: l[1]})
	}
	listen, _, _ := dom.Load(listenKey)
	dom.SetOptions("output", outputs, listen)
	dom.OnChange("output", func() {
		_ = dom.Store(listenKey, dom.Value("output"))
		d.find()
	})
	dom.OnOutputChange(d.find)
	dom.OnClick("measure", func() {
		d.host.StopRound()
		d.show(d.words.Say(calibration.WordsBefore), false)
		dom.OpenSheet("calibrate")
	})
	dom.OnClick("forget-delay", func() { d.keep(d.book.Without(d.output)) })
	dom.OnClick("calibrate-start", d.start)
	dom.OnClick("calibrate-keep", func() {
		if k, ok := calibration.Keep(d.output, d.told, d.result); ok {
			d.keep(d.book.With(k))
		}
		dom.CloseSheet("calibrate")
	})
	dom.OnClick("calibrate-close", func() { dom.CloseSheet("calibrate") })
	dom.OnSheetClosed("calibrate", d.end)
	dom.OnSheetTap("calibrate", "calibrate-pad", func(at float64) bool {
		if d.run == nil {
			return false
		}
		d.run.Tap(at)
		return true
	})
	return d
}

// find works out where the sound goes and takes what is known of it.
func (d *delays) find() {
	o := dom.AudioOutput()
	d.output = calibration.Output{
		Listen: dom.Value("output"), Device: o.Device, Channels: o.Channels, LatencyMS: o.LatencyMS,
	}.Key()
	d.take()
}

// take tells the clock what is known of the present output.
func (d *delays) take() {
	k, ok := d.book.Find(d.output)
	d.sound.lead, d.sound.pictureMS = nil, k.PictureMS
	d.sound.clock.Extra(k.ExtraMS())
	if lead, sure := k.LeadMS(); ok && sure {
		d.sound.lead = &lead
	}
	dom.SetHidden("forget-delay", !ok)
	text := d.words.Say("The delay of this output was not measured.")
	if ok {
		text = k.InWords(d.words)
	}
	dom.SetText("delay-text", text)
}

func (d *delays) keep(b calibration.Book) {
	d.book = b
	if err := dom.Store(delaysKey, b.String()); err != nil {
		d.host.Say(d.words.Say("This browser does not save anything for this page: the delay is kept until you close it."))
	}
	d.take()
}

// start begins a measuring once the sound runs and its time is known.
func (d *delays) start() {
	d.sound.open()
	d.asked = dom.Now()
	d.show(d.words.Say("Starting the sound …"), true)
	d.sound.clock.Extra(0)
	dom.WakeLock(true)
}

// tick moves a measuring on.
func (d *delays) tick(now float64) {
	if d.asked > 0 {
		switch waited := now - d.asked; {
		case conduct.Heard(d.sound.clock, now, true, waited):
			d.asked = 0
			d.run = calibration.Start(conduct.Rate, d.sound.Play(calibration.Sequence(conduct.Rate)), d.sound.clock)
			dom.Focus("calibrate-pad")
		case waited > conduct.WaitMS:
			d.end()
			d.show(d.words.Say("The sound output does not respond. Is it muted, or in use?"), false)
		}
		return
	}
	if d.run == nil {
		return
	}
	before := d.run.Phase()
	phase := d.run.Tick(now, d.sound.clock)
	dom.SetValue("calibrate-part", strconv.FormatFloat(d.run.Part(), 'f', 3, 64))
	switch {
	case phase == calibration.Done:
		d.result = d.run.Result()
		d.told = d.sound.clock.Status().LatencyMS
		text := d.result.InWords(d.output, d.told, d.words)
		_, good := calibration.Keep(d.output, d.told, d.result)
		d.end()
		d.show(text, false)
		dom.SetHidden("calibrate-keep", !good)
		dom.SetData("calibrate", "offset-ms", strconv.FormatFloat(d.result.Sound.OffsetMS, 'f', 1, 64))
		dom.SetData("calibrate", "error-ms", strconv.FormatFloat(d.result.Sound.ErrorMS, 'f', 1, 64))
		dom.SetData("calibrate", "picture-ms", strconv.FormatFloat(d.result.Picture.OffsetMS, 'f', 1, 64))
	case phase != before && phase == calibration.Flashes:
		dom.EachFrame(d.flash)
		fallthrough
	default:
		dom.SetText("calibrate-text", phase.InWords(d.words))
	}
}

// flash lights the pad for the frame about to be drawn.
func (d *delays) flash(now float64) bool {
	run := d.run
	dom.SetClass("calibrate-pad", "lit", run != nil && run.Lit(now))
	return run != nil
}

// end puts the measuring away, done or not.
func (d *delays) end() {
	if d.run != nil || d.asked > 0 {
		d.sound.Stop()
		dom.WakeLock(false)
	}
	d.run, d.asked = nil, 0
	go d.find()
}

func (d *delays) show(text string, running bool) {
	dom.SetText("calibrate-text", text)
	dom.SetDisabled("calibrate-pad", !running)
	dom.SetHidden("calibrate-start", running)
	dom.SetHidden("calibrate-keep", true)
	dom.SetValue("calibrate-part", "0")
}
