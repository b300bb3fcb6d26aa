package main

import (
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/realize/score"
	"agremens/web/dom"
)

// make writes the task anew and shows what leaves.
func (t *tasks) make() {
	wish := dom.Value("task-words")
	t.host.KeepWish(wish, t.kinds)
	free := map[score.ID]bool{}
	for id, on := range t.free {
		if on {
			free[id] = true
		}
	}
	w := lesson.Wish{Words: wish, Kinds: t.kinds, Free: free}
	if dom.Checked("task-taps") {
		w.Taps = t.host.OwnTaps()
	}
	task, err := lesson.Set(t.host.OnDesk(), w)
	for _, id := range []string{"task-copy", "task-share", "task-file", "task-try"} {
		dom.SetDisabled(id, err != nil)
	}
	dom.SetDisabled("task-show", true)
	if err != nil {
		dom.SetText("task-note", t.words.Say("These bars cannot be written into a task. Send the score file itself, under “More ways”."))
		return
	}
	t.task = task
	dom.SetText("task-what", t.inWords())
	t.showLink(packet.EncodeTask(t.first()))
}

// showLink shows the link and its QR code, or why there is none.
func (t *tasks) showLink(letters string) {
	set, _, _ := dom.Load(homeKey)
	home, local := lesson.Home(dom.Address(), set)
	t.link = lesson.Link(home, packet.TaskKind, letters)
	if local || len(letters) > packet.MaxLetters {
		dom.SetDisabled("task-copy", true)
		dom.SetDisabled("task-share", true)
	}
	if local {
		dom.SetText("task-note", t.words.Say("This page comes from your own computer: a link made here would not open on any other device. Enter the program's web address under “More ways”, once, or save the task as a file there and send that."))
		return
	}
	if len(letters) > packet.MaxLetters {
		dom.SetText("task-note", t.words.Say("This is too long for a link: send it as a file, or choose fewer bars."))
		return
	}
	if len(t.whom) > 1 {
		t.link = t.links(home)
		dom.SetText("task-note", t.words.Say("Copied together: a line for each student, with her own tempo."))
		return
	}
	svg, err := packet.Square(t.link)
	if err != nil {
		dom.SetText("task-note", t.words.Say("This is too long for a QR code: send the link or the file, or choose fewer bars."))
		return
	}
	dom.SetDrawing("task-square", string(svg))
	dom.SetDisabled("task-show", false)
	dom.SetText("task-note", t.words.Say("The whole task is in the link itself; nothing is uploaded."))
}

// inWords says what the task is about.
func (t *tasks) inWords() string {
	d := t.host.OnDesk()
	tempo, goal := t.words.Number(d.Beats(), 0), t.words.Number(d.Goal(), 0)
	if tempo != goal {
		tempo = t.words.Say("{slow} to {fast}", "{slow}", tempo, "{fast}", goal)
	}
	return t.words.Say("{title}, bars {bars}. {beats} = {tempo}, tapping the {hand}.",
		"{title}", orElse(d.Passage.Title, t.words.Say("Untitled")), "{bars}", d.Bars(),
		"{beats}", d.BeatWord(), "{tempo}", tempo, "{hand}", handInWords(d.Tap, t.words))
}
