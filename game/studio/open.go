package studio

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/keep"
	"agremens/game/paper"
	"agremens/game/practice"
	"agremens/game/shelf"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/score"
)

// maxPacketFile bounds how much of a file is searched for tasks and reports.
const maxPacketFile = 256 << 10

// First opens the passage or task that the address names, else the one that
// lay on the desk last, else the first built-in one. It calls yield while it
// reads a long one.
func (s *Studio) First(query map[string]string, fragment string, yield func()) {
	saved, _, _ := s.store.Load(keep.DeskKey)
	kind, _, _ := s.store.Load(keep.KindKey)
	id := desk.SavedPassage(saved)
	asked, ok := query["passage"]
	if ok {
		id = asked
	}
	s.page.Who()
	s.page.Day()
	s.offerKinds(nil)
	task := s.OpenPackets(fragment) && s.Desk != nil
	if !task && !s.open(id, yield) {
		if ok {
			s.page.Say(s.Words.Say("There is no passage “{name}”; this is the first built-in passage.", "{name}", asked))
		}
		s.openBuiltIn(assets.Passages()[0])
	}
	if saved != "" && desk.SavedPassage(saved) == s.Desk.ID {
		s.restore(s.Desk, saved, nil)
	}
	for _, said := range s.Desk.Apply(query, Instruments()) {
		s.page.Say(said)
	}
	s.takeKind(query, kind)
	s.Changed()
	s.Rounds.Ready()
}

// takeKind takes the kind of round that the address names, else the one kept;
// an address that asks for a round without naming a kind means the first.
func (s *Studio) takeKind(query map[string]string, kept string) {
	key, asked := query["kind"]
	if _, known := practice.Find(key); asked && !known {
		s.page.Say(s.Words.Say("There is no exercise “{name}”; the basic round was chosen.", "{name}", key))
	}
	if !asked && len(query) == 0 {
		key = kept
	}
	if slices.ContainsFunc(s.offered, func(k practice.Kind) bool { return k.Key == key }) {
		s.Rounds.Choose(key)
	}
}

// Open opens a built-in passage or one that is kept on the device, and says so
// where it is not.
func (s *Studio) Open(id string) {
	if id == s.Desk.ID {
		return
	}
	s.page.Hush()
	if !s.open(id, s.page.Breathe()) {
		s.page.Say(s.Words.Say("The browser no longer has this passage: please open it again."))
		s.page.Show()
		return
	}
	s.Rounds.Ready()
}

// open reports whether there was such a passage.
func (s *Studio) open(id string, yield func()) bool {
	for _, e := range assets.Passages() {
		if e.ID == id {
			return s.openBuiltIn(e)
		}
	}
	it, ok := s.Passages.Shelf.Find(id)
	if !ok {
		return false
	}
	data, ok := s.Passages.Data(it)
	if !ok {
		return false
	}
	switch it.Kind {
	case shelf.Task:
		return s.openKeptTask(string(data))
	case shelf.Paper:
		p, _, err := paper.Load(string(data)).Passage()
		if err != nil {
			return false
		}
		s.lay(it.ID, p, nil, nil)
		return true
	case shelf.Typed:
		p, warnings, err := ReadTyped(string(data))
		if err != nil {
			return false
		}
		s.layScore(it.ID, it.Name, &codec.Score{Passage: p, Warnings: s.inLines(warnings)}, nil)
		return true
	}
	score, err := codec.OpenIn(s.Words, data, it.Part, s.progress(it.Name, yield))
	if err != nil {
		return false
	}
	s.layScore(it.ID, it.Name, score, yield)
	s.page.Status("")
	return true
}

func (s *Studio) openBuiltIn(e assets.Entry) bool {
	score, err := codec.Open([]byte(e.ABC), "", nil)
	if err != nil {
		s.page.Say(codec.WordsIn(s.Words, err))
		return false
	}
	score.Passage.Title = s.Words.Say(e.Title)
	s.layScore(e.ID, score.Passage.Title, score, nil)
	return true
}

// OpenFile reads a file that the user chose: a score, of which part names the
// part that is wanted, or tasks and reports. On an error the passage on the
// desk stays.
func (s *Studio) OpenFile(name string, data []byte, part string) {
	s.page.Hush()
	s.page.Status(s.Words.Say("Opening {name} …", "{name}", name))
	s.page.Turn()
	if s.OpenPackets(string(data[:min(len(data), maxPacketFile)])) {
		s.page.Status("")
		return
	}
	breathe := s.page.Breathe()
	score, err := codec.OpenIn(s.Words, data, part, s.progress(name, breathe))
	if err != nil {
		s.page.Status("")
		s.page.Say(s.Words.Say("“{name}” could not be opened.", "{name}", name) + codec.WordsIn(s.Words, err))
		return
	}
	s.layScore(s.keepPassage(shelf.Item{Kind: shelf.File, Name: name, Part: part}, data), name, score, breathe)
	s.Rounds.Ready()
	s.page.Status(s.Words.Say("{name} is open.", "{name}", name) + " " + codec.About(s.Words, score, s.Desk.Reading))
}

// OpenPart opens another part of the file on the desk.
func (s *Studio) OpenPart(part string) {
	it, data, ok := s.Own(shelf.File)
	if !ok {
		return
	}
	if data == nil {
		s.page.Say(s.Words.Say("The browser no longer has this file: please open it again."))
		return
	}
	s.OpenFile(it.Name, data, part)
}

// Read is what was said while the passage on the desk was read, and the parts
// of its file, where it has several.
func (s *Studio) Read() (warnings []string, parts []codec.Choice) { return s.Warnings, s.Parts }

// progress says how much of a score is read, and yields. Every tenth is enough
// for whoever hears the words.
func (s *Studio) progress(name string, yield func()) func(done float64) {
	said := 0
	return func(done float64) {
		if tenth := int(10 * done); tenth > said {
			said = tenth
			s.page.Status(s.Words.Say("Opening {name} … {n} %", "{name}", name, "{n}", strconv.Itoa(10*tenth)))
		}
		yield()
	}
}

// layScore puts an opened score on the desk, under its name where it has no
// title.
func (s *Studio) layScore(id, name string, score *codec.Score, yield func()) {
	if score.Passage.Title == "" {
		score.Passage.Title = strings.TrimSuffix(name, filepath.Ext(name))
	}
	s.lay(id, score.Passage, score.Warnings, yield)
	s.Parts = score.Choices(s.Words)
	s.page.Show()
}

// lay puts a passage on the desk; what was sounding stops.
func (s *Studio) lay(id string, p *score.Passage, warnings []string, yield func()) {
	if s.Homework != nil {
		s.LeaveTask()
	}
	opened := desk.Open(id, p, realize.Taste{Rate: s.Log.Rate(), Naming: s.Naming, Words: s.Words}, yield)
	s.bringBack(opened, yield)
	s.Rounds.Stop()
	before := s.Desk
	if before != nil && before.ID != id {
		s.putAway(before)
	}
	s.put(opened)
	s.Desk.TuneLike(before)
	s.Warnings, s.Parts = warnings, nil
	s.page.Laid()
	s.changed(yield)
}
