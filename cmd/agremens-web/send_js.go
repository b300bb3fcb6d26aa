package main

import (
	"agremens/game/desk"
	"agremens/game/export"
	"agremens/realize/words"
	"agremens/web/dom"
)

// sendingHost is what the sheet of what leaves asks of the program.
type sendingHost interface {
	OnDesk() *desk.Desk
	Say(string)
	Status(string)
}

// sending is the sheet of what leaves the desk.
type sending struct {
	words *words.Catalogue
	host  sendingHost
	// making says that a sound file is being made, away that its sheet was put
	// away.
	making, away bool
}

func newSending(c *words.Catalogue, h sendingHost) {
	s := &sending{words: c, host: h}
	dom.OnClick("open-files", func() { dom.OpenSheet("files") })
	dom.OnClick("files-close", func() { dom.CloseSheet("files") })
	for _, f := range export.Formats() {
		make := func() { s.send(f) }
		if f.Key == soundFile {
			make = s.openSound
		}
		dom.OnClick("send-"+f.Key, func() {
			dom.CloseSheet("files")
			make()
		})
	}
	dom.OnClick("sound-make", s.makeSound)
	dom.OnEnter("sound-percent", s.makeSound)
	dom.OnSheetClosed("sound-sheet", func() { s.away = true })
}

// send makes a file of what lies on the desk and hands it to the browser: the
// chosen bars as a picture, the whole passage in the other formats.
func (s *sending) send(f export.Format) {
	d := s.host.OnDesk()
	o := export.Options{Plain: !d.Ornaments, Played: d.Ornaments, Shaped: !d.Even, Along: true, Road: d.Follow}
	if f.Key == "svg" {
		o.From, o.To = d.From, d.To
	}
	name := export.FileName(d.Passage, f.Key, o)
	s.host.Status(s.words.Say("Making {name} …", "{name}", name))
	dom.Yield()
	data, err := export.Write(f.Key, d.Reading, o)
	if err == nil {
		err = dom.Download(name, f.MIME, data)
	}
	s.sent(name, err)
}

// sent says what came of a file.
func (s *sending) sent(name string, err error) {
	if err != nil {
		s.host.Status("")
		s.host.Say(s.words.Say("“{name}” could not be created: {error}.", "{name}", name, "{error}", s.words.Tell(err)))
		return
	}
	s.host.Status(s.words.Say("{name} is in your downloads.", "{name}", name))
}
