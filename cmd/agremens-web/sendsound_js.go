package main

import (
	"fmt"
	"strconv"

	"agremens/game/desk"
	"agremens/game/export"
	"agremens/realize/score"
	"agremens/synth"
	"agremens/web/dom"
)

// soundFile is the format that is made at leisure, from a sheet of its own.
const soundFile = "wav"

// openSound opens the sheet with what is set on the desk.
func (s *sending) openSound() {
	d := s.host.OnDesk()
	dom.SetValue("sound-percent", fmt.Sprintf("%.0f", d.Percent))
	dom.SetValue("sound-hands", desk.HandWord(d.Round(false).Play))
	dom.SetOptions("sound-instrument", instrumentOptions(s.words), d.Instrument)
	dom.SetChecked("sound-beat", d.Beat)
	dom.SetHidden("sound-road", d.Follows() == nil)
	dom.SetChecked("sound-repeats", d.Following() != (score.RoadOptions{}))
	text := s.words.Say("Bars {bars}, ornaments sounding.", "{bars}", d.Bars())
	if !d.Ornaments {
		text = s.words.Say("Bars {bars}, without the ornaments.", "{bars}", d.Bars())
	}
	dom.SetText("sound-sheet-bars", text)
	dom.SetText("sound-progress", "")
	dom.SetDisabled("sound-make", false)
	s.away = false
	dom.OpenSheet("sound-sheet")
}

// makeSound renders the file a part at a time, and stops when the sheet is
// put away.
func (s *sending) makeSound() {
	if s.making {
		return
	}
	percent, err := strconv.ParseFloat(dom.Value("sound-percent"), 64)
	if err != nil || percent < 20 || percent > 200 {
		dom.SetText("sound-progress", s.words.Say("The tempo is between 20 and 200 per cent."))
		dom.Focus("sound-percent")
		return
	}
	d := s.host.OnDesk()
	hands, _ := desk.ParseHand(dom.Value("sound-hands"))
	o := export.Options{
		From: d.From, To: d.To, Percent: percent, Plain: !d.Ornaments, Shaped: !d.Even,
		Hands: hands, Beat: dom.Checked("sound-beat"),
		Instrument: synth.Instrument(dom.Value("sound-instrument")),
		Tuning:     d.Temperament, Pitch: d.Pitch,
	}
	o.Along = true
	if d.Follows() != nil && dom.Checked("sound-repeats") {
		o.Road = score.RoadOptions{Repeats: true, Jumps: true}
	}
	name := export.FileName(d.Passage, soundFile, o)
	s.making = true
	dom.SetDisabled("sound-make", true)
	dom.SetText("sound-progress", s.words.Say("Making the sound …"))
	dom.Yield()
	parts := []dom.Part{{}} // the header comes last
	tenths, breathe := 0, dom.Breathe(turnMS)
	header, err := export.WAV(d.Reading, o, func(samples []byte) bool {
		parts = append(parts, dom.NewPart(samples))
		tenths++
		if tenths%50 == 0 {
			dom.SetText("sound-progress", s.words.Say("Making the sound: {n} seconds done.", "{n}", strconv.Itoa(tenths/10)))
		}
		breathe()
		return !s.away
	})
	s.making = false
	dom.SetDisabled("sound-make", false)
	if s.away {
		s.host.Status(s.words.Say("No sound file was created."))
		return
	}
	if err != nil {
		dom.SetText("sound-progress", s.words.Say("It could not be created: {error}.", "{error}", s.words.Tell(err)))
		return
	}
	parts[0] = dom.NewPart(header)
	s.sent(name, dom.DownloadParts(name, "audio/wav", parts))
	dom.CloseSheet("sound-sheet")
}
