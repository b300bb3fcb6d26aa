package main

import (
	"slices"

	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/realize/words"
	"agremens/web/dom"
)

// showSigns fills a group of buttons with the usual signs, and a second one
// (-more) with the rarer; those that stand are pressed.
func showSigns(c *words.Catalogue, id string, standing []string, choose func(key string)) {
	var usual, rare []dom.Button
	for i, s := range desk.Signs() {
		b := dom.Button{Key: s.Key, Label: c.Say(s.Name), Pressed: slices.Contains(standing, s.Key), Picture: signPicture(s)}
		if i < desk.UsualSigns {
			usual = append(usual, b)
		} else {
			rare = append(rare, b)
		}
	}
	dom.SetButtons(id, usual, choose)
	dom.SetButtons(id+"-more", rare, choose)
}

func signPicture(s desk.SignInfo) *dom.Picture {
	l := engrave.SignPicture(s.Sign)
	if s.Small != nil {
		l = engrave.SmallNotesPicture(s.Small, s.Slash)
	}
	p := picture(l)
	if p != nil {
		p.Unit = 9
	}
	return p
}
