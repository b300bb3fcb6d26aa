package main

import (
	"slices"
	"strings"

	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/web/dom"
)

// showSigns fills a group of buttons with the signs there are; those that
// stand are pressed.
func (a *app) showSigns(id string, standing []string, choose func(key string)) {
	var buttons []dom.Button
	for _, s := range desk.Signs() {
		buttons = append(buttons, dom.Button{Key: s.Key, Label: s.Name, Pressed: slices.Contains(standing, s.Key), Picture: signPicture(s)})
	}
	dom.SetButtons(id, buttons, choose)
}

func signPicture(s desk.SignInfo) *dom.Picture {
	l := engrave.SignPicture(s.Sign)
	if s.Small != 0 {
		l = engrave.SmallNotePicture(s.Small, s.Slash)
	}
	p := picture(l)
	if p != nil {
		p.Unit = 9
	}
	return p
}

// sentence begins a text with a capital and ends it with a full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + strings.TrimSuffix(text[1:], ".") + "."
}
