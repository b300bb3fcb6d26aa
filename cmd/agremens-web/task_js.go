package main

import (
	"strconv"
	"strings"

	"agremens/game/class"
	"agremens/game/desk"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/realize/codec/packet"
	"agremens/realize/score"
	"agremens/realize/words"
	"agremens/web/dom"
)

// homeKey names in the browser's storage where the program lives on the web.
const homeKey = "agremens.home"

// tasksHost is what the sheet of a task asks of the program.
type tasksHost interface {
	OnDesk() *desk.Desk
	StopRound()
	Wish() (words string, kinds []string)
	KeepWish(words string, kinds []string)
	OpenTask(letters string) bool
	Class() *class.Class
	Give(names []string, tasks []packet.Task, why string)
	Settled()
	Date() int
}

// tasks is the teacher's sheet: what will be sent.
type tasks struct {
	words *words.Catalogue
	host  tasksHost
	kinds []string // in the order in which they were ticked
	free  map[score.ID]bool
	task  packet.Task
	link  string
	whom  []recipient
	why   string // the reason it was drafted for, "" none
}

func newTasks(c *words.Catalogue, h tasksHost) *tasks {
	t := &tasks{words: c, host: h, free: map[score.ID]bool{}}
	dom.OnClick("set-task", func() { t.openFor("", "", 0, nil) })
	dom.OnClick("task-close", func() { dom.CloseSheet("task") })
	dom.OnInput("task-words", t.make)
	dom.OnChange("task-home", t.setHome)
	dom.OnClick("task-copy", func() { copyLink("task", t.link, c); t.given() })
	dom.OnClick("task-share", func() { share("task", t.task.Title, t.link, c); t.given() })
	dom.OnClick("task-file", t.save)
	dom.OnClick("task-try", func() {
		dom.CloseSheet("task")
		h.OpenTask(packet.EncodeTask(t.first()))
	})
	dom.OnClick("task-print", func() { t.print("sheet"); t.given() })
	dom.OnClick("task-answers", func() { t.print("answers") })
	dom.SetHidden("task-share", !dom.CanShare())
	return t
}

// openFor opens the sheet: for a student by her key, "" for none, with the
// reason that a task was drafted for, where practice begins in per cent of the
// goal and the kinds of round; 0 and none leave them as they are.
func (t *tasks) openFor(name, why string, percent float64, kinds []string) {
	t.host.StopRound()
	if percent > 0 {
		t.host.OnDesk().SetPercent(percent)
		t.host.Settled()
	}
	var wish string
	wish, t.kinds = t.host.Wish()
	if len(kinds) > 0 {
		t.kinds = kinds
	}
	t.whom, t.why = nil, why
	if one := t.host.Class().Find(name); one != nil && one.Name != "" {
		t.whom = []recipient{{one.Key(), one.Name, t.host.OnDesk().Beats()}}
	}
	t.showWhom()
	dom.SetValue("task-words", wish)
	home, _, _ := dom.Load(homeKey)
	dom.SetValue("task-home", home)
	dom.SetText("task-said", "")
	dom.SetHidden("task-by-hand", true)
	t.showKinds()
	t.showFree()
	t.make()
	dom.OpenSheet("task")
}

// showKinds lists the kinds of round; those that are ticked say their place.
func (t *tasks) showKinds() {
	var checks []dom.Check
	for _, k := range practice.Kinds() {
		c := dom.Check{Key: k.Key, Label: t.words.Say(k.Name)}
		for i, key := range t.kinds {
			if key == k.Key {
				c.Checked, c.Label = true, c.Label+" ("+strconv.Itoa(i+1)+".)"
			}
		}
		checks = append(checks, c)
	}
	dom.SetChecks("task-kinds", checks, func(key string, on bool) {
		var kinds []string
		for _, k := range t.kinds {
			if k != key {
				kinds = append(kinds, k)
			}
		}
		if on {
			kinds = append(kinds, key)
		}
		t.kinds = kinds
		t.showKinds()
		dom.FocusCheck("task-kinds", key)
		t.make()
	})
}

func (t *tasks) showFree() {
	var checks []dom.Check
	d := t.host.OnDesk()
	for _, i := range d.Inside() {
		o := &d.Reading.Ornaments[i]
		checks = append(checks, dom.Check{
			Key:     string(o.Note),
			Label:   t.words.Say("bar {bar}, {ornament}", "{bar}", d.Passage.Measures[o.Measure].Number, "{ornament}", o.Choices[o.Chosen].Name),
			Checked: t.free[o.Note],
		})
	}
	dom.SetChecks("task-free", checks, func(key string, on bool) {
		t.free[score.ID(key)] = on
		t.make()
	})
}

func (t *tasks) setHome() {
	typed := dom.Value("task-home")
	if _, ok := lesson.CleanHome(typed); !ok && strings.TrimSpace(typed) != "" {
		dom.SetText("task-said", t.words.Say("A web address begins with https:// and is not on this computer."))
		return
	}
	dom.SetText("task-said", "")
	_ = dom.Store(homeKey, typed)
	t.make()
}
