package main

import (
	"strconv"
	"strings"

	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/realize/codec/packet"
	"agremens/realize/score"
	"agremens/web/dom"
)

// Names in the browser's storage.
const (
	homeKey   = "agremens.home"
	wishKey   = "agremens.wish"     // the teacher's words for the last task
	wishKinds = "agremens.wishkind" // and its kinds of round
)

// taskSheet is the teacher's sheet: what will be sent.
type taskSheet struct {
	kinds []string // in the order in which they were ticked
	free  map[score.ID]bool
	task  packet.Task
	link  string
}

// firstKinds are ticked for a first task.
var firstKinds = []string{practice.Echo, practice.One, practice.Alone, practice.Piano}

// bindTask connects the sheet on which a task is set.
func (a *app) bindTask() {
	dom.OnClick("set-task", a.openTaskSheet)
	dom.OnClick("task-close", func() { dom.CloseSheet("task") })
	dom.OnInput("task-words", a.makeTask)
	dom.OnChange("task-home", func() {
		typed := dom.Value("task-home")
		if _, ok := lesson.CleanHome(typed); !ok && strings.TrimSpace(typed) != "" {
			dom.SetText("task-said", a.words.Say("A web address begins with https:// and is not on this computer."))
			return
		}
		dom.SetText("task-said", "")
		_ = dom.Store(homeKey, typed)
		a.makeTask()
	})
	dom.OnClick("task-copy", func() { a.copyLink("task", a.sheet.link) })
	dom.OnClick("task-share", func() { a.share("task", a.sheet.task.Title, a.sheet.link) })
	dom.OnClick("task-file", func() {
		letters := packet.EncodeTask(a.sheet.task)
		a.saveFile("task-said", lesson.FileName(a.words.Say("task"), a.sheet.task.Title), lesson.File(packet.TaskKind, letters))
	})
	dom.OnClick("task-try", func() {
		dom.CloseSheet("task")
		a.openTask(packet.EncodeTask(a.sheet.task))
	})
	dom.SetHidden("task-share", !dom.CanShare())
}

func (a *app) openTaskSheet() {
	a.rounds.Stop()
	words, _, _ := dom.Load(wishKey)
	kinds, kept, _ := dom.Load(wishKinds)
	a.sheet.kinds = strings.Fields(kinds)
	if !kept {
		a.sheet.kinds = firstKinds
	}
	if a.sheet.free == nil {
		a.sheet.free = map[score.ID]bool{}
	}
	dom.SetValue("task-words", words)
	home, _, _ := dom.Load(homeKey)
	dom.SetValue("task-home", home)
	dom.SetText("task-said", "")
	dom.SetHidden("task-by-hand", true)
	a.showTaskKinds()
	a.showTaskFree()
	a.makeTask()
	dom.OpenSheet("task")
}

// showTaskKinds lists the kinds of round; those that are ticked say their place.
func (a *app) showTaskKinds() {
	var checks []dom.Check
	for _, k := range practice.Kinds() {
		c := dom.Check{Key: k.Key, Label: a.words.Say(k.Name)}
		for i, key := range a.sheet.kinds {
			if key == k.Key {
				c.Checked, c.Label = true, c.Label+" ("+strconv.Itoa(i+1)+".)"
			}
		}
		checks = append(checks, c)
	}
	dom.SetChecks("task-kinds", checks, func(key string, on bool) {
		var kinds []string
		for _, k := range a.sheet.kinds {
			if k != key {
				kinds = append(kinds, k)
			}
		}
		if on {
			kinds = append(kinds, key)
		}
		a.sheet.kinds = kinds
		a.showTaskKinds()
		dom.FocusCheck("task-kinds", key)
		a.makeTask()
	})
}

func (a *app) showTaskFree() {
	var checks []dom.Check
	for _, i := range a.desk.Inside() {
		o := &a.desk.Reading.Ornaments[i]
		checks = append(checks, dom.Check{
			Key:     string(o.Note),
			Label:   a.words.Say("bar {bar}, {ornament}", "{bar}", a.desk.Passage.Measures[o.Measure].Number, "{ornament}", o.Choices[o.Chosen].Name),
			Checked: a.sheet.free[o.Note],
		})
	}
	dom.SetChecks("task-free", checks, func(key string, on bool) {
		a.sheet.free[score.ID(key)] = on
		a.makeTask()
	})
}

// makeTask writes the task anew and shows what leaves.
func (a *app) makeTask() {
	words := dom.Value("task-words")
	_ = dom.Store(wishKey, words)
	_ = dom.Store(wishKinds, strings.Join(a.sheet.kinds, " "))
	free := map[score.ID]bool{}
	for id, on := range a.sheet.free {
		if on {
			free[id] = true
		}
	}
	t, err := lesson.Set(a.desk, lesson.Wish{Words: words, Kinds: a.sheet.kinds, Free: free})
	usable := err == nil
	for _, id := range []string{"task-copy", "task-share", "task-file", "task-try"} {
		dom.SetDisabled(id, !usable)
	}
	dom.SetHidden("task-code", true)
	if !usable {
		dom.SetText("task-note", a.words.Say("These bars cannot be written into a task. Send the score file itself, from the same menu."))
		return
	}
	a.sheet.task = t
	dom.SetText("task-what", a.taskInWords())
	letters := packet.EncodeTask(t)
	set, _, _ := dom.Load(homeKey)
	home, local := lesson.Home(dom.Address(), set)
	a.sheet.link = lesson.Link(home, packet.TaskKind, letters)
	if local {
		dom.SetDisabled("task-copy", true)
		dom.SetDisabled("task-share", true)
		dom.SetText("task-note", a.words.Say("This page comes from your own computer: a link made here would not open on any other device. Enter the program's web address below, once, or save the task as a file and send that."))
		return
	}
	if len(letters) > packet.MaxLetters {
		dom.SetDisabled("task-copy", true)
		dom.SetDisabled("task-share", true)
		dom.SetText("task-note", a.words.Say("This is too long for a link: send it as a file, or choose fewer bars."))
		return
	}
	svg, err := packet.Square(a.sheet.link)
	if err != nil {
		dom.SetText("task-note", a.words.Say("This is too long for a QR code: send the link or the file, or choose fewer bars."))
		return
	}
	dom.SetDrawing("task-square", string(svg))
	dom.SetHidden("task-code", false)
	dom.SetText("task-note", a.words.Say("The whole task is in the link itself; nothing is uploaded."))
}

// taskInWords says what the task is about.
func (a *app) taskInWords() string {
	d := a.desk
	tempo, goal := a.words.Number(d.Beats(), 0), a.words.Number(d.Goal(), 0)
	if tempo != goal {
		tempo = a.words.Say("{slow} to {fast}", "{slow}", tempo, "{fast}", goal)
	}
	return a.words.Say("{title}, bars {bars}. {beats} = {tempo}, tapping the {hand}.",
		"{title}", orElse(d.Passage.Title, a.words.Say("Untitled")), "{bars}", d.Bars(),
		"{beats}", d.BeatWord(), "{tempo}", tempo, "{hand}", a.handInWords(d.Tap))
}

// copyLink puts a link on the clipboard and says so on the sheet. Where the
// browser does not let it, the link stands there, marked, to be copied by hand.
func (a *app) copyLink(sheet, link string) {
	byHand := sheet + "-by-hand"
	err := dom.Copy(link)
	dom.SetHidden(byHand, err == nil)
	if err != nil {
		dom.SetText(sheet+"-said", a.words.Say("The browser does not allow copying. The link is selected here: copy it by hand."))
		dom.SetValue(byHand, link)
		dom.SelectText(byHand, 0, len(link))
		return
	}
	dom.SetText(sheet+"-said", a.words.Say("Copied: paste it into a message."))
}

func (a *app) share(sheet, title, link string) {
	if err := dom.Share(title, link); err != nil {
		a.copyLink(sheet, link)
	}
}

func (a *app) saveFile(said, name string, data []byte) {
	if err := dom.Download(name, "text/plain", data); err != nil {
		dom.SetText(said, a.words.Say("The file could not be saved: {error}.", "{error}", a.words.Tell(err)))
		return
	}
	dom.SetText(said, a.words.Say("Saved as “{name}”. Open it with Open, or drop it on the page.", "{name}", name))
}
