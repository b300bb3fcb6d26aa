package main

import (
	"agremens/game/stage"
	"agremens/web/dom"
)

// showQuestions lists what the reading was not sure of, each with its answers;
// what is assumed comes first and holds until another is touched.
func (a *app) showQuestions() {
	var questions []dom.Question
	for _, q := range a.desk.Reading.Questions {
		ask := dom.Question{Text: q.Text}
		for i, o := range q.Options {
			label := o.Text
			if i == 0 {
				label = "✓ " + label
			}
			ask.Answers = append(ask.Answers, label)
		}
		if q.Note != "" {
			ask.Show = a.words.Say("Show it")
		}
		questions = append(questions, ask)
	}
	dom.SetQuestions("questions", questions, func(question, answer int) {
		if answer < 0 {
			a.desk.SelectNote(a.desk.Reading.Questions[question].Note)
			a.reveal()
			a.show()
			stage.Refresh()
			return
		}
		a.desk.Answer(question, answer)
		a.changed()
		a.rounds.Resound()
		if len(a.desk.Reading.Questions) == 0 {
			a.status(a.words.Say("All questions are answered; Undo takes an answer back."))
		}
	})
}
