package main

import (
	"strconv"
	"strings"

	"agremens/game/diary"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/game/shelf"
	"agremens/web/dom"
)

// Names in the browser's storage.
const (
	diaryKey  = "agremens.diary"
	damageKey = "agremens.diary.damaged"
	playerKey = "agremens.player" // name, a line end, the day it was last said
	// durableKey says that the browser was asked to leave the storage alone.
	durableKey = "agremens.durable"
)

// logbook is the log of practice as the page holds it.
type logbook struct {
	diary  *diary.Diary
	text   string // as last read or kept
	player string // who taps, "" nobody named
	asked  bool   // who is tapping, since the page was opened
	unkept bool   // it was said that the log is not kept
	// fresh is how many of the latest rounds were played just now, and can be
	// dropped together.
	fresh int
}

func (a *app) bindDiary() {
	a.log.diary = &diary.Diary{}
	a.readDiary()
	a.log.player = a.presumed()
	dom.OnClick("not-me", func() {
		a.write(func(d *diary.Diary) {
			latest := d.Latest(a.log.fresh)
			d.Drop(a.log.fresh, len(latest) > 0 && !latest[0].Void)
		})
		a.showKept()
	})
	dom.OnClick("name-it", func() { a.openLog(); dom.Focus("new-player") })
	a.showWho()
}

// presumed is who taps as long as nobody says so.
func (a *app) presumed() string {
	said, _, _ := dom.Load(playerKey)
	last, day, _ := strings.Cut(said, "\n")
	on, _ := strconv.Atoi(day)
	today, _ := dom.Wall()
	return a.log.diary.Presumed(last, on, today)
}

func now() diary.When {
	day, minute := dom.Wall()
	return diary.When{Day: day, Minute: minute}
}

// readDiary takes the log from storage where another window has changed it.
func (a *app) readDiary() {
	text, ok, err := dom.Load(diaryKey)
	if err != nil || !ok || text == a.log.text {
		return
	}
	d, damaged, err := diary.Decode(text)
	if err != nil || damaged > 0 {
		_ = dom.Store(damageKey, text)
	}
	if err != nil {
		a.say(a.words.Say("The practice log on this device cannot be read. It is put aside, and a new one begins."))
		_ = dom.Forget(diaryKey)
		return
	}
	a.log.diary, a.log.text = d, text
}

// write changes the log and keeps it. What is not kept stays until the page
// is closed, and that is said, once.
func (a *app) write(change func(*diary.Diary)) {
	a.readDiary()
	change(a.log.diary)
	text := a.log.diary.Encode()
	if err := dom.Store(diaryKey, text); err != nil {
		if !a.log.unkept {
			a.log.unkept = true
			a.say(a.words.Say("The practice log cannot be saved here: this window is private, or the browser's storage is full. It lasts until the page is closed; under More, “Log and players”, you can save it as a file."))
		}
		return
	}
	a.log.text = text
}

// record puts a finished round into the log. The edge fills in who and when.
func (a *app) record(c round.Record, with string, plain bool) {
	// Who is named in a round of several players is named there already.
	if c.Player == "" {
		c.Player = a.log.player
	}
	entry := diary.From(c, now(), with, plain)
	a.dayAfter(c, plain)
	if !c.Judged || c.Hit == 0 {
		return
	}
	a.write(func(d *diary.Diary) {
		if _, known := d.Player(entry.Player); !known {
			d.SetPlayer(diary.Player{Name: entry.Player})
		}
		d.Add(entry)
	})
	a.log.fresh++
	a.showKept()
	// Asked for once: some browsers ask the user.
	if _, asked, _ := dom.Load(durableKey); !asked {
		_ = dom.Store(durableKey, "asked")
		go dom.Keep()
	}
}

// Listened tells the day that something was listened to.
func (a *app) Listened(seconds float64) {
	a.dayAfter(round.Record{Kind: "listen", Seconds: seconds}, false)
}

// leastAtPiano is how many seconds at the piano are worth a line in the log.
const leastAtPiano = 30

// Record puts what was done into the log.
func (a *app) Record(records []round.Record, with string) {
	a.log.fresh = 0
	for _, c := range records {
		c.Passage = a.passageKey()
		a.record(c, with, !a.desk.Ornaments)
		if c.Kind == practice.Piano && c.Seconds >= leastAtPiano {
			a.addPiano(max(1, int(c.Seconds/60+0.5)))
		}
	}
}

// passageKey names the passage in the log: a task by its id, which its report
// goes by; one's own by its title, which outlasts its place on the shelf.
func (a *app) passageKey() string {
	if it, own := a.shelf.Find(a.desk.ID); own && it.Kind != shelf.Task {
		return a.desk.Passage.Title
	}
	return a.desk.ID
}

// setPlayer says who taps from now on; the reading follows that player's rate.
func (a *app) setPlayer(name string) {
	a.log.player, a.log.asked = name, true
	day, _ := dom.Wall()
	_ = dom.Store(playerKey, name+"\n"+strconv.Itoa(day))
	a.setRate(a.playersRate())
	a.showWho()
	a.showKept()
}

// showWho asks who is tapping where several could be. Nothing waits for the
// answer.
func (a *app) showWho() {
	ask := a.log.diary.Ask() && !a.log.asked
	dom.SetHidden("who-strip", !ask)
	if ask {
		var names []dom.Button
		for _, p := range a.log.diary.Players {
			names = append(names, dom.Button{Key: p.Name, Label: p.Name, Pressed: p.Name == a.log.player})
		}
		names = append(names, dom.Button{Key: "", Label: a.words.Say("Somebody else")})
		dom.SetButtons("who-names", names, a.setPlayer)
	}
	a.showStrip()
}

// showKept says beside a result where it went, and takes it back.
func (a *app) showKept() {
	latest := a.log.diary.Latest(a.log.fresh)
	show := a.rounds.State == round.Result && len(latest) > 0
	dom.SetHidden("kept-strip", !show)
	if show {
		text, button := diary.Where(latest, a.words)
		dom.SetText("kept-text", text)
		dom.SetText("not-me", button)
		dom.SetHidden("name-it", latest[0].Player != "" || latest[0].Void)
	}
	a.showStrip()
}

// showStrip shows the strip while any line of it is shown.
func (a *app) showStrip() {
	dom.SetHidden("strip", dom.Hidden("who-strip") && dom.Hidden("day-strip") && dom.Hidden("kept-strip"))
}
