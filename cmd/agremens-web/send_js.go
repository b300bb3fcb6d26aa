package main

import (
	"agremens/game/export"
	"agremens/web/dom"
)

// bindSend connects the menu of what leaves the desk.
func (a *app) bindSend() {
	for _, f := range export.Formats() {
		if f.Key != soundFile {
			dom.OnClick("send-"+f.Key, func() { a.send(f) })
		}
	}
	dom.OnClick("send-wav", a.openSound)
	dom.OnClick("sound-make", a.makeSound)
	dom.OnEnter("sound-percent", a.makeSound)
	dom.OnSheetClosed("sound-sheet", func() { a.view.soundAway = true })
}

// send makes a file of what lies on the desk and hands it to the browser: the
// chosen bars as a picture, the whole passage in the other formats.
func (a *app) send(f export.Format) {
	d := a.desk
	o := export.Options{Plain: !d.Ornaments, Played: d.Ornaments, Along: true, Road: d.Follow}
	if f.Key == "svg" {
		o.From, o.To = d.From, d.To
	}
	name := export.FileName(d.Passage, f.Key, o)
	a.status(a.words.Say("Making {name} …", "{name}", name))
	dom.Yield()
	data, err := export.Write(f.Key, d.Reading, o)
	if err == nil {
		err = dom.Download(name, f.MIME, data)
	}
	a.sent(name, err)
}

// sent says what came of a file.
func (a *app) sent(name string, err error) {
	if err != nil {
		a.status("")
		a.say(a.words.Say("“{name}” could not be created: {error}.", "{name}", name, "{error}", a.words.Tell(err)))
		return
	}
	a.status(a.words.Say("{name} is in your downloads.", "{name}", name))
}
