package main

import (
	"agremens/realize/words"
	"agremens/web/dom"
)

// homeScreenKey says in the browser's storage that the home screen was offered.
const homeScreenKey = "agremens.homescreen"

// homeHost is what the offer asks of the program.
type homeHost interface {
	OnTask() bool
	Status(string)
}

// home offers a place on the home screen: a page that lives there keeps its
// storage where browsers clear that of pages seldom visited.
type home struct {
	words *words.Catalogue
	host  homeHost
}

func newHome(c *words.Catalogue, host homeHost) *home {
	h := &home{c, host}
	dom.OnInstallable(h.offer)
	dom.OnClick("home-add", func() {
		h.offered()
		if err := dom.Install(); err != nil {
			host.Status(c.Say("The browser's own menu can add this page to the home screen."))
		}
	})
	dom.OnClick("home-not", func() {
		h.offered()
		dom.Focus("listen")
	})
	return h
}

func (h *home) offered() {
	_ = dom.Store(homeScreenKey, "offered")
	dom.SetHidden("home-offer", true)
}

// offer offers it once, on the student's page.
func (h *home) offer() {
	if !h.host.OnTask() || dom.Installed() || !dom.CanInstall() && !dom.Coarse() {
		return
	}
	if _, offered, err := dom.Load(homeScreenKey); offered || err != nil {
		return // in a private window there is nothing to keep
	}
	text := h.words.Say("On the home screen this page opens without a network, and the tablet keeps what you did.")
	if !dom.CanInstall() {
		text += " " + h.words.Say("The browser's menu, or its share menu, has “Add to Home Screen”.")
	}
	dom.SetText("home-text", text)
	dom.SetHidden("home-add", !dom.CanInstall())
	dom.SetHidden("home-offer", false)
}
