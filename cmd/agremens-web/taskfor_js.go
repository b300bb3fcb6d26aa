package main

import (
	"math"
	"strconv"
	"strings"

	"agremens/game/class"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/web/dom"
)

// recipient is a student a task is for, and the tempo at which she begins, felt
// beats a minute.
type recipient struct {
	key, name string
	beats     float64
}

// prepare makes ready what lies on the desk for a student.
func (t *tasks) prepare(next nextTask) {
	d := t.host.OnDesk()
	wish, steps := t.host.Wish()
	kinds := next.kinds
	if len(kinds) == 0 {
		kinds = steps
	}
	// What is shown is what is kept: the place of a task may be open already.
	dom.SetValue("task-words", wish)
	t.kinds = kinds
	t.host.KeepWish(wish, kinds)
	if next.percent > 0 {
		d.SetPercent(next.percent)
		t.host.Settled()
	}
	t.desk, t.whom, t.why, t.planned = d.ID, nil, next.why, next.planned
	if one := t.host.Class().Find(next.student); one != nil && one.Name != "" {
		t.whom = []recipient{{one.Key(), one.Name, d.Beats()}}
	}
}

// taskFor is the task as one of them gets it.
func (t *tasks) taskFor(r recipient) packet.Task {
	task := t.task
	if goal := t.host.OnDesk().Goal(); goal > 0 {
		task.Percent = r.beats / goal * 100
	}
	return task
}

// first is the task of the first of them, as it stands on the desk for none.
func (t *tasks) first() packet.Task {
	if len(t.whom) > 0 {
		return t.taskFor(t.whom[0])
	}
	return t.task
}

// showWhom lists the students to choose from, and the tempos of those chosen.
func (t *tasks) showWhom() {
	var checks []dom.Check
	for _, s := range t.host.Class().Students {
		if s.Name != "" {
			checks = append(checks, dom.Check{Key: s.Key(), Label: s.Name, Checked: t.find(s.Key()) >= 0})
		}
	}
	dom.SetHidden("task-for", len(checks) == 0)
	dom.SetChecks("task-students", checks, func(key string, on bool) {
		if i := t.find(key); i >= 0 {
			t.whom = append(t.whom[:i:i], t.whom[i+1:]...)
		}
		t.desk = t.host.OnDesk().ID
		if s := t.host.Class().Find(key); on && s != nil {
			t.whom = append(t.whom, recipient{key, s.Name, t.host.OnDesk().Beats()})
		}
		t.showTempos()
		t.make()
	})
	why := ""
	if t.why != "" {
		why = t.words.Say("Because: {reason}", "{reason}", t.why)
	}
	dom.SetText("task-why", why)
	t.showWeeks()
	t.showTempos()
}

func (t *tasks) showTempos() {
	var names, values []string
	var fields []dom.Check
	for _, r := range t.whom {
		names = append(names, r.name)
		fields = append(fields, dom.Check{Key: r.key, Label: t.words.Say("{name} begins at", "{name}", r.name)})
		values = append(values, t.words.Number(r.beats, 0))
	}
	text := t.words.Say("For whom")
	if len(names) > 0 {
		text = t.words.Say("For {names}", "{names}", strings.Join(names, ", "))
	}
	dom.SetText("task-for-name", text)
	dom.SetNumbers("task-tempos", fields, values, func(key, value string) {
		beats, err := strconv.ParseFloat(value, 64)
		if i := t.find(key); i >= 0 && err == nil && beats >= 10 && beats <= 400 {
			t.whom[i].beats = beats
		}
		t.showTempos()
		t.make()
	})
}

func (t *tasks) find(key string) int {
	for i := range t.whom {
		if t.whom[i].key == key {
			return i
		}
	}
	return -1
}

// links are those of several students, a line each.
func (t *tasks) links(home string) string {
	var lines []string
	for _, r := range t.whom {
		lines = append(lines, r.name+": "+lesson.Link(home, packet.TaskKind, packet.EncodeTask(t.taskFor(r))))
	}
	return strings.Join(lines, "\n")
}

// save saves the task as a file, one for each student it is for.
func (t *tasks) save() {
	whom := t.whom
	if len(whom) == 0 {
		whom = []recipient{{beats: t.host.OnDesk().Beats()}}
	}
	for _, r := range whom {
		saveFile("task-said", lesson.FileName(t.words.Say("task"), r.name, t.task.Title), lesson.File(packet.TaskKind, packet.EncodeTask(t.taskFor(r))), t.words)
	}
	t.given()
}

// given notes in the class who was given the task.
func (t *tasks) given() {
	var names []string
	var given []packet.Task
	for _, r := range t.whom {
		names = append(names, r.key)
		given = append(given, t.taskFor(r))
	}
	if len(names) > 0 {
		t.host.Give(names, given, t.why)
		t.unplan()
	}
}

// unplan takes what was given, or planned anew, out of the plan it stood in.
func (t *tasks) unplan() {
	if p := t.planned; p != nil && len(t.whom) > 0 {
		t.planned = nil
		when := t.host.Minute()
		t.host.ChangeStudent(t.whom[0].key, func(s *class.Student) { s.Unplan(*p, when) })
	}
}

// most weeks ahead for which a task is put into the plan.
const mostAhead = 8

// showWeeks offers the lessons to plan for.
func (t *tasks) showWeeks() {
	all := []dom.Option{{Key: "0", Label: t.words.Say("the next one")}}
	for n := 1; n <= mostAhead; n++ {
		all = append(all, dom.Option{Key: strconv.Itoa(n), Label: t.words.Count(n, "{n} week after", "{n} weeks after")})
	}
	dom.SetOptions("task-week", all, dom.Value("task-week"))
}

// plan puts the task into the plan of everyone it is for.
func (t *tasks) plan() {
	weeks, today, when := whole(dom.Value("task-week")), t.host.Date(), t.host.Minute()
	goal := int(math.Round(t.host.OnDesk().Goal()))
	if len(t.whom) == 0 {
		dom.SetText("task-said", t.words.Say("Tick for whom it is first."))
		return
	}
	var names []string
	t.unplan()
	for _, r := range t.whom {
		task := t.taskFor(r)
		p := class.Planned{Title: task.Title, Bars: task.Bars, Why: t.why, Letters: packet.EncodeTask(task), Begin: int(math.Round(r.beats)), Goal: goal, Signs: class.SignsOf(task)}
		if t.host.ChangeStudent(r.key, func(s *class.Student) {
			p.Day = s.NextLesson(today) + weeks*class.Span
			s.AddPlan(p, when)
		}) {
			names = append(names, r.name)
		}
	}
	dom.SetText("task-said", t.words.Say("In the plan of {names}.", "{names}", strings.Join(names, ", ")))
}
