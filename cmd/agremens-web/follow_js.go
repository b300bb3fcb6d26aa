package main

import (
	"agremens/game/desk"
	"agremens/realize/words"
	"agremens/web/dom"
)

// followHost is what the choice of repeats asks of the program.
type followHost interface {
	OnDesk() *desk.Desk
	StopRound()
	Settled()
}

// follow is the choice of which repeats and jumps are played.
type follow struct {
	words *words.Catalogue
	host  followHost
}

func newFollow(c *words.Catalogue, h followHost) *follow {
	f := &follow{c, h}
	dom.OnChange("follow", func() {
		if o, ok := desk.ParseFollow(dom.Value("follow")); ok {
			h.StopRound() // the way through the piece is another now
			h.OnDesk().Follow = o
			h.Settled()
		}
	})
	return f
}

// show offers what the chosen bars have to follow, and nothing where there is
// nothing.
func (f *follow) show() {
	labels := map[string]string{
		"once":    f.words.Say("each bar once"),
		"repeats": f.words.Say("repeats played"),
		"jumps":   f.words.Say("D.C., D.S. played"),
		"all":     f.words.Say("repeats and D.C., D.S. played"),
	}
	d := f.host.OnDesk()
	var options []dom.Option
	for _, word := range d.Follows() {
		options = append(options, dom.Option{Key: word, Label: labels[word]})
	}
	dom.SetOptions("follow", options, desk.FollowWord(d.Following()))
	dom.SetHidden("follow-field", len(options) == 0)
}
