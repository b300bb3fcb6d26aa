package main

import (
	"math"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/words"
	"agremens/web/dom"
)

// studentHost is what the student's page asks of the program.
type studentHost interface {
	OnDesk() *desk.Desk
	Task() *lesson.Homework
	Pace(steps float64)
	Start(kind string)
	OpenPackets(string) bool
}

// student is the student's page of a task.
type student struct {
	words *words.Catalogue
	host  studentHost
}

func newStudent(c *words.Catalogue, h studentHost, done func()) *student {
	dom.OnClick("slower", func() { h.Pace(-1) })
	dom.OnClick("faster", func() { h.Pace(1) })
	dom.OnClick("to-piano", func() { h.Start(practice.Piano) })
	dom.OnClick("done", done)
	dom.OnFragment(func(fragment string) { h.OpenPackets(fragment) })
	return &student{c, h}
}

func (s *student) show() {
	h := s.host.Task()
	if h == nil {
		return
	}
	d := s.host.OnDesk()
	dom.SetText("student-words", h.Task.Words)
	dom.SetText("composer-text", s.words.Say("bars {bars}, goal {beats} = {n}, {hand}",
		"{bars}", strings.ReplaceAll(d.Bars(), "-", "–"), "{n}", strconv.Itoa(int(math.Round(d.Goal()))),
		"{beats}", d.BeatWord(), "{hand}", handInWords(d.Tap, s.words)))
	dom.SetDisabled("slower", d.Percent <= 20)
	dom.SetDisabled("faster", d.Percent >= 200)
}

func handInWords(h round.Hands, c *words.Catalogue) string {
	return map[string]string{"right": c.Say("right hand"), "left": c.Say("left hand"), "both": c.Say("both hands")}[desk.HandWord(h)]
}
