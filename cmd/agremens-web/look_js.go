package main

import (
	"strconv"

	"agremens/game/desk"
	"agremens/game/stage"
	"agremens/realize/music"
	"agremens/realize/words"
	"agremens/web/dom"
)

// lookKey is the look's name in the browser's storage; early.js reads it too.
const lookKey = "agremens.look"

// toolsHost is what the tools ask of the program.
type toolsHost interface {
	OnDesk() *desk.Desk
	SetNaming(music.Naming)
	Show()
}

// tools are the controls of how the staff is seen.
type tools struct {
	words *words.Catalogue
	staff *staff
	host  toolsHost
}

func newTools(c *words.Catalogue, s *staff, h toolsHost) *tools {
	t := &tools{c, s, h}
	s.tools = t.show
	for _, id := range []string{"paper", "contrast", "motion"} {
		dom.OnChange(id, func() { t.set(id, dom.Value(id)) })
	}
	dom.OnChange("show-fingers", func() {
		value := "on"
		if !dom.Checked("show-fingers") {
			value = "off"
		}
		t.set("fingers", value)
		h.Show()
	})
	for _, id := range []string{"note-names", "student-notes"} {
		dom.OnChange(id, func() { t.name(dom.Value(id)) })
	}
	dom.OnInput("staff-size", func() { t.set("size", dom.Value("staff-size")) })
	dom.OnClick("page-view", func() {
		view := "page"
		if s.look.Page {
			view = "run"
		}
		t.set("view", view)
	})
	dom.OnClick("line", s.toggleLine)
	dom.OnClick("wider", func() { s.setWide(s.wide * 2) })
	dom.OnClick("narrower", func() { s.setWide(s.wide / 2) })
	return t
}

func (t *tools) set(name, value string) {
	t.staff.setLook(name, value)
	t.show()
	stage.Refresh()
}

// setLook changes how the staff is seen, and keeps it.
func (s *staff) setLook(name, value string) {
	s.look.Set(name, value)
	_ = dom.Store(lookKey, s.look.Save()) // where nothing can be kept the desk has said so
	s.camera.themed = false
}

// name calls the notes by other names.
func (t *tools) name(key string) {
	t.set("notes", key)
	t.host.SetNaming(t.staff.look.Notes)
}

func (t *tools) show() {
	l, d := &t.staff.look, t.host.OnDesk()
	dom.SetValue("staff-size", strconv.Itoa(l.Percent()))
	dom.SetText("staff-percent", strconv.Itoa(l.Percent())+" %")
	dom.SetValue("paper", l.Paper)
	dom.SetValue("contrast", l.Contrast)
	dom.SetValue("motion", l.Motion)
	dom.SetChecked("show-fingers", !l.NoFingers)
	dom.SetValue("note-names", l.Notes.Key())
	dom.SetValue("student-notes", l.Notes.Key())
	dom.SetAttr("page-view", "aria-pressed", strconv.FormatBool(l.Page))
	dom.SetAttr("line", "aria-pressed", strconv.FormatBool(d.LineOpen()))
	_, some := d.Ornament()
	dom.SetDisabled("line", !some || !d.Ornaments)
	dom.SetText("width", "× "+strconv.Itoa(t.staff.wide))
	dom.SetHidden("nearer", l.Page)
	dom.SetDisabled("wider", t.staff.wide >= mostWide)
	dom.SetDisabled("narrower", t.staff.wide <= 1)
}
