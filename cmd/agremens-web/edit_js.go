package main

import (
	"fmt"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/realize/words"
	"agremens/web/dom"
)

// editsHost is what changes of the passage ask of the program.
type editsHost interface {
	OnDesk() *desk.Desk
	Change(func() error)
	Undo()
	Redo()
	Selected()
	Reveal()
	Say(string)
	Show()
}

// edits is the menu of what changes the passage, and undo and redo.
type edits struct {
	words *words.Catalogue
	host  editsHost
}

func newEdits(c *words.Catalogue, toStaff func(), h editsHost) *edits {
	e := &edits{c, h}
	for _, prefix := range []string{"", "edit-"} {
		dom.OnClick(prefix+"undo", h.Undo)
		dom.OnClick(prefix+"redo", h.Redo)
	}
	dom.OnClick("change-passage", func() {
		toStaff()
		dom.SetOpen("edit", true)
		dom.Focus("edit-name")
	})
	dom.OnToggle("edit", e.show)
	dom.OnClick("note-before", func() { e.toNote((*desk.Desk).StepNote, -1) })
	dom.OnClick("note-next", func() { e.toNote((*desk.Desk).StepNote, 1) })
	dom.OnClick("note-higher", func() { e.toNote((*desk.Desk).StepVoice, 1) })
	dom.OnClick("note-lower", func() { e.toNote((*desk.Desk).StepVoice, -1) })
	dom.OnClick("edit-none", func() { h.Change(h.OnDesk().RemoveSign) })
	for _, side := range []string{"above", "below"} {
		dom.SetOptions("edit-"+side, []dom.Option{
			{Key: "", Label: e.words.Say("no accidental")}, {Key: "sharp", Label: "♯"}, {Key: "natural", Label: "♮"}, {Key: "flat", Label: "♭"},
			{Key: "double-sharp", Label: "×"}, {Key: "flat-flat", Label: "♭♭"},
		}, "")
		dom.OnChange("edit-"+side, func() {
			e.host.Change(func() error { return e.host.OnDesk().SetAccidental(dom.Value("edit-"+side), side == "below") })
		})
	}
	e.bindTranspose()
	dom.OnChange("edit-tempo", func() {
		beats, _ := strconv.ParseFloat(dom.Value("edit-tempo"), 64)
		if beats < 10 || beats > 400 {
			e.host.Say(e.words.Say("A tempo is between 10 and 400 beats per minute."))
			e.host.Show()
			return
		}
		e.host.Change(func() error { return e.host.OnDesk().SetTempo(beats) })
	})
	return e
}

// bindTranspose fills the menu of intervals: first up, then down.
func (e *edits) bindTranspose() {
	options := []dom.Option{{Key: "", Label: e.words.Say("by …")}}
	for i, iv := range desk.Intervals() {
		options = append(options, dom.Option{Key: strconv.Itoa(i), Label: e.words.Say("up a {interval}", "{interval}", e.words.In("interval", iv.Name)), Group: e.words.Say("up")})
	}
	for i, iv := range desk.Intervals() {
		options = append(options, dom.Option{Key: "down " + strconv.Itoa(i), Label: e.words.Say("down a {interval}", "{interval}", e.words.In("interval", iv.Name)), Group: e.words.Say("down")})
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
		e.host.Change(func() error { return e.host.OnDesk().Transpose(by) })
		dom.SetValue("edit-transpose", "")
	})
}

// toNote moves the selection from note to note.
func (e *edits) toNote(step func(*desk.Desk, int), n int) {
	step(e.host.OnDesk(), n)
	e.host.Reveal()
	e.host.Selected()
}

// undoKey takes the usual keys of undo and redo.
func (e *edits) undoKey(k dom.Key) bool {
	redo := k.Key == "y" || k.Shift && (k.Key == "z" || k.Key == "Z")
	if !redo && k.Key != "z" {
		return false
	}
	if k.Down {
		if redo {
			go e.host.Redo()
		} else {
			go e.host.Undo()
		}
	}
	return true
}

// noteKey takes the arrow keys with Shift: along the voice, and across.
func (e *edits) noteKey(k dom.Key) bool {
	switch k.Code {
	case "ArrowLeft":
		e.toNote((*desk.Desk).StepNote, -1)
	case "ArrowRight":
		e.toNote((*desk.Desk).StepNote, 1)
	case "ArrowUp":
		e.toNote((*desk.Desk).StepVoice, 1)
	case "ArrowDown":
		e.toNote((*desk.Desk).StepVoice, -1)
	default:
		return false
	}
	return true
}

// show brings the menu of changes up to date, while it is open.
func (e *edits) show() {
	for _, prefix := range []string{"", "edit-"} {
		dom.SetDisabled(prefix+"undo", !e.host.OnDesk().CanUndo())
		dom.SetDisabled(prefix+"redo", !e.host.OnDesk().CanRedo())
	}
	if !dom.IsOpen("edit") {
		return
	}
	carried := e.host.OnDesk().Carried()
	note := e.host.OnDesk().NoteWords()
	dom.SetText("edit-note", orElse(note, e.words.Say("Tap a note on the staff, or go to one:")))
	showSigns(e.words, "edit-signs", []string{carried.Sign, carried.Small}, func(key string) {
		e.host.Change(func() error { return e.host.OnDesk().PutSign(key) })
	})
	dom.SetDisabled("edit-none", !e.hasSign())
	dom.SetValue("edit-above", carried.Above)
	dom.SetValue("edit-below", carried.Below)
	for _, side := range []string{"above", "below"} {
		dom.SetDisabled("edit-"+side, carried.Sign == "" && !e.hasSign())
	}
	dom.SetValue("edit-tempo", fmt.Sprintf("%.0f", e.host.OnDesk().Goal()))
}

// hasSign reports whether the selected note carries any ornament.
func (e *edits) hasSign() bool {
	_, ok := e.host.OnDesk().Ornament()
	return ok
}
