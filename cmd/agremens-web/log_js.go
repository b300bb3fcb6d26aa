package main

import (
	"strconv"

	"agremens/game/diary"
	"agremens/game/studio"
	"agremens/realize/words"
	"agremens/web/dom"
)

// anyPassage stands for all passages in the log's menu.
const anyPassage = ""

// noMarks are marks by ear that are not given yet.
var noMarks = [4]int{-1, -1, -1, -1}

// logHost is what the log's sheet asks of the program.
type logHost interface{ Say(string) }

// logSheet is the sheet with the log and the players.
type logSheet struct {
	words   *words.Catalogue
	log     *studio.Log
	host    logHost
	marks   [4]int
	passage string
	all     bool // everything is to be erased, not only who taps
}

func newLog(c *words.Catalogue, l *studio.Log, h logHost) *logSheet {
	s := &logSheet{words: c, log: l, host: h, marks: noMarks, passage: anyPassage}
	dom.OnClick("open-log", s.open)
	dom.OnClick("log-close", func() { dom.CloseSheet("log") })
	dom.OnChange("log-player", func() { l.Name(dom.Value("log-player")); s.show() })
	dom.OnChange("log-passage", func() { s.passage = dom.Value("log-passage"); s.show() })
	dom.OnChange("log-young", func() { l.SetYoung(dom.Checked("log-young")) })
	dom.OnClick("add-player", s.add)
	dom.OnEnter("new-player", s.add)
	dom.OnClick("keep-ears", s.keepMarks)
	dom.OnClick("keep-piano", func() {
		if minutes := whole(dom.Value("piano-minutes")); minutes > 0 {
			l.AddPiano(minutes)
			dom.SetValue("piano-minutes", "")
			s.show()
		}
	})
	dom.OnClick("export-csv", func() { s.save(".csv", "text/csv", (*diary.Diary).CSV) })
	dom.OnClick("export-json", func() { s.save(".json", "application/json", (*diary.Diary).JSON) })
	s.bindErase()
	return s
}

func (s *logSheet) open() {
	s.log.Read()
	s.marks, s.passage = noMarks, anyPassage
	dom.SetHidden("erase-ask", true)
	dom.SetText("log-note", "")
	s.show()
	s.showMarks()
	dom.OpenSheet("log")
}

func (s *logSheet) add() {
	defer s.show()
	name := diary.Name(dom.Value("new-player"))
	if name == "" {
		dom.Focus("new-player")
		return
	}
	if !s.log.AddPlayer(name) {
		dom.SetText("log-note", s.words.Say("There is room for {n} names on this device. Erase one first.", "{n}", strconv.Itoa(diary.MaxPlayers)))
		return
	}
	dom.SetValue("new-player", "")
	dom.SetText("log-note", s.words.Say("{name} taps from now on.", "{name}", name))
}

func (s *logSheet) showMarks() {
	all := true
	for i := range s.marks {
		var buttons []dom.Button
		for m := range diary.BestMark + 1 {
			buttons = append(buttons, dom.Button{Key: strconv.Itoa(m), Label: strconv.Itoa(m), Pressed: s.marks[i] == m})
		}
		dom.SetButtons("ear-"+strconv.Itoa(i), buttons, func(key string) { s.marks[i] = whole(key); s.showMarks() })
		all = all && s.marks[i] >= 0
	}
	dom.SetDisabled("keep-ears", !all)
}

func (s *logSheet) keepMarks() {
	s.log.AddMarks(s.marks)
	s.marks = noMarks
	s.showMarks()
	s.show()
	dom.SetText("log-note", s.words.Say("The marks are in the log."))
}

func (s *logSheet) save(extension, mime string, data func(*diary.Diary) []byte) {
	name := s.words.Say("practice {date}", "{date}", s.log.Now().Date()) + extension
	if err := dom.Download(name, mime, data(s.log.Diary)); err != nil {
		s.host.Say(s.words.Say("The file could not be written: {error}", "{error}", s.words.Tell(err)))
	}
}

// bindErase connects what asks before it erases.
func (s *logSheet) bindErase() {
	ask := func(all bool, text string) {
		s.all = all
		dom.SetText("erase-text", text)
		dom.SetHidden("erase-ask", false)
		dom.Focus("erase-no")
	}
	dom.OnClick("erase-one", func() {
		text := s.words.Say("Erase everything for {name}? This cannot be undone.", "{name}", s.log.Player)
		if s.log.Player == "" {
			text = s.words.Say("Erase everything without a name? This cannot be undone.")
		}
		ask(false, text)
	})
	dom.OnClick("erase-all", func() { ask(true, s.words.Say("Erase the whole log, for everyone? This cannot be undone.")) })
	dom.OnClick("erase-no", func() { dom.SetHidden("erase-ask", true) })
	dom.OnClick("erase-yes", func() {
		s.log.Erase(s.all)
		dom.SetHidden("erase-ask", true)
		dom.Focus("log-player")
		s.passage = anyPassage
		s.show()
	})
}
