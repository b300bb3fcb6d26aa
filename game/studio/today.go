package studio

import (
	"agremens/game/closeup"
	"agremens/game/day"
	"agremens/game/keep"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/game/round"
)

// Today leads through ten minutes of practice.
type Today struct {
	day.Day
	studio *Studio
}

func (t *Today) open() {
	text, _, _ := t.studio.store.Load(keep.DayKey)
	t.Day = day.Kept(text, t.date(), t.of())
}

// of names what the day is a day of: the task that is open, "" the desk.
func (t *Today) of() string {
	if t.studio.Homework == nil {
		return ""
	}
	return lesson.DeskID(t.studio.Homework.Task)
}

func (t *Today) date() int {
	date, _ := t.studio.time.Wall()
	return date
}

// Against is that of the log, of who taps today.
func (t *Today) Against(f closeup.Figure, round []closeup.Figure, tempo float64) *closeup.Row {
	return t.studio.Log.Against(f, round, tempo)
}

func (*Today) none() day.Day { return day.Day{} }

// Set shows where the day stands and keeps it.
func (t *Today) Set(d day.Day) {
	t.Day = d
	text, _, _ := t.studio.store.Load(keep.DayKey)
	_ = t.studio.store.Save(keep.DayKey, day.Keep(text, d, t.date(), t.of()))
	t.studio.page.Day()
}

// choose chooses the kind of round that the task's step is, so that Start
// begins it too.
func (t *Today) choose() {
	if _, ok := practice.Find(string(t.Current().Key)); ok && t.On && t.Path != "" && t.studio.Rounds.Kind != string(t.Current().Key) {
		t.studio.Rounds.Choose(string(t.Current().Key))
	}
}

// Begin begins a day.
func (t *Today) Begin() { t.Set(day.Start()) }

// lead leads along the task's path, from where today's practice of it stands;
// a day that is over begins anew.
func (t *Today) lead() {
	t.open()
	if !t.On || t.Over() {
		t.Day = day.Along(t.studio.Homework.Task.Kinds)
	}
	t.choose()
	t.Set(t.Day)
}

// Back leads along the task again after its last page.
func (t *Today) Back() {
	if t.studio.OnTask() && t.Over() {
		t.studio.Rounds.Forget()
		t.lead()
		t.studio.page.Show()
	}
}

// Go does what the step asks for, or goes on where that was done.
func (t *Today) Go() {
	if !t.Tried {
		t.do(t.Current().Key)
		return
	}
	t.leavePlain()
	t.studio.Rounds.Forget()
	t.Set(t.Next())
	t.choose()
	if t.Over() {
		t.studio.page.LastPage()
	}
}

// End goes to the last page.
func (t *Today) End() {
	t.studio.Rounds.Stop()
	t.leavePlain()
	t.Set(t.Finish())
	if t.Over() {
		t.studio.page.LastPage()
	}
}

// PutAway ends the day, with what was told of minutes at the piano.
func (t *Today) PutAway(piano int) {
	if piano > 0 {
		t.studio.Log.AddPiano(piano)
	}
	t.Set(t.none())
}

// after tells the day what a round was.
func (t *Today) after(c round.Record, plain bool) {
	t.Set(t.After(day.Done{
		Kind:   c.Kind,
		Tapped: c.Hands != round.NoHand, Plain: plain, Unaided: c.Help.Unaided(), Clean: c.Clean && c.Judged,
		Piano: c.Kind == practice.Piano, Spoilt: c.Spoilt, Seconds: int(c.Seconds),
	}))
}

func (t *Today) listened(seconds float64) {
	t.after(round.Record{Kind: "listen", Seconds: seconds}, false)
}

// leavePlain gives the ornaments back after the step without them.
func (t *Today) leavePlain() {
	if t.Current().Key == day.Plain && !t.studio.Desk.Ornaments {
		t.studio.Desk.SetOrnaments(true)
		t.studio.Decided()
	}
}

// do begins what a step asks for. The kind of round beside Tap stays chosen.
func (t *Today) do(key day.Key) {
	s := t.studio
	if plain := key == day.Plain; s.Desk.Ornaments == plain {
		s.Desk.SetOrnaments(!plain)
		s.Changed()
	}
	switch key {
	case day.Listen:
		s.Rounds.Listen()
	case day.Unaided:
		s.Rounds.TapKind(practice.Alone)
	case day.Piano:
		s.Rounds.TapKind(practice.Piano)
	case day.Plain, day.Ornament:
		s.Rounds.TapKind(practice.Tap)
	default:
		s.Rounds.TapKind(string(key))
	}
	s.page.Show()
}

// Told is what was done today, and what is left to be done, in words.
func (t *Today) Told() (done, left string) {
	l := t.studio.Log
	p := l.Diary.Progress(l.Player, "")
	return p.Today(t.date(), t.studio.Words), p.Left(t.studio.Words)
}
