package main

import (
	"strconv"

	"agremens/game/calibration"
	"agremens/game/conduct"
	"agremens/web/dom"
)

// Names in the browser's storage.
const (
	delaysKey = "agremens.delays"
	listenKey = "agremens.listen"
)

// delays is what is known of the outputs of this device, and the measuring
// of one.
type delays struct {
	book   calibration.Book
	output string // key of the present one
	told   float64
	run    *calibration.Run
	result calibration.Result
	asked  float64 // when the measuring was asked for; 0 when it is not waiting
}

// bindCalibration connects the measuring of delays, which is never asked for:
// it waits under More.
func (a *app) bindCalibration() {
	text, _, _ := dom.Load(delaysKey)
	a.delays.book = calibration.ParseBook(text)
	var outputs []dom.Option
	for _, l := range calibration.Listening(a.words) {
		outputs = append(outputs, dom.Option{Key: l[0], Label: l[1]})
	}
	listen, _, _ := dom.Load(listenKey)
	dom.SetOptions("output", outputs, listen)
	dom.OnChange("output", func() {
		_ = dom.Store(listenKey, dom.Value("output"))
		a.findOutput()
	})
	dom.OnOutputChange(a.findOutput)
	dom.OnClick("measure", func() {
		a.rounds.Stop()
		a.showCalibration(a.words.Say(calibration.WordsBefore), false)
		dom.OpenSheet("calibrate")
	})
	dom.OnClick("forget-delay", func() { a.keepDelays(a.delays.book.Without(a.delays.output)) })
	dom.OnClick("calibrate-start", a.calibrate)
	dom.OnClick("calibrate-keep", func() {
		if k, ok := calibration.Keep(a.delays.output, a.delays.told, a.delays.result); ok {
			a.keepDelays(a.delays.book.With(k))
		}
		dom.CloseSheet("calibrate")
	})
	dom.OnClick("calibrate-close", func() { dom.CloseSheet("calibrate") })
	dom.OnSheetClosed("calibrate", a.endCalibration)
	dom.OnSheetTap("calibrate", "calibrate-pad", func(at float64) bool {
		if a.delays.run == nil {
			return false
		}
		a.delays.run.Tap(at)
		return true
	})
}

// findOutput works out where the sound goes and takes what is known of it.
func (a *app) findOutput() {
	o := dom.AudioOutput()
	d := &a.delays
	d.output = calibration.Output{
		Listen: dom.Value("output"), Device: o.Device, Channels: o.Channels, LatencyMS: o.LatencyMS,
	}.Key()
	a.takeDelay()
}

// takeDelay tells the clock what is known of the present output.
func (a *app) takeDelay() {
	d := &a.delays
	k, ok := d.book.Find(d.output)
	a.sound.lead, a.sound.pictureMS = nil, k.PictureMS
	a.sound.clock.Extra(k.ExtraMS())
	if lead, sure := k.LeadMS(); ok && sure {
		a.sound.lead = &lead
	}
	dom.SetHidden("forget-delay", !ok)
	text := a.words.Say("The delay of this output was not measured.")
	if ok {
		text = k.InWords(a.words)
	}
	dom.SetText("delay-text", text)
}

func (a *app) keepDelays(b calibration.Book) {
	a.delays.book = b
	if err := dom.Store(delaysKey, b.String()); err != nil {
		a.say(a.words.Say("This browser does not save anything for this page: the delay is kept until you close it."))
	}
	a.takeDelay()
}

// calibrate begins a measuring once the sound runs and its time is known.
func (a *app) calibrate() {
	a.sound.open()
	a.delays.asked = dom.Now()
	a.showCalibration(a.words.Say("Starting the sound …"), true)
	a.sound.clock.Extra(0)
	dom.WakeLock(true)
}

// tickCalibration moves a measuring on.
func (a *app) tickCalibration(now float64) {
	d := &a.delays
	if d.asked > 0 {
		switch waited := now - d.asked; {
		case conduct.Heard(a.sound.clock, now, true, waited):
			d.asked = 0
			d.run = calibration.Start(conduct.Rate, a.sound.Play(calibration.Sequence(conduct.Rate)), a.sound.clock)
			dom.Focus("calibrate-pad")
		case waited > conduct.WaitMS:
			a.endCalibration()
			a.showCalibration(a.words.Say("The sound output does not respond. Is it muted, or in use?"), false)
		}
		return
	}
	if d.run == nil {
		return
	}
	before := d.run.Phase()
	phase := d.run.Tick(now, a.sound.clock)
	dom.SetValue("calibrate-part", strconv.FormatFloat(d.run.Part(), 'f', 3, 64))
	switch {
	case phase == calibration.Done:
		d.result = d.run.Result()
		d.told = a.sound.clock.Status().LatencyMS
		words := d.result.InWords(d.output, d.told, a.words)
		_, good := calibration.Keep(d.output, d.told, d.result)
		a.endCalibration()
		a.showCalibration(words, false)
		dom.SetHidden("calibrate-keep", !good)
		dom.SetData("calibrate", "offset-ms", strconv.FormatFloat(d.result.Sound.OffsetMS, 'f', 1, 64))
		dom.SetData("calibrate", "error-ms", strconv.FormatFloat(d.result.Sound.ErrorMS, 'f', 1, 64))
		dom.SetData("calibrate", "picture-ms", strconv.FormatFloat(d.result.Picture.OffsetMS, 'f', 1, 64))
	case phase != before && phase == calibration.Flashes:
		dom.EachFrame(a.flash)
		fallthrough
	default:
		dom.SetText("calibrate-text", phase.InWords(a.words))
	}
}

// flash lights the pad for the frame about to be drawn.
func (a *app) flash(now float64) bool {
	run := a.delays.run
	dom.SetClass("calibrate-pad", "lit", run != nil && run.Lit(now))
	return run != nil
}

// endCalibration puts the measuring away, done or not.
func (a *app) endCalibration() {
	d := &a.delays
	if d.run != nil || d.asked > 0 {
		a.sound.Stop()
		dom.WakeLock(false)
	}
	d.run, d.asked = nil, 0
	go a.findOutput()
}

func (a *app) showCalibration(words string, running bool) {
	dom.SetText("calibrate-text", words)
	dom.SetDisabled("calibrate-pad", !running)
	dom.SetHidden("calibrate-start", running)
	dom.SetHidden("calibrate-keep", true)
	dom.SetValue("calibrate-part", "0")
}
