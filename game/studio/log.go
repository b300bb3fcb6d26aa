package studio

import (
	"strconv"
	"strings"

	"agremens/game/closeup"
	"agremens/game/diary"
	"agremens/game/keep"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/game/shelf"
	"agremens/realize"
)

// leastAtPiano is how many seconds at the piano are worth a line in the log.
const leastAtPiano = 30

// Log is the log of practice on this device, and who taps.
type Log struct {
	Diary  *diary.Diary
	Player string // who taps, "" nobody named
	Named  bool   // somebody said who taps, since the page was opened
	// Fresh is how many of the latest rounds were played just now, and can be
	// dropped together.
	Fresh int

	studio *Studio
	text   string // as last read or kept
	unkept bool   // that was said
}

func (l *Log) open() {
	l.Diary = &diary.Diary{}
	l.Read()
	said, _, _ := l.studio.store.Load(keep.PlayerKey)
	last, day, _ := strings.Cut(said, "\n")
	on, _ := strconv.Atoi(day)
	today, _ := l.studio.time.Wall()
	l.Player = l.Diary.Presumed(last, on, today)
}

// Now is the moment of an entry.
func (l *Log) Now() diary.When {
	day, minute := l.studio.time.Wall()
	return diary.When{Day: day, Minute: minute}
}

// Read takes the log from the store where another window has changed it.
func (l *Log) Read() {
	store := l.studio.store
	text, ok, err := store.Load(keep.DiaryKey)
	if err != nil || !ok || text == l.text {
		return
	}
	d, damaged, err := diary.Decode(text)
	if err != nil || damaged > 0 {
		_ = store.Save(keep.DamagedKey, text)
	}
	if err != nil {
		l.studio.page.Say(l.studio.Words.Say("The practice log on this device cannot be read. It is put aside, and a new one begins."))
		_ = store.Forget(keep.DiaryKey)
		return
	}
	l.Diary, l.text = d, text
}

// Write changes the log and keeps it. What is not kept stays until the page is
// closed, and that is said, once.
func (l *Log) Write(change func(*diary.Diary)) {
	l.Read()
	change(l.Diary)
	text := l.Diary.Encode()
	if l.studio.store.Save(keep.DiaryKey, text) == nil {
		l.text = text
		return
	}
	if !l.unkept {
		l.unkept = true
		l.studio.page.Say(l.studio.Words.Say("The practice log cannot be saved here: this window is private, or the browser's storage is full. It lasts until the page is closed; under ···, “Log and players”, you can save it as a file."))
	}
}

// record puts what was done into the log.
func (l *Log) record(records []round.Record, with string) {
	l.Fresh = 0
	plain := !l.studio.Desk.Ornaments
	for _, c := range records {
		c.Passage = l.passage()
		// Who is named in a round of several players is named there already.
		if c.Player == "" {
			c.Player = l.Player
		}
		l.studio.Today.after(c, plain)
		switch {
		case c.Judged && c.Hit > 0:
			l.add(diary.From(c, l.Now(), with, plain))
		case c.Kind == practice.Piano && c.Seconds >= leastAtPiano:
			l.AddPiano(max(1, int(c.Seconds/60+0.5)))
		}
	}
}

func (l *Log) add(entry diary.Round) {
	l.Write(func(d *diary.Diary) {
		if _, known := d.Player(entry.Player); !known {
			d.SetPlayer(diary.Player{Name: entry.Player})
		}
		d.Add(entry)
	})
	l.Fresh++
	l.studio.page.Kept()
	// Asked for once: some browsers ask the user.
	if _, asked, _ := l.studio.store.Load(keep.DurableKey); !asked {
		_ = l.studio.store.Save(keep.DurableKey, "asked")
		l.studio.page.Durable()
	}
}

// passage names the passage in the log: a task by its id, which its report goes
// by; one's own by its title, which outlasts its place on the shelf.
func (l *Log) passage() string {
	d := l.studio.Desk
	if it, own := l.studio.Passages.Shelf.Find(d.ID); own && it.Kind != shelf.Task {
		return d.Passage.Title
	}
	return d.ID
}

// AddPiano puts minutes at the piano into the log.
func (l *Log) AddPiano(minutes int) {
	p := diary.Piano{When: l.Now(), Player: l.Player, Passage: l.passage(), Title: l.studio.Desk.Passage.Title, Minutes: minutes}
	l.Write(func(d *diary.Diary) { d.AddPiano(p) })
}

// SetPiano says how many minutes were at the piano today with what lies on the
// desk, in all; PianoToday is how many were told.
func (l *Log) SetPiano(minutes int) {
	p := diary.Piano{When: l.Now(), Player: l.Player, Passage: l.passage(), Title: l.studio.Desk.Passage.Title, Minutes: minutes}
	l.Write(func(d *diary.Diary) { d.SetPiano(p) })
}

// PianoToday is how many minutes at the piano were told today.
func (l *Log) PianoToday() int { return l.Diary.PianoOn(l.Now().Day, l.Player, l.passage()) }

// AddMarks puts four marks by ear into the log: on the beat, even, lands,
// steady.
func (l *Log) AddMarks(m [4]int) {
	e := diary.Ear{When: l.Now(), Player: l.Player, Passage: l.passage(), Title: l.studio.Desk.Passage.Title,
		OnBeat: m[0], Even: m[1], Lands: m[2], Steady: m[3]}
	l.Write(func(d *diary.Diary) { d.AddEar(e) })
}

// Disown says of the rounds just played that they were not the player's, or
// takes that back.
func (l *Log) Disown() {
	l.Write(func(d *diary.Diary) {
		latest := d.Latest(l.Fresh)
		d.Drop(l.Fresh, len(latest) > 0 && !latest[0].Void)
	})
	l.studio.page.Kept()
}

// Name says who taps from now on; the reading follows that player's rate.
func (l *Log) Name(player string) {
	if l.Player != "" && l.Player != player && !l.studio.Rounds.Busy() {
		l.studio.Rounds.Forget() // the next player begins with nothing under the notes
	}
	l.Player, l.Named = player, true
	day, _ := l.studio.time.Wall()
	_ = l.studio.store.Save(keep.PlayerKey, player+"\n"+strconv.Itoa(day))
	l.studio.SetRate(l.Rate())
	l.studio.page.Who()
	l.studio.page.Kept()
}

// AddPlayer adds a name, gives it the rounds just played by nobody named, and
// lets it tap from now on. It reports whether there was room.
func (l *Log) AddPlayer(name string) bool {
	ok := false
	l.Write(func(d *diary.Diary) {
		p, _ := d.Player(name)
		p.Name = name
		if ok = d.SetPlayer(p); ok {
			d.Sign(l.Fresh, name)
		}
	})
	if ok {
		l.Name(name)
	}
	return ok
}

// claim gives the rounds of a passage that nobody was named for to a player who
// taps from now on.
func (l *Log) claim(name, passage string) {
	l.Write(func(d *diary.Diary) { d.Claim(name, passage) })
	l.Name(name)
}

// SetYoung says whether who taps is under twelve.
func (l *Log) SetYoung(young bool) {
	l.Write(func(d *diary.Diary) {
		p, _ := d.Player(l.Player)
		p.Name, p.Young = l.Player, young
		d.SetPlayer(p)
	})
}

// Against lays an ornament as it was just tapped, at so many felt beats a
// minute, beside how the same player tapped it on an earlier day, else beside
// the teacher's taps that came with the task. It keeps all ornaments of the
// round for the next ones.
func (l *Log) Against(f closeup.Figure, round []closeup.Figure, tempo float64) *closeup.Row {
	text, _, _ := l.studio.store.Load(keep.BeforeKey)
	m := closeup.Remember(text)
	row := func(f closeup.Figure) closeup.Row {
		return closeup.RowOf(f, l.Player, l.passage(), l.Now().Day, tempo)
	}
	before := m.Before(row(f))
	if before != nil {
		one := *before
		before = &one
	} else {
		before = l.studio.teachers(f)
	}
	for _, one := range append(round, f) { // what is shown is the one that is kept
		m = m.Add(row(one))
	}
	_ = l.studio.store.Save(keep.BeforeKey, m.String()) // without room there is no comparison
	return before
}

// own are the last taps of who taps at each ornament on the desk.
func (l *Log) own() map[string]closeup.Row {
	text, _, _ := l.studio.store.Load(keep.BeforeKey)
	return closeup.Remember(text).Latest(l.Player, l.passage())
}

// Erase takes who taps, or everything, out of the log and of the store.
func (l *Log) Erase(all bool) {
	l.Fresh = 0
	if all {
		l.Diary, l.text = &diary.Diary{}, ""
		for _, key := range []string{keep.DiaryKey, keep.DamagedKey, keep.PlayerKey, keep.BeforeKey} {
			_ = l.studio.store.Forget(key)
		}
	} else {
		l.Write(func(d *diary.Diary) { d.Erase(l.Player) })
		text, _, _ := l.studio.store.Load(keep.BeforeKey)
		_ = l.studio.store.Save(keep.BeforeKey, closeup.Remember(text).Without(l.Player).String())
	}
	l.Name("")
}

// Rate is the notes a second of who taps, a student's where not known.
func (l *Log) Rate() float64 {
	if p, ok := l.Diary.Player(l.Player); ok && p.Rate > 0 {
		return p.Rate
	}
	return realize.StudentRate
}

// KeepRate keeps a rate with who taps, where somebody is named; with says what
// it was measured on.
func (l *Log) KeepRate(rate float64, with string) {
	if l.Player == "" {
		return
	}
	l.Write(func(d *diary.Diary) {
		p, _ := d.Player(l.Player)
		p.Name, p.Rate, p.With = l.Player, rate, with
		d.SetPlayer(p)
	})
}

// Young reports whether who taps is under twelve.
func (s *Studio) Young() bool {
	p, _ := s.Log.Diary.Player(s.Log.Player)
	return p.Young
}

// KeepRate keeps a rate with who taps.
func (s *Studio) KeepRate(rate float64, with string) { s.Log.KeepRate(rate, with) }

// SetRate lets the reading follow a player's rate, notes a second, and reports
// whether that can be set.
func (s *Studio) SetRate(rate float64) bool {
	if s.Desk == nil || !s.Desk.SetRate(rate) {
		return false
	}
	s.Decided()
	return true
}
