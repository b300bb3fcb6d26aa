package main

import (
	"fmt"
	"strconv"
	"strings"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/shelf"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/synth"
	"agremens/web/dom"
)

// view is what the page shows beyond the desk itself.
type view struct {
	warnings []string
	parts    []codec.Part // of the file on the desk, where it has several
	unkept   bool
	messages []string
	// making says that a sound file is being made, soundAway that its sheet
	// was put away.
	making, soundAway bool
}

// show brings the page up to date with the desk.
func (a *app) show() {
	d := a.desk
	dom.SetText("title-text", orElse(d.Passage.Title, a.words.Say("Untitled")))
	dom.SetText("composer-text", a.byline())
	a.showMenus()
	a.showSign()
	a.showEdit()
	a.showControls()
	a.showResult()
	a.showQuestions()
	a.showLook()
	a.showKind()
	a.showDecide()
	a.showStudent()
	a.showKept()
	dom.SetText("staff-text", d.InWords())
}

func (a *app) byline() string {
	p := a.desk.Passage
	var parts []string
	if p.Composer != "" {
		parts = append(parts, p.Composer)
	}
	if p.Year != 0 {
		parts = append(parts, strconv.Itoa(p.Year))
	}
	for _, t := range realize.Traditions() {
		if t.Key == a.desk.Reading.Tradition {
			parts = append(parts, a.words.Say("read as {tradition}", "{tradition}", a.words.Say(t.Name)))
		}
	}
	return strings.Join(parts, " · ")
}

func (a *app) showMenus() {
	var passages []dom.Option
	for _, e := range assets.Passages() {
		passages = append(passages, dom.Option{Key: e.ID, Label: a.words.Say(e.Title)})
	}
	for i := range a.shelf.Items {
		it := &a.shelf.Items[len(a.shelf.Items)-1-i]
		passages = append(passages, dom.Option{Key: it.ID, Label: a.shelfName(it), Group: a.words.Say("Your version")})
	}
	dom.SetOptions("passages", passages, a.desk.ID)
	traditions := []dom.Option{{Key: "", Label: a.words.Say("by composer and date")}}
	for _, t := range realize.Traditions() {
		traditions = append(traditions, dom.Option{Key: t.Key, Label: a.words.Say(t.Name) + ", " + a.words.Say(t.Years)})
	}
	dom.SetOptions("tradition", traditions, a.desk.Taste.Tradition)
	var instruments []dom.Option
	for _, i := range synth.Instruments() {
		instruments = append(instruments, dom.Option{Key: string(i.Key), Label: a.words.Say(i.Name)})
	}
	dom.SetOptions("instrument", instruments, a.desk.Instrument)
	dom.SetOptions("student-instrument", instruments, a.desk.Instrument)
}

// shelfName is how a kept passage is called in the menu.
func (a *app) shelfName(it *shelf.Item) string {
	if title, ok := strings.CutPrefix(it.Name, taskPrefix); ok && it.Kind == shelf.Task {
		return a.words.Say("Task: {title}", "{title}", orElse(title, a.words.Say("untitled")))
	}
	return it.Name
}

func (a *app) showSign() {
	w, ok := a.desk.Sign()
	none := len(a.desk.Inside()) == 0
	dom.SetDisabled("prev-sign", none)
	dom.SetDisabled("next-sign", none)
	if !ok {
		name := a.words.Say("No ornament in these bars")
		if note := a.desk.NoteWords(); note != "" {
			name = a.words.Say("{note}: no sign", "{note}", note)
		}
		dom.SetText("sign-name", name)
		for _, id := range []string{"sign-notes", "sign-fingers", "sign-why", "sign-sources"} {
			dom.SetText(id, "")
		}
		dom.SetPicture("sign-picture", nil)
		a.pictures = pictures{}
		dom.SetButtons("choices", nil, nil)
		return
	}
	dom.SetText("sign-name", w.Heading)
	dom.SetText("sign-notes", w.Notes)
	fingers := ""
	if f := a.desk.Fingers(); f != "" && !a.look.NoFingers {
		fingers = a.words.Say("Fingers {fingers}", "{fingers}", f)
	}
	dom.SetText("sign-fingers", fingers)
	a.showPrinted()
	why := w.Why
	for _, notice := range w.Notices {
		why += " " + a.words.Say("Note: {notice}", "{notice}", notice)
	}
	dom.SetText("sign-why", why)
	dom.SetText("sign-sources", strings.Join(w.Sources, "; "))
	var buttons []dom.Button
	for i, c := range w.Choices {
		if !c.Chosen && !a.mayChoose() {
			continue
		}
		buttons = append(buttons, dom.Button{Key: strconv.Itoa(i), Label: c.Label, Detail: c.Detail, Pressed: c.Chosen, Picture: a.preview(i)})
	}
	dom.SetButtons("choices", buttons, func(key string) {
		i, err := strconv.Atoi(key)
		if err != nil {
			return
		}
		a.desk.Choose(i)
		a.changedYielding(a.between())
	})
}

func (a *app) showControls() {
	d := a.desk
	dom.SetValue("tempo", fmt.Sprintf("%.0f", d.Percent))
	dom.SetText("tempo-percent", fmt.Sprintf("%.0f %%", d.Percent))
	dom.SetValue("tempo-number", fmt.Sprintf("%.0f", d.Beats()))
	dom.SetText("tempo-unit", a.words.Say("{beats} per minute", "{beats}", d.BeatWord()))
	dom.SetValue("goal", fmt.Sprintf("%.0f", d.Goal()))
	dom.SetValue("hand", desk.HandWord(d.Tap))
	hear := ""
	if d.HearSet {
		hear = desk.HandWord(d.Hear)
	}
	dom.SetValue("play", hear)
	dom.SetValue("bars", d.Bars())
	dom.SetValue("countin", strconv.Itoa(d.CountIn))
	dom.SetValue("prefer", orElse(d.Taste.Prefer, "sources"))
	a.showTuning()
	a.showFollow()
	dom.SetValue("rate", strconv.FormatFloat(d.Rate(), 'f', -1, 64))
	dom.SetHidden("warnings-title", len(a.view.warnings) == 0)
	dom.SetList("warnings", a.view.warnings)
	dom.SetChecked("ornaments", d.Ornaments)
	dom.SetChecked("beat", d.Beat)
	dom.SetChecked("repeat", d.Repeat)
	dom.SetDisabled("stop", !a.rounds.Busy())
	dom.SetData("pad", "hand", desk.HandWord(a.rounds.Hand()))
}

func (a *app) showResult() {
	r := a.rounds.Result
	dom.SetText("result-words", strings.Join(r.First(), "\n"))
	dom.SetText("result-figures", strings.Join(r.Rest(), "\n"))
	dom.SetData("result", "told", yes(len(r.First())+len(r.Rest()) > 0))
	for _, name := range []string{"mean-ms", "spread-ms", "wanted", "hit", "missed", "extra", "gaps", "jumps"} {
		dom.SetData("result", name, r.Data[name])
	}
}

// say shows a message that stays until it is closed.
func (a *app) say(text string) {
	a.view.messages = append(a.view.messages, text)
	dom.Message(strings.Join(a.view.messages, "\n"))
}

// hush closes the message.
func (a *app) hush() {
	a.view.messages = nil
	dom.Message("")
}

func (a *app) status(text string) { dom.Announce(text) }

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
