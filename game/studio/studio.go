// Package studio is the program without its page: what lies on the desk and how
// it came there, what is kept, who taps, the ten minutes of practice, and the
// rounds. It is pure: page, sound, time and store are handed in.
package studio

import (
	"agremens/game/conduct"
	"agremens/game/desk"
	"agremens/game/keep"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/codec"
	"agremens/realize/music"
	"agremens/realize/words"
	"agremens/synth"
)

// Studio is the running program: one desk, at most one round. Make one with
// [New] and open something with [Studio.First]. Its exported fields are for
// reading; what lies on the desk may be changed, if it is told afterwards
// with [Studio.Settled] or [Studio.Changed].
type Studio struct {
	*Scores
	*Tasks
	*Students
	Words    *words.Catalogue
	Naming   music.Naming // how words call the notes
	Desk     *desk.Desk
	Homework *lesson.Homework // the task that is open as the student's page, nil on the desk
	Rounds   *conduct.Conductor
	Passages *keep.Passages
	Log      *Log
	Today    *Today
	About    string         // what was found in the file on the desk
	Warnings []string       // of the passage on the desk
	NotDrawn []string       // what the file has and its page does not show, with how often
	Parts    []codec.Choice // of the file on the desk, where it has several

	store   keep.Store
	kept    *keep.Students
	page    Page
	time    Time
	offered []practice.Kind
	unkept  bool // that was said
}

// New returns a studio with nothing on the desk. naming is how words call the
// notes, c the language.
func New(sound conduct.Sound, page Page, time Time, store keep.Store, naming music.Naming, c *words.Catalogue) *Studio {
	s := &Studio{Words: c, Naming: naming, Passages: keep.Open(store), store: store, page: page, time: time}
	s.Rounds = conduct.New(sound, page, host{s}, time, c)
	s.Scores, s.Tasks, s.Students = &Scores{s}, &Tasks{studio: s}, &Students{s}
	s.Log, s.Today = &Log{studio: s}, &Today{studio: s}
	s.kept = keep.OpenStudents(store, s.Today.date())
	s.Log.open()
	s.Today.open()
	return s
}

// host is the studio as the rounds see it.
type host struct{ *Studio }

func (h host) Chosen(kind string)                         { _ = h.store.Save(keep.KindKey, kind) }
func (h host) Record(records []round.Record, with string) { h.Log.record(records, with) }
func (h host) Listened(seconds float64)                   { h.Today.listened(seconds) }

// OnDesk returns what lies on the desk now.
func (s *Studio) OnDesk() *desk.Desk { return s.Desk }

// OnTask reports whether a task is open as the student's page.
func (s *Studio) OnTask() bool { return s.Homework != nil }

// Task is the task that is open as the student's page, nil on the desk.
func (s *Studio) Task() *lesson.Homework { return s.Homework }

// Player is who taps, "" nobody named.
func (s *Studio) Player() string { return s.Log.Player }

// SetPiano says how many minutes were at the piano today; PianoToday is how many.
func (s *Studio) SetPiano(minutes int) { s.Log.SetPiano(minutes) }

// PianoToday is how many minutes at the piano were told today.
func (s *Studio) PianoToday() int { return s.Log.PianoToday() }

// Start chooses a kind of round and begins it.
func (s *Studio) Start(kind string) {
	s.Rounds.Choose(kind)
	s.Rounds.Tap()
}

// Listen plays the desk.
func (s *Studio) Listen() { s.Rounds.Listen() }

// StopRound ends whatever sounds, with the kind of round it belongs to.
func (s *Studio) StopRound() { s.Rounds.Stop() }

// Hear plays the selected ornament alone, at so many per cent of the goal tempo.
func (s *Studio) Hear(percent float64) { s.Rounds.Hear(percent) }

// StopSound ends what sounds; a question stays.
func (s *Studio) StopSound() {
	if s.Rounds.Sounding() {
		s.Rounds.Stop()
	}
}

// put lays an opened desk down in place of the one there is.
func (s *Studio) put(d *desk.Desk) {
	s.Rounds.Clear()
	s.Desk, s.Rounds.Desk = d, d
}

// Changed shows and keeps the desk after a change of what is on the staff.
func (s *Studio) Changed() { s.changed(nil) }

// changed is Changed that calls yield, if any, between its parts.
func (s *Studio) changed(yield func()) {
	s.Rounds.ForgetMarks()
	for _, part := range []func(){s.page.Engrave, s.page.Show, s.Keep} {
		if yield != nil {
			yield()
		}
		part()
	}
	s.page.Refresh()
}

// Settled shows and keeps a setting that changes no note, and lets what sounds
// follow it.
func (s *Studio) Settled() {
	s.page.Show()
	s.Keep()
	s.Rounds.Resound()
}

// Decided shows and keeps what changes notes, and lets what sounds follow it.
func (s *Studio) Decided() {
	s.changed(s.between())
	s.Rounds.Resound()
}

// Selected shows and keeps a selection.
func (s *Studio) Selected() {
	s.page.Show()
	s.Keep()
	s.page.Refresh()
}

// longPiece is how many chords a passage has whose change takes longer than a
// hand should wait for the page.
const longPiece = 2000

// between is what is called between the parts of a change: nothing in a
// passage that is done at once.
func (s *Studio) between() func() {
	if len(s.Desk.Passage.Chords) < longPiece {
		return nil
	}
	return s.page.Turn
}

// Change makes a change of the passage and shows it, or says why it cannot.
func (s *Studio) Change(make func() error) {
	if s.Rounds.Tapping() {
		s.Rounds.Stop()
	}
	if err := make(); err != nil {
		s.page.Say(words.Sentence(s.Words.Tell(err)))
		s.page.Show()
		return
	}
	s.Decided()
}

// Undo takes the last decision or change back, Redo makes it again.
func (s *Studio) Undo() { s.goBack((*desk.Desk).Undo) }

// Redo makes again what was undone.
func (s *Studio) Redo() { s.goBack((*desk.Desk).Redo) }

func (s *Studio) goBack(step func(*desk.Desk)) {
	s.Change(func() error {
		step(s.Desk)
		return nil
	})
	s.page.Reveal()
}

// SetBars chooses the bars at work; what sounds stops.
func (s *Studio) SetBars(text string) {
	if err := s.Desk.SetBars(text); err != nil {
		s.page.Say(words.Sentence(s.Words.Tell(err)))
		s.page.Show()
		return
	}
	s.Rounds.Stop()
	s.Changed()
}

// SetNaming calls the notes by other names.
func (s *Studio) SetNaming(n music.Naming) {
	s.Naming = n
	s.Desk.SetNaming(n)
	s.Changed()
}

// Instruments are the keys of all there are.
func Instruments() []string {
	var keys []string
	for _, i := range synth.Instruments() {
		keys = append(keys, string(i.Key))
	}
	return keys
}

// Leave makes ready for a page in another language: what sounds stops, and what
// is on the desk is kept.
func (s *Studio) Leave() {
	s.Rounds.Stop()
	s.Keep()
}
