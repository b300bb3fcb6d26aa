package main

import (
	"strings"

	"agremens/game/conduct"
	"agremens/game/desk"
	"agremens/web/dom"
)

// result is what came of the last round, and what is on while one runs.
type result struct{ rounds *conduct.Conductor }

func newResult(c *conduct.Conductor) *result { return &result{c} }

func (r *result) show() {
	dom.SetDisabled("stop", !r.rounds.Busy())
	dom.SetData("pad", "hand", desk.HandWord(r.rounds.Hand()))
	w := r.rounds.Result
	dom.SetText("result-words", w.Summary)
	dom.SetText("result-next", w.Next)
	dom.SetText("result-figures", strings.Join(w.Rest(), "\n"))
	dom.SetData("result", "told", yes(len(w.First())+len(w.Rest()) > 0))
	for _, name := range []string{"mean-ms", "spread-ms", "wanted", "hit", "missed", "extra", "gaps", "jumps"} {
		dom.SetData("result", name, w.Data[name])
	}
}
