package main

import (
	"fmt"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/stage"
	"agremens/web/dom"
)

// bindEdit connects what changes the passage, and undo and redo.
func (a *app) bindEdit() {
	dom.OnClick("undo", func() { a.goBack(a.desk.Undo) })
	dom.OnClick("redo", func() { a.goBack(a.desk.Redo) })
	dom.OnToggle("edit", a.showEdit)
	dom.OnClick("note-before", func() { a.toNote(a.desk.StepNote, -1) })
	dom.OnClick("note-next", func() { a.toNote(a.desk.StepNote, 1) })
	dom.OnClick("note-higher", func() { a.toNote(a.desk.StepVoice, 1) })
	dom.OnClick("note-lower", func() { a.toNote(a.desk.StepVoice, -1) })
	dom.OnClick("edit-none", func() { a.change(a.desk.RemoveSign) })
	for _, side := range []string{"above", "below"} {
		dom.SetOptions("edit-"+side, []dom.Option{
			{Key: "", Label: a.words.Say("no accidental")}, {Key: "sharp", Label: "♯"}, {Key: "natural", Label: "♮"}, {Key: "flat", Label: "♭"},
			{Key: "double-sharp", Label: "×"}, {Key: "flat-flat", Label: "♭♭"},
		}, "")
		dom.OnChange("edit-"+side, func() {
			a.change(func() error { return a.desk.SetAccidental(dom.Value("edit-"+side), side == "below") })
		})
	}
	a.bindTranspose()
	dom.OnChange("edit-tempo", func() {
		beats, _ := strconv.ParseFloat(dom.Value("edit-tempo"), 64)
		if beats < 10 || beats > 400 {
			a.say(a.words.Say("A tempo is between 10 and 400 beats per minute."))
			a.show()
			return
		}
		a.change(func() error { return a.desk.SetTempo(beats) })
	})
}

// bindTranspose fills the menu of intervals: first up, then down.
func (a *app) bindTranspose() {
	options := []dom.Option{{Key: "", Label: a.words.Say("by …")}}
	for i, iv := range desk.Intervals() {
		options = append(options, dom.Option{Key: strconv.Itoa(i), Label: a.words.Say("up a {interval}", "{interval}", a.words.In("interval", iv.Name)), Group: a.words.Say("up")})
	}
	for i, iv := range desk.Intervals() {
		options = append(options, dom.Option{Key: "down " + strconv.Itoa(i), Label: a.words.Say("down a {interval}", "{interval}", a.words.In("interval", iv.Name)), Group: a.words.Say("down")})
	}
	for i := range options {
		options[i].Label = strings.NewReplacer(" a augmented", " an augmented", " a octave", " an octave").Replace(options[i].Label)
	}
	dom.SetOptions("edit-transpose", options, "")
	dom.OnChange("edit-transpose", func() {
		key, down := strings.CutPrefix(dom.Value("edit-transpose"), "down ")
		i, err := strconv.Atoi(key)
		if err != nil {
			return
		}
		iv := desk.Intervals()[i]
		by := iv.Interval
		if down {
			by = iv.Down()
		}
		a.change(func() error { return a.desk.Transpose(by) })
		dom.SetValue("edit-transpose", "")
	})
}

// change makes a change of the passage and shows it, or says why it cannot.
func (a *app) change(make func() error) {
	if a.rounds.Tapping() {
		a.rounds.Stop()
	}
	if err := make(); err != nil {
		a.say(sentence(a.words.Tell(err)))
		a.show()
		return
	}
	a.changedYielding(a.between())
	a.rounds.Resound()
}

// goBack undoes or does again.
func (a *app) goBack(step func()) {
	a.change(func() error {
		step()
		return nil
	})
	a.reveal()
}

// toNote moves the selection from note to note.
func (a *app) toNote(step func(int), n int) {
	step(n)
	a.reveal()
	a.show()
	a.keep()
	stage.Refresh()
}

// undoKey takes the usual keys of undo and redo.
func (a *app) undoKey(k dom.Key) bool {
	redo := k.Key == "y" || k.Shift && (k.Key == "z" || k.Key == "Z")
	if !redo && k.Key != "z" {
		return false
	}
	if k.Down {
		if redo {
			go a.goBack(a.desk.Redo)
		} else {
			go a.goBack(a.desk.Undo)
		}
	}
	return true
}

// noteKey takes the arrow keys with Shift: along the voice, and across.
func (a *app) noteKey(k dom.Key) bool {
	switch k.Code {
	case "ArrowLeft":
		a.toNote(a.desk.StepNote, -1)
	case "ArrowRight":
		a.toNote(a.desk.StepNote, 1)
	case "ArrowUp":
		a.toNote(a.desk.StepVoice, 1)
	case "ArrowDown":
		a.toNote(a.desk.StepVoice, -1)
	default:
		return false
	}
	return true
}

// showEdit brings the menu of changes up to date, while it is open.
func (a *app) showEdit() {
	dom.SetDisabled("undo", !a.desk.CanUndo())
	dom.SetDisabled("redo", !a.desk.CanRedo())
	if !dom.IsOpen("edit") {
		return
	}
	carried := a.desk.Carried()
	note := a.desk.NoteWords()
	dom.SetText("edit-note", orElse(note, a.words.Say("Tap a note on the staff, or go to one:")))
	a.showSigns("edit-signs", []string{carried.Sign, carried.Small}, func(key string) {
		a.change(func() error { return a.desk.PutSign(key) })
	})
	dom.SetDisabled("edit-none", !a.hasSign())
	dom.SetValue("edit-above", carried.Above)
	dom.SetValue("edit-below", carried.Below)
	for _, side := range []string{"above", "below"} {
		dom.SetDisabled("edit-"+side, carried.Sign == "" && !a.hasSign())
	}
	dom.SetValue("edit-tempo", fmt.Sprintf("%.0f", a.desk.Goal()))
}

// hasSign reports whether the selected note carries any ornament.
func (a *app) hasSign() bool {
	_, ok := a.desk.Ornament()
	return ok
}
