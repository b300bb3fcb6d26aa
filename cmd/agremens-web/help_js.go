package main

import "agremens/web/dom"

// bindHelp connects the question marks beside the controls with their answers.
func (a *app) bindHelp() {
	dom.BindHelp("help")
	dom.OnClick("help-close", func() { dom.CloseSheet("help") })
}
