package main

import (
	"agremens/game/desk"
	"agremens/web/dom"
)

// bindFollow connects the choice of which repeats and jumps are played.
func (a *app) bindFollow() {
	dom.OnChange("follow", func() {
		if o, ok := desk.ParseFollow(dom.Value("follow")); ok {
			a.rounds.Stop() // the way through the piece is another now
			a.desk.Follow = o
			a.settled()
		}
	})
}

// showFollow offers what the chosen bars have to follow, and nothing where
// there is nothing.
func (a *app) showFollow() {
	labels := map[string]string{
		"once":    a.words.Say("each bar once"),
		"repeats": a.words.Say("repeats played"),
		"jumps":   a.words.Say("D.C., D.S. played"),
		"all":     a.words.Say("repeats and D.C., D.S. played"),
	}
	var options []dom.Option
	for _, word := range a.desk.Follows() {
		options = append(options, dom.Option{Key: word, Label: labels[word]})
	}
	dom.SetOptions("follow", options, desk.FollowWord(a.desk.Following()))
	dom.SetHidden("follow-field", len(options) == 0)
}
