package main

import (
	"agremens/game/class"
	"agremens/game/plan"
	"agremens/web/dom"
)

// nextTask is a task that is made ready for a student: drafted from a report,
// planned, or an earlier one.
type nextTask struct {
	student string // her key
	letters string
	why     string
	percent float64  // of the goal, where practice begins; 0 as it is in the task
	kinds   []string // of round; none as they are in the task
	// planned is what it stood in the plan as, and leaves with being given; nil
	// for what was not planned.
	planned *class.Planned

	title, bars string
}

// drafted is a student's next task: what is planned for the next lesson, else
// what follows from the last report. Where both are about the same bars the
// report says with which tempo to begin, and why.
func (s *classSheet) drafted(one *class.Student) (next nextTask, ok bool) {
	d, drafted := plan.Next(one, s.words)
	p, due := plan.Due(one, s.host.Date())
	if due {
		next = nextTask{letters: p.Letters, why: p.Why, planned: &p, title: p.Title, bars: p.Bars}
	}
	switch {
	case drafted && !due:
		next = nextTask{letters: d.Work.Letters, why: d.Reason, percent: d.Percent, kinds: d.Kinds, title: d.Work.Title, bars: d.Work.Bars}
	case drafted && d.Follows(p):
		next.why, next.percent = d.Reason, d.Percent
	}
	return next, due || drafted
}

// layNext lays the next task on the desk and opens its place.
func (s *classSheet) layNext() {
	if one := s.host.Class().Find(s.one); one != nil {
		if next, ok := s.drafted(one.WithLog(s.host.Practised())); ok {
			s.lay(next)
		}
	}
}

func (s *classSheet) lay(next nextTask) {
	next.student = s.one
	if s.host.NextTask(next.letters) {
		dom.CloseSheet("class")
		s.next(next)
	}
}

// plan lists the tasks of the coming weeks.
func (s *classSheet) plan(one *class.Student) {
	coming := one.Coming(s.host.Date())
	var cards []dom.Card
	for _, p := range coming {
		cards = append(cards, dom.Card{Title: plan.Heading(p, s.words), Lines: plan.Lines(p, s.words), Buttons: []dom.Button{
			{Key: "open", Label: s.words.Say("Open and change")}, {Key: "out", Label: s.words.Say("Take out")}}})
	}
	for i := range cards {
		cards[i].Key = string(rune('a' + i))
	}
	dom.SetCards("one-plan", cards, func(key, button string) {
		p := coming[key[0]-'a']
		if button == "open" {
			s.lay(nextTask{letters: p.Letters, why: p.Why, planned: &p})
			return
		}
		when := s.host.Minute()
		s.host.ChangeStudent(s.one, func(one *class.Student) { one.Unplan(p, when) })
		s.open(s.one)
		dom.Focus("one-weeks")
	})
	dom.SetDisabled("one-weeks", len(plan.Weeks(one, s.host.Date(), s.words)) == 0)
}

// draftWeeks puts a draft of the coming weeks in the place of the tasks that
// were planned for the same bars.
func (s *classSheet) draftWeeks() {
	stored := s.host.Class().Find(s.one)
	if stored == nil {
		return
	}
	weeks := plan.Weeks(stored.WithLog(s.host.Practised()), s.host.Date(), s.words)
	when := s.host.Minute()
	s.host.ChangeStudent(s.one, func(one *class.Student) {
		for _, p := range one.Coming(s.host.Date()) {
			if len(weeks) > 0 && p.Title == weeks[0].Title && p.Bars == weeks[0].Bars {
				one.Unplan(p, when)
			}
		}
		for _, p := range weeks {
			one.AddPlan(p, when)
		}
	})
	s.open(s.one)
	dom.Focus("one-weeks")
}
