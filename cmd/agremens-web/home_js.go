package main

import "agremens/web/dom"

// homeScreenKey says in the browser's storage that the home screen was offered.
const homeScreenKey = "agremens.homescreen"

// bindHome connects the offer of a place on the home screen: a page that lives
// there keeps its storage where browsers clear that of pages seldom visited.
func (a *app) bindHome() {
	dom.OnInstallable(a.offerHome)
	dom.OnClick("home-add", func() {
		a.homeOffered()
		if err := dom.Install(); err != nil {
			a.status(a.words.Say("The browser's own menu can add this page to the home screen."))
		}
	})
	dom.OnClick("home-not", func() {
		a.homeOffered()
		dom.Focus("listen")
	})
}

func (a *app) homeOffered() {
	_ = dom.Store(homeScreenKey, "offered")
	dom.SetHidden("home-offer", true)
}

// offerHome offers it once, on the student's page.
func (a *app) offerHome() {
	if a.homework == nil || dom.Installed() || !dom.CanInstall() && !dom.Coarse() {
		return
	}
	if _, offered, err := dom.Load(homeScreenKey); offered || err != nil {
		return // in a private window there is nothing to keep
	}
	text := a.words.Say("On the home screen this page opens without a network, and the tablet keeps what you did.")
	if !dom.CanInstall() {
		text += " " + a.words.Say("The browser's menu, or its share menu, has “Add to Home Screen”.")
	}
	dom.SetText("home-text", text)
	dom.SetHidden("home-add", !dom.CanInstall())
	dom.SetHidden("home-offer", false)
}
