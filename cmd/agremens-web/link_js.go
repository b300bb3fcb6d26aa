package main

import (
	"agremens/realize/words"
	"agremens/web/dom"
)

// copyLink puts a link on the clipboard and says so on the sheet. Where the
// browser does not let it, the link stands there, marked, to be copied by hand.
func copyLink(sheet, link string, c *words.Catalogue) {
	byHand := sheet + "-by-hand"
	err := dom.Copy(link)
	dom.SetHidden(byHand, err == nil)
	if err != nil {
		dom.SetText(sheet+"-said", c.Say("The browser does not allow copying. The link is selected here: copy it by hand."))
		dom.SetValue(byHand, link)
		dom.SelectText(byHand, 0, len(link))
		return
	}
	dom.SetText(sheet+"-said", c.Say("Copied: paste it into a message."))
}

func share(sheet, title, link string, c *words.Catalogue) {
	if err := dom.Share(title, link); err != nil {
		copyLink(sheet, link, c)
	}
}

func saveFile(said, name string, data []byte, c *words.Catalogue) {
	if err := dom.Download(name, "text/plain", data); err != nil {
		dom.SetText(said, c.Say("The file could not be saved: {error}.", "{error}", c.Tell(err)))
		return
	}
	dom.SetText(said, c.Say("Saved as “{name}”. Open it with Open, or drop it on the page.", "{name}", name))
}
