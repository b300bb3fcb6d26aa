package main

import (
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"

	"agremens/assets"
	"agremens/game/paper"
	"agremens/game/shelf"
	"agremens/realize/codec"
	"agremens/web/dom"
)

// turnMS is how long a score is read before the browser gets a turn.
const turnMS = 6

// maxPacketFile bounds how much of a file is searched for tasks and reports.
const maxPacketFile = 256 << 10

// bindScores connects what brings a passage.
func (a *app) bindScores() {
	dom.OnChange("passages", func() {
		id := dom.Value("passages")
		if id == a.desk.ID {
			return
		}
		a.hush()
		if !a.openByID(id, dom.Breathe(turnMS)) {
			a.say(a.words.Say("The browser no longer has this passage: please open it again."))
			a.show()
			return
		}
		a.rounds.Ready()
	})
	dom.OnFile("open", func(name string, data []byte, err error) {
		dom.CloseMenus()
		if err != nil {
			a.say(a.words.Say("“{name}” could not be read: {error}.", "{name}", name, "{error}", a.words.Tell(err)))
			return
		}
		go a.openFile(name, data, "")
	})
	a.bindParts()
	a.bindPaper()
	a.bindTyped()
}

// openByID opens a built-in passage or one that is kept on the device. yield
// is called while a long one is read.
func (a *app) openByID(id string, yield func()) bool {
	for _, e := range assets.Passages() {
		if e.ID == id {
			return a.openBuiltIn(e)
		}
	}
	it, ok := a.shelf.Find(id)
	if !ok {
		return false
	}
	data, ok := kept(it)
	if !ok {
		return false
	}
	if it.Kind == shelf.Task {
		return a.openKeptTask(string(data))
	}
	if it.Kind == shelf.Paper {
		p, _, err := paper.Load(string(data)).Passage()
		if err != nil {
			return false
		}
		a.lay(it.ID, p, nil, nil)
		return true
	}
	if it.Kind == shelf.Typed {
		p, warnings, err := readTyped(string(data))
		if err != nil {
			return false
		}
		a.layScore(it.ID, it.Name, &codec.Score{Passage: p, Warnings: a.inLines(warnings)}, nil)
		return true
	}
	s, err := codec.OpenIn(a.words, data, it.Part, a.progress(it.Name, yield))
	if err != nil {
		return false
	}
	a.layScore(it.ID, it.Name, s, yield)
	a.status("")
	return true
}

func (a *app) openBuiltIn(e assets.Entry) bool {
	s, err := codec.Open([]byte(e.ABC), "", nil)
	if err != nil {
		a.say(codec.WordsIn(a.words, err))
		return false
	}
	s.Passage.Title = a.words.Say(e.Title)
	a.layScore(e.ID, s.Passage.Title, s, nil)
	return true
}

// openFile reads a file that the user chose; on an error the passage on
// screen stays.
func (a *app) openFile(name string, data []byte, part string) {
	a.hush()
	a.status(a.words.Say("Opening {name} …", "{name}", name))
	dom.Yield()
	if a.openPackets(string(data[:min(len(data), maxPacketFile)])) {
		a.status("")
		return
	}
	breathe := dom.Breathe(turnMS)
	// The program's memory never shrinks again: what 20 MB need for a moment
	// is kept small, for a few per cent of the time.
	defer debug.SetGCPercent(debug.SetGCPercent(50))
	s, err := codec.OpenIn(a.words, data, part, a.progress(name, breathe))
	if err != nil {
		a.status("")
		a.say(a.words.Say("“{name}” could not be opened.", "{name}", name) + codec.WordsIn(a.words, err))
		return
	}
	a.layScore(a.keepPassage(shelf.Item{Kind: shelf.File, Name: name, Part: part}, data), name, s, breathe)
	a.rounds.Ready()
	a.status(a.words.Say("{name} is open.", "{name}", name))
}

// progress says how much of a score is read, and yields. Every tenth is enough
// for whoever hears the words.
func (a *app) progress(name string, yield func()) func(done float64) {
	said := 0
	return func(done float64) {
		if tenth := int(10 * done); tenth > said {
			said = tenth
			a.status(a.words.Say("Opening {name} … {n} %", "{name}", name, "{n}", strconv.Itoa(10*tenth)))
		}
		yield()
	}
}

// layScore puts an opened score on the desk, under its name where it has no
// title.
func (a *app) layScore(id, name string, s *codec.Score, yield func()) {
	if s.Passage.Title == "" {
		s.Passage.Title = strings.TrimSuffix(name, filepath.Ext(name))
	}
	a.lay(id, s.Passage, s.Warnings, yield)
	a.view.parts = s.Parts
	a.showParts()
}
