package studio_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"agremens/assets"
	"agremens/game/conduct"
	"agremens/game/day"
	"agremens/game/desk"
	"agremens/game/keep"
	"agremens/game/lesson"
	"agremens/game/paper"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/game/studio"
	"agremens/realize"
	"agremens/realize/codec/packet"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/tap"
	"agremens/realize/words"
	"agremens/synth"
	"agremens/synth/tuning"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/cmd/agremens/po"
)

// FuzzWalk walks at random over everything that can be done. After each step
// what is shown, what is kept and what sounds must belong together; stopping
// must lead out of everything; and a reload must bring the same desk back.
func FuzzWalk(f *testing.F) {
	f.Add([]byte{2, 0, 5, 40, 4, 0})                               // listen
	f.Add([]byte{3, 0, 5, 60, 6, 0, 6, 1, 5, 20, 4, 0, 15, 0})     // tap, stop, reload
	f.Add([]byte{2, 0, 5, 20, 16, 3, 17, 1, 16, 40, 5, 10, 15, 0}) // change while it sounds
	f.Add([]byte{11, 3, 5, 10, 3, 0, 5, 90, 13, 1, 12, 0, 15, 0})  // task, tap, report
	f.Add([]byte{9, 12, 3, 0, 5, 80, 10, 0, 5, 80, 10, 1, 4, 0})   // by ear
	f.Add([]byte{19, 0, 19, 1, 5, 30, 4, 0, 19, 1, 19, 1, 5, 9})   // ten minutes
	f.Add([]byte{20, 1, 7, 3, 7, 40, 8, 0, 8, 0, 8, 1, 14, 0})     // typed, changed, undone, in German
	f.Add([]byte{22, 0, 2, 0, 5, 90, 22, 1, 2, 0, 5, 200, 22, 2})  // no device, a silent one
	f.Fuzz(func(t *testing.T, program []byte) {
		if len(program) > 120 {
			return // says no more than a shorter one, and takes its time
		}
		walk(t, program)
	})
}

// The same for programs that are made here, so that every run of the tests
// walks somewhere else.
func TestWalk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		walk(t, rapid.SliceOfN(rapid.Byte(), 2, 80).Draw(t, "program"))
	})
}

// walk takes the steps that a program of pairs of bytes names: what to do, and
// with what.
func walk(t rapid.TB, program []byte) {
	w := &walker{device: newDevice()}
	w.load(nil)
	w.check(t)
	for ; len(program) >= 2; program = program[2:] {
		w.step(t, int(program[0])%len(steps()), int(program[1]))
		w.check(t)
		if t.Failed() {
			t.Fatalf("after %s", strings.Join(w.path, ", "))
		}
	}
	w.reload(t, 0)
	w.studio.Rounds.Stop()
	w.check(t)
	w.left(t)
	if t.Failed() {
		t.Fatalf("after %s", strings.Join(w.path, ", "))
	}
}

type walker struct {
	*device
	path []string
	// packets made on the way
	tasks, reports []string
	down           int  // the key that is down
	lost           bool // something was not kept, so that a reload cannot bring it back
}

type step struct {
	name string
	do   func(w *walker, t rapid.TB, n int)
}

// steps are what can be done, in an order that programs rely on.
func steps() []step {
	return []step{
		{"open", (*walker).open}, {"file", (*walker).file}, {"listen", (*walker).listen}, {"tap", (*walker).tap},
		{"stop", (*walker).stop}, {"wait", (*walker).pass}, {"strike", (*walker).strike}, {"change", (*walker).change},
		{"undo", (*walker).undo}, {"kind", (*walker).kind}, {"answer", (*walker).answer}, {"task", (*walker).task},
		{"leave", (*walker).leave}, {"report", (*walker).report}, {"language", (*walker).speak}, {"reload", (*walker).reload},
		{"set", (*walker).set}, {"decide", (*walker).decide}, {"player", (*walker).player}, {"day", (*walker).day},
		{"make", (*walker).make}, {"select", (*walker).choose}, {"device", (*walker).trouble},
	}
}

func (w *walker) step(t rapid.TB, i, n int) {
	w.path = append(w.path, fmt.Sprintf("%s %d", steps()[i].name, n))
	steps()[i].do(w, t, n)
}

// one picks one of several.
func one[T any](all []T, n int) T { return all[n%len(all)] }

func (w *walker) open(_ rapid.TB, n int) {
	var ids []string
	for _, e := range assets.Passages() {
		ids = append(ids, e.ID)
	}
	for _, it := range w.studio.Passages.Shelf.Items {
		ids = append(ids, it.ID)
	}
	w.studio.Open(one(append(ids, "gone"), n))
}

const twoHands = "X:1\nT:Two hands\nM:3/4\nL:1/4\nQ:1/4=90\n%%score {R L}\nK:D\nV:R\n|:TA B c | Pd3 :| c2 Tc | d3 |]\nV:L clef=bass\n|:D, A, D | F,3 :| A,2 A,, | D,3 |]\n"

func (w *walker) file(_ rapid.TB, n int) {
	files := []string{
		twoHands, "X:1\nK:C\nCDEF|", "X:1\nT:Long\nM:4/4\nL:1/8\nK:Am\n" + strings.Repeat("TA2 Bc ~d2 ef|", 20) + "\n", "", "no score", "X:1\nK:C\n",
	}
	for _, l := range w.tasks {
		files = append(files, string(lesson.File(packet.TaskKind, l)))
	}
	for _, l := range w.reports {
		files = append(files, string(lesson.File(packet.ReportKind, l)))
	}
	w.studio.OpenFile(fmt.Sprintf("file %d.abc", n%3), []byte(one(files, n)), "")
}

func (w *walker) listen(rapid.TB, int) { w.studio.Rounds.Listen() }
func (w *walker) tap(rapid.TB, int)    { w.studio.Rounds.Tap() }

func (w *walker) stop(t rapid.TB, _ int) {
	w.studio.Rounds.Stop()
	w.left(t)
}

// pass lets up to a minute and a half pass.
func (w *walker) pass(_ rapid.TB, n int) { w.wait(float64(n*n) * 1.4) }

func (w *walker) strike(_ rapid.TB, n int) {
	on := one([]string{conduct.OnKeys, conduct.OnGlass, conduct.OnMIDI}, n/4)
	made := tap.Tap{At: w.now - float64(n), Hand: perf.Hand(n & 1)}
	if on == conduct.OnMIDI {
		made.Key, made.Strength = 48+n%40, 60
		made.Hand = w.studio.Rounds.HandOf(made.Key, made.At)
	}
	if n&2 == 0 {
		w.down = n
	}
	w.studio.Rounds.Strike(n&2 == 0, made, fmt.Sprint(w.down), on)
	w.wait(200)
}

func (w *walker) change(_ rapid.TB, n int) {
	d := w.studio.Desk
	w.studio.Change(one([]func() error{
		func() error { return d.PutSign(one(desk.Signs(), n/6).Key) },
		d.RemoveSign,
		func() error { return d.SetAccidental(one([]string{"", "sharp", "flat", "natural"}, n/6), n&1 == 1) },
		func() error { return d.Transpose(one(desk.Intervals(), n/6).Interval) },
		func() error { return d.Transpose(one(desk.Intervals(), n/6).Down()) },
		func() error { return d.SetTempo(float64(10 + n)) },
	}, n))
}

func (w *walker) undo(_ rapid.TB, n int) {
	if n&1 == 0 {
		w.studio.Undo()
	} else {
		w.studio.Redo()
	}
}

func (w *walker) kind(_ rapid.TB, n int) {
	w.studio.Rounds.Stop() // as the menu does
	w.studio.Rounds.Choose(one(w.page.kinds, n).Key)
	w.page.Show()
}

func (w *walker) answer(_ rapid.TB, n int) {
	switch n % 3 {
	case 0:
		w.studio.Rounds.Answer(n / 3)
	case 1:
		w.studio.Rounds.GoOn()
	case 2:
		w.studio.Rounds.TakeNext()
	}
}

func (w *walker) task(t rapid.TB, n int) {
	if n&1 == 0 && len(w.tasks) > 0 {
		w.studio.OpenPackets("https://example.org/#task=" + one(w.tasks, n/2))
		return
	}
	var kinds []string
	for i, k := range practice.Kinds() {
		if n>>(i%8)&1 == 1 {
			kinds = append(kinds, k.Key)
		}
	}
	free := map[score.ID]bool{}
	if o, ok := w.studio.Desk.Ornament(); ok {
		free[o.Note] = n&2 == 0
	}
	set, err := lesson.Set(w.studio.Desk, lesson.Wish{Words: "Slowly.", Kinds: kinds, Free: free})
	if err != nil {
		return
	}
	letters := packet.EncodeTask(set)
	w.tasks = append(w.tasks, letters)
	if !w.studio.OpenTask(letters) {
		t.Errorf("a task that was just set does not open: %q", w.page.messages)
	}
}

func (w *walker) leave(rapid.TB, int) {
	if w.studio.Homework != nil { // else there is no such button
		w.studio.LeaveTask()
	}
}

func (w *walker) report(_ rapid.TB, n int) {
	switch {
	case w.studio.Homework != nil:
		w.reports = append(w.reports, packet.EncodeReport(w.studio.Report(one([]string{"", "Ana", "Ben"}, n))))
	case len(w.reports) == 0:
	case n%4 == 0:
		w.studio.OpenFiles([]studio.File{{Name: "a", Data: []byte("#report=" + one(w.reports, n/4))}, {Name: "b", Data: []byte("#report=broken")}, {Name: "c", Data: w.studio.Save()}})
	case n%4 == 1:
		w.studio.OpenPackets("#report=" + one(w.reports, n/4))
	case n%4 == 2:
		if r, err := packet.DecodeReport(one(w.reports, n/4)); err == nil {
			w.studio.NextTask(r.Packed)
		}
	default:
		w.studio.EraseStudent(one([]string{"", "Ana", "Ben"}, n/4))
	}
}

func (w *walker) speak(t rapid.TB, n int) {
	w.studio.Leave()
	w.language = nil
	if n&1 == 0 {
		w.language = german(t)
	}
	w.load(nil)
}

func german(t rapid.TB) *words.Catalogue {
	t.Helper()
	c, err := po.Catalogue("de")
	require.NoError(t, err)
	return c
}

// reload brings the same desk back, for the same player on the same page.
func (w *walker) reload(t rapid.TB, _ int) {
	t.Helper()
	before := w.studio
	w.load(nil)
	if w.lost {
		w.lost = false
		return
	}
	for what, pair := range map[string][2]any{
		"desk":   {before.Desk.Save(), w.studio.Desk.Save()},
		"task":   {before.Homework != nil, w.studio.Homework != nil},
		"kind":   {before.Rounds.Kind, w.studio.Rounds.Kind},
		"player": {before.Log.Player, w.studio.Log.Player},
		"log":    {before.Log.Diary.Encode(), w.studio.Log.Diary.Encode()},
		"day":    {before.Today.Day.Encode(1), w.studio.Today.Day.Encode(1)},
		"voice":  {before.Desk.Voice, w.studio.Desk.Voice},
	} {
		if pair[0] != pair[1] {
			t.Errorf("a reload changes the %s:\n%v\n%v", what, pair[0], pair[1])
		}
	}
}

func (w *walker) set(_ rapid.TB, n int) {
	s, d := w.studio, w.studio.Desk
	v := n / 20
	hands := []round.Hands{round.RightHand, round.LeftHand, round.BothHands, round.NoHand}
	switch n % 20 {
	case 0:
		d.SetPercent(float64(20 + 15*v))
	case 1:
		d.SetBeats(float64(10 + 12*v))
	case 2:
		d.SetGoal(float64(20 * v))
		s.Decided()
	case 3:
		d.Tap = one(hands[:3], v)
	case 4:
		d.Hear, d.HearSet = one(hands, v), v < 6
	case 5, 6:
		m := d.Passage.Measures
		s.SetBars(one([]string{m[0].Number, m[v%len(m)].Number + "-" + m[len(m)-1].Number, "1-2", "all", "7-3", ""}, v))
	case 7:
		d.SetInstrument(one(studioInstruments, v))
	case 8:
		d.CountIn = v % 3
	case 9:
		d.Beat = !d.Beat
	case 10:
		d.Repeat = !d.Repeat
	case 11:
		d.SetOrnaments(!d.Ornaments)
		s.Decided()
	case 12:
		d.SetTradition(one(realize.Traditions(), v).Key)
		s.Decided()
	case 13:
		d.SetPrefer(one([]realize.Preference{realize.Sources, realize.Performers}, v))
		s.Decided()
	case 14:
		if s.SetRate(float64(v)) {
			s.Log.KeepRate(float64(v), conduct.OnKeys)
		}
	case 15:
		d.SetTemperament(one(tuning.All(), v).Name)
	case 16:
		d.SetPitch(one([]float64{392, 415, 440, 466, 1}, v))
	case 17:
		if f := d.Follows(); len(f) > 0 {
			s.Rounds.Stop()
			d.Follow, _ = desk.ParseFollow(one(f, v))
		}
	case 18:
		s.SetNaming(one([]music.Naming{music.EnglishNames, music.GermanNames}, v))
	case 19:
		s.Pace(float64(v%3 - 1))
	}
	s.Settled()
}

var studioInstruments = func() []string {
	var keys []string
	for _, i := range synth.Instruments() {
		keys = append(keys, string(i.Key))
	}
	return keys
}()

func (w *walker) decide(_ rapid.TB, n int) {
	s, d := w.studio, w.studio.Desk
	v := n / 10
	if !s.MayChoose() {
		return
	}
	switch n % 10 {
	case 0, 1:
		d.Choose(v)
	case 2:
		_ = d.Edit(one([]realize.Edit{{First: 1}, {Alternations: 1}, {Ending: 1}, {Shift: music.F(1, 8)}, {Rhythm: realize.HoldLast}, {Upper: -1}}, v))
	case 3:
		_ = d.SetOwnNotes(one([]string{"C D C", "", "x", "C5 B4"}, v), music.F(1, 8), realize.SmallPlace(v%3))
	case 4:
		_ = d.SayWhy("because", v&1 == 1)
	case 5:
		_ = d.SetFingers(one([]string{"1 2 3", "", "9"}, v))
	case 6:
		d.ChooseInPass(1+v%2, v/2)
	case 7:
		d.Always()
	case 8:
		d.Forget()
	case 9:
		if len(d.Reading.Questions) > 0 {
			q := v % len(d.Reading.Questions)
			d.Answer(q, v%len(d.Reading.Questions[q].Options))
		} else {
			d.TakeAlong()
		}
	}
	s.Decided()
}

func (w *walker) player(_ rapid.TB, n int) {
	l, name := w.studio.Log, one([]string{"Ana", "Ben", "Cleo"}, n/8)
	switch n % 8 {
	case 0:
		l.AddPlayer(name)
	case 1:
		names := []string{""}
		for _, p := range l.Diary.Players {
			names = append(names, p.Name)
		}
		l.Name(one(names, n/8))
	case 2:
		l.Disown()
	case 3:
		l.AddPiano(1 + n)
	case 4:
		l.AddMarks([4]int{n % 4, 1, 2, 3})
	case 5:
		if l.Player != "" {
			l.SetYoung(n&8 == 0)
		}
	case 6:
		l.Erase(false)
	case 7:
		l.Erase(true)
	}
}

func (w *walker) day(_ rapid.TB, n int) {
	today := w.studio.Today
	switch {
	case n%4 == 0:
		today.Begin()
	case !today.On || today.Over():
		if today.Over() {
			today.PutAway(n)
		}
	case n%4 == 3:
		today.End()
	default:
		today.Go()
	}
}

func (w *walker) make(_ rapid.TB, n int) {
	switch n % 3 {
	case 0:
		f := paper.Load("")
		f.Move(n/3 - 40)
		if id := w.studio.Desk.ID; n&1 == 0 && strings.HasPrefix(id, "kept-") {
			if it, ok := w.studio.Passages.Shelf.Find(id); ok && it.Kind == "paper" {
				_ = w.studio.LayPaper(f, id)
				return
			}
		}
		_ = w.studio.LayPaper(f, "")
	case 1:
		_ = w.studio.LayTyped(twoHands)
	case 2:
		_ = w.studio.LayTyped(one([]string{"", "X:1\nK:C\nTC4|", "K:G\nV:R\nd|"}, n/3))
	}
}

func (w *walker) choose(_ rapid.TB, n int) {
	d := w.studio.Desk
	v := n/5%7 - 3
	switch n % 5 {
	case 0:
		d.Step(v)
	case 1:
		d.StepNote(v)
	case 2:
		d.StepVoice(v)
	case 3:
		var notes []score.ID
		for i := range d.Passage.Chords {
			for _, note := range d.Passage.Chords[i].Notes {
				notes = append(notes, note.ID)
			}
		}
		d.SelectNote(one(notes, n))
	case 4:
		d.SetLine(!d.LineOpen())
		w.page.Engrave()
	}
	w.studio.Selected()
}

// trouble is what a device does: it does not open, is silent, is held, or
// keeps nothing for one step.
func (w *walker) trouble(t rapid.TB, n int) {
	switch n % 4 {
	case 0:
		w.sound.broken = !w.sound.broken
	case 1:
		w.sound.silent = !w.sound.silent
	case 2:
		w.sound.held = !w.sound.held
	case 3:
		w.full = true
		w.step(t, n/4%len(steps()), n/4) // a smaller n each time, should it be trouble again
		w.full, w.lost = false, true
		w.studio.Settled()
	}
}

// check is what holds after every step.
func (w *walker) check(t rapid.TB) {
	t.Helper()
	r, s := w.studio.Rounds, w.studio
	fail := func(format string, args ...any) {
		t.Helper()
		t.Errorf(format, args...)
	}
	if w.page.state != r.State {
		fail("the page shows the state %s, the round is %s", w.page.state, r.State)
	}
	sounding := r.State == round.Counting || r.State == round.Listening || r.State == round.Tapping
	if sounding != r.Sounding() {
		fail("the state is %s, a round sounds: %v", r.State, r.Sounding())
	}
	if w.page.awake != r.Sounding() {
		fail("the screen stays awake: %v, a round sounds: %v", w.page.awake, r.Sounding())
	}
	if w.page.big != r.Clapping() {
		fail("the staff is big: %v, everybody claps: %v", w.page.big, r.Clapping())
	}
	if (w.sound.playing != nil) != (r.Round != nil) {
		fail("something sounds: %v, a round is on: %v", w.sound.playing != nil, r.Round != nil)
	}
	if s.Desk != r.Desk {
		fail("rounds are played on another desk than is shown")
	}
	saved := s.Desk.Save()
	if w.page.shown != saved {
		fail("the page shows another desk:\n%s\n%s", w.page.shown, saved)
	}
	if w.texts[keep.DeskKey] != saved {
		fail("another desk is kept:\n%s\n%s", w.texts[keep.DeskKey], saved)
	}
	if seen := w.page.seen(); w.page.staff != seen {
		fail("the staff shows %v, the desk holds %v", w.page.staff, seen)
	}
	if w.page.marks != len(r.Marks) {
		fail("%d marks are shown of %d", w.page.marks, len(r.Marks))
	}
	if w.page.student != (s.Homework != nil) {
		fail("the student's page is shown: %v, a task is open: %v", w.page.student, s.Homework != nil)
	}
	if s.Homework != nil && s.Homework.Desk != s.Desk {
		fail("the desk of another passage lies on the student's page")
	}
	if d := s.Today.Day; d != (day.Day{}) && !d.On {
		fail("a day without a beginning: %+v", d)
	}
	if p := s.Desk.Percent; math.IsNaN(p) || p < 20 || p > 200 {
		fail("the tempo is %v per cent", p)
	}
	w.hears(t)
}

// hears compares what sounds with what lies on the desk, where one listens to
// it: a round that is tapped keeps what it began with.
func (w *walker) hears(t rapid.TB) {
	t.Helper()
	r, d := w.studio.Rounds, w.studio.Desk
	if r.Round == nil || r.Session != nil {
		return
	}
	plan, err := d.Plan(false, conduct.Rate)
	if err != nil {
		t.Errorf("what sounds cannot be played: %v", err)
		return
	}
	if got, want := fmt.Sprint(*w.sound.playing), fmt.Sprint(plan.Sequence); got != want {
		t.Errorf("what sounds is not what is shown:\n%.300s\n%.300s", got, want)
	}
	if string(w.sound.instrument) != d.Instrument {
		t.Errorf("the instrument is %s, the desk's %s", w.sound.instrument, d.Instrument)
	}
	if w.sound.tuning != d.Tuning() {
		t.Errorf("the tuning is %v, the desk's %v", w.sound.tuning, d.Tuning())
	}
}

// left tells whether stopping led out of everything.
func (w *walker) left(t rapid.TB) {
	t.Helper()
	if s := w.studio.Rounds.State; s != round.Ready && s != round.Result {
		t.Errorf("after stopping the state is %s", s)
	}
	if w.studio.Rounds.Busy() {
		t.Errorf("after stopping something is still to be done")
	}
}
