package main

import (
	"slices"
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

// tasksHost is what the making of a task asks of the program.
type tasksHost interface {
	OnDesk() *desk.Desk
	StopRound()
	Wish() (words string, kinds []string)
	OwnTaps() map[string]packet.Taps
	KeepWish(words string, kinds []string)
	OpenTask(letters string) bool
	Class() *class.Class
	ChangeStudent(name string, change func(*class.Student)) bool
	Give(names []string, tasks []packet.Task, why string)
	Settled()
	Date() int
	Minute() int
}

// tasks is the place where a task is made and goes home.
type tasks struct {
	words  *words.Catalogue
	host   tasksHost
	kinds  []string // the path, in its order
	free   map[score.ID]bool
	task   packet.Task
	link   string
	tapped string // the passage of which the teacher's own taps go along
	desk   string // the passage the following are about
	whom   []recipient
	why    string // the reason it was drafted for, "" none
	// planned is what it stood in the plan of the first of them as, nil nothing.
	planned *class.Planned
}

func newTasks(c *words.Catalogue, h tasksHost) *tasks {
	t := &tasks{words: c, host: h, free: map[score.ID]bool{}}
	dom.OnClick("task-show", func() { dom.OpenSheet("task-code") })
	dom.OnClick("task-code-close", func() { dom.CloseSheet("task-code") })
	dom.OnChange("task-step", func() { t.setPath(append(t.kinds, dom.Value("task-step"))) })
	dom.OnInput("task-words", t.make)
	dom.OnChange("task-taps", t.setTaps)
	dom.OnChange("task-home", t.setHome)
	dom.OnClick("task-copy", func() { copyLink("task", t.link, c); t.given() })
	dom.OnClick("task-share", func() { share("task", t.task.Title, t.link, c); t.given() })
	dom.OnClick("task-file", t.save)
	dom.OnClick("task-plan", t.plan)
	dom.OnClick("task-try", func() {
		h.OpenTask(packet.EncodeTask(t.first()))
	})
	dom.OnClick("task-print", func() { t.print("sheet"); t.given() })
	dom.OnClick("task-answers", func() { t.print("answers") })
	dom.SetHidden("task-share", !dom.CanShare())
	return t
}

func (t *tasks) open() {
	t.host.StopRound()
	var wish string
	wish, t.kinds = t.host.Wish()
	dom.SetValue("task-words", wish)
	home, _, _ := dom.Load(homeKey)
	dom.SetValue("task-home", home)
	dom.SetText("task-said", "")
	dom.SetHidden("task-by-hand", true)
	if t.host.OnDesk().ID != t.desk {
		t.whom, t.why, t.planned = nil, "", nil
	}
	t.showWhom()
	t.showPath()
	t.show()
}

// show writes the task anew from what is on the desk now.
func (t *tasks) show() {
	t.showFree()
	t.showTaps()
	t.make()
}

// showTaps offers to send along how the teacher herself last tapped the
// ornaments.
func (t *tasks) showTaps() {
	taps, n := t.host.OwnTaps(), 0
	d := t.host.OnDesk()
	for _, i := range d.Inside() {
		if _, ok := taps[d.Reading.Ornaments[i].ID]; ok {
			n++
		}
	}
	dom.SetDisabled("task-taps", n == 0)
	dom.SetChecked("task-taps", n > 0 && t.tapped == d.ID)
	if n == 0 {
		dom.SetText("task-taps-what", t.words.Say("Tap these bars yourself under Practise: then your taps can stand pale under the student's."))
		return
	}
	dom.SetText("task-taps-what", t.words.Count(n, "They stand pale under the student's: {n} ornament, as you last tapped it.", "They stand pale under the student's: {n} ornaments, as you last tapped them."))
}

// showPath shows the steps, each a button that takes it out, and offers the
// kinds of round that are not among them.
func (t *tasks) showPath() {
	var steps []dom.Button
	for i, key := range t.kinds {
		if k, ok := practice.Find(key); ok {
			steps = append(steps, dom.Button{Key: key, Label: strconv.Itoa(i+1) + " " + t.words.Say(k.Name)})
		}
	}
	dom.SetButtons("task-path", steps, func(key string) {
		t.setPath(slices.DeleteFunc(slices.Clone(t.kinds), func(k string) bool { return k == key }))
		dom.Focus("task-step")
	})
	more := []dom.Option{{Key: "", Label: t.words.Say("+ a step")}}
	for _, k := range practice.Kinds() {
		if !slices.Contains(t.kinds, k.Key) {
			more = append(more, dom.Option{Key: k.Key, Label: t.words.Say(k.Name), Group: t.words.Say(k.Group)})
		}
	}
	dom.SetOptions("task-step", more, "")
}

// setPath takes other steps.
func (t *tasks) setPath(kinds []string) {
	t.kinds = kinds
	t.showPath()
	t.make()
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

func (t *tasks) setTaps() {
	t.tapped = ""
	if dom.Checked("task-taps") {
		t.tapped = t.host.OnDesk().ID
	}
	t.make()
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
