package main

import (
	"agremens/game/place"
	"agremens/web/dom"
)

// placeKey names in the window's storage which place was open; early.js reads
// it too.
const placeKey = "agremens.place"

// rooms are the three places of the desk; one is open at a time.
type rooms struct {
	at   place.Place
	send func() // something may go home
}

func newRooms(send func()) *rooms {
	kept, _, _ := dom.LoadTab(placeKey)
	p := &rooms{place.Parse(kept), send}
	for _, to := range place.All() {
		dom.OnClick("place-"+string(to), func() { p.open(to) })
	}
	dom.OnClick("open-piece", func() { dom.OpenSheet("bring") })
	dom.OnClick("open-other", func() { dom.OpenSheet("bring") })
	dom.OnClick("bring-close", func() { dom.CloseSheet("bring") })
	p.show()
	return p
}

// open goes to a place.
func (p *rooms) open(to place.Place) {
	p.at = to
	_ = dom.StoreTab(placeKey, string(to))
	dom.CloseMenus()
	p.show()
	if to == place.Send {
		p.send()
	}
}

func (p *rooms) show() {
	dom.SetPlace(string(p.at))
	for _, to := range place.All() {
		dom.SetAttr("place-"+string(to), "aria-current", map[bool]string{true: "true", false: "false"}[to == p.at])
	}
}

// tapped goes where the result of a round will stand.
func (p *rooms) tapped() {
	if to := p.at.Tapped(); to != p.at {
		p.open(to)
	}
}
