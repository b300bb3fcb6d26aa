package main

import (
	"agremens/game/desk"
	"agremens/realize/words"
	"agremens/web/dom"
)

// questionsHost is what the questions ask of the program.
type questionsHost interface {
	OnDesk() *desk.Desk
	Decided()
	Selected()
	Reveal()
	Status(string)
}

// questions are what the reading was not sure of, each with its answers; what
// is assumed comes first and holds until another is touched.
type questions struct {
	words *words.Catalogue
	host  questionsHost
}

func newQuestions(c *words.Catalogue, h questionsHost) *questions { return &questions{c, h} }

func (q *questions) show() {
	var asked []dom.Question
	for _, question := range q.host.OnDesk().Reading.Questions {
		ask := dom.Question{Text: question.Text}
		for i, o := range question.Options {
			label := o.Text
			if i == 0 {
				label = "✓ " + label
			}
			ask.Answers = append(ask.Answers, label)
		}
		if question.Note != "" {
			ask.Show = q.words.Say("Show it")
		}
		asked = append(asked, ask)
	}
	dom.SetQuestions("questions", asked, q.answer)
}

// answer takes an answer; one below 0 asks to be shown the place.
func (q *questions) answer(question, answer int) {
	d := q.host.OnDesk()
	if answer < 0 {
		d.SelectNote(d.Reading.Questions[question].Note)
		q.host.Reveal()
		q.host.Selected()
		return
	}
	d.Answer(question, answer)
	q.host.Decided()
	if len(d.Reading.Questions) == 0 {
		q.host.Status(q.words.Say("All questions are answered; Undo takes an answer back."))
	}
}
