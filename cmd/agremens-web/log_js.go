package main

import (
	"strconv"
	"strings"

	"agremens/game/diary"
	"agremens/web/dom"
)

// anyPassage stands for all passages in the log's menu.
const anyPassage = ""

// ears are marks by ear that are not kept yet, -1 not given.
type ears [4]int

var noEars = ears{-1, -1, -1, -1}

// bindLog connects the sheet with the log and the players.
func (a *app) bindLog() {
	marks, passage, erase := noEars, anyPassage, ""
	show := func() { a.showLog(passage) }
	var showEars func()
	showEars = func() {
		all := true
		for i := range marks {
			var buttons []dom.Button
			for m := range diary.BestMark + 1 {
				buttons = append(buttons, dom.Button{Key: strconv.Itoa(m), Label: strconv.Itoa(m), Pressed: marks[i] == m})
			}
			dom.SetButtons("ear-"+strconv.Itoa(i), buttons, func(key string) { marks[i] = whole(key); showEars() })
			all = all && marks[i] >= 0
		}
		dom.SetDisabled("keep-ears", !all)
	}
	a.openLog = func() {
		a.readDiary()
		marks, passage = noEars, anyPassage
		dom.SetHidden("erase-ask", true)
		dom.SetText("log-note", "")
		show()
		showEars()
		dom.OpenSheet("log")
	}
	dom.OnClick("open-log", a.openLog)
	dom.OnClick("log-close", func() { dom.CloseSheet("log") })
	dom.OnChange("log-player", func() { a.setPlayer(dom.Value("log-player")); show() })
	dom.OnChange("log-passage", func() { passage = dom.Value("log-passage"); show() })
	dom.OnChange("log-young", func() {
		a.write(func(d *diary.Diary) {
			p, _ := d.Player(a.log.player)
			p.Name, p.Young = a.log.player, dom.Checked("log-young")
			d.SetPlayer(p)
		})
	})
	dom.OnClick("add-player", func() { a.addPlayer(); show() })
	dom.OnEnter("new-player", func() { a.addPlayer(); show() })
	dom.OnClick("keep-ears", func() {
		a.write(func(d *diary.Diary) {
			d.AddEar(diary.Ear{When: now(), Player: a.log.player, Passage: a.passageKey(), Title: a.desk.Passage.Title,
				OnBeat: marks[0], Even: marks[1], Lands: marks[2], Steady: marks[3]})
		})
		marks = noEars
		showEars()
		show()
		dom.SetText("log-note", a.words.Say("The marks are in the log."))
	})
	dom.OnClick("keep-piano", func() {
		if minutes := whole(dom.Value("piano-minutes")); minutes > 0 {
			a.addPiano(minutes)
			dom.SetValue("piano-minutes", "")
			show()
		}
	})
	a.bindTakeAway()
	ask := func(whom, text string) {
		erase = whom
		dom.SetText("erase-text", text)
		dom.SetHidden("erase-ask", false)
		dom.Focus("erase-no")
	}
	dom.OnClick("erase-one", func() {
		text := a.words.Say("Erase everything for {name}? This cannot be undone.", "{name}", a.log.player)
		if a.log.player == "" {
			text = a.words.Say("Erase everything without a name? This cannot be undone.")
		}
		ask("one", text)
	})
	dom.OnClick("erase-all", func() { ask("all", a.words.Say("Erase the whole log, for everyone? This cannot be undone.")) })
	dom.OnClick("erase-no", func() { dom.SetHidden("erase-ask", true) })
	dom.OnClick("erase-yes", func() {
		a.erase(erase == "all")
		dom.SetHidden("erase-ask", true)
		dom.Focus("log-player")
		passage = anyPassage
		show()
	})
}

func (a *app) bindTakeAway() {
	save := func(extension, mime string, data func(*diary.Diary) []byte) {
		day, _ := dom.Wall()
		name := a.words.Say("practice {date}", "{date}", diary.When{Day: day}.Date()) + extension
		if err := dom.Download(name, mime, data(a.log.diary)); err != nil {
			a.say(a.words.Say("The file could not be written: {error}", "{error}", a.words.Tell(err)))
		}
	}
	dom.OnClick("export-csv", func() { save(".csv", "text/csv", (*diary.Diary).CSV) })
	dom.OnClick("export-json", func() { save(".json", "application/json", (*diary.Diary).JSON) })
}

// erase takes a player, or everything, out of the log and of storage.
func (a *app) erase(all bool) {
	a.log.fresh = 0
	if all {
		a.log.diary, a.log.text = &diary.Diary{}, ""
		_ = dom.Forget(diaryKey)
		_ = dom.Forget(damageKey)
		_ = dom.Forget(playerKey)
	} else {
		a.write(func(d *diary.Diary) { d.Erase(a.log.player) })
	}
	a.setPlayer("")
	a.showKept()
}

func (a *app) addPlayer() {
	name := diary.Name(dom.Value("new-player"))
	if name == "" {
		dom.Focus("new-player")
		return
	}
	ok := false
	a.write(func(d *diary.Diary) {
		p, _ := d.Player(name)
		p.Name = name
		ok = d.SetPlayer(p)
		if ok {
			d.Sign(a.log.fresh, name)
		}
	})
	if !ok {
		dom.SetText("log-note", a.words.Say("There is room for {n} names on this device. Erase one first.", "{n}", strconv.Itoa(diary.MaxPlayers)))
		return
	}
	dom.SetValue("new-player", "")
	a.setPlayer(name)
	dom.SetText("log-note", a.words.Say("{name} taps from now on.", "{name}", name))
}

// showLog shows what is in the log for who taps now.
func (a *app) showLog(passage string) {
	d, player := a.log.diary, a.log.player
	names := []dom.Option{{Key: "", Label: a.words.Say("no name")}}
	for _, p := range d.Players {
		names = append(names, dom.Option{Key: p.Name, Label: p.Name})
	}
	dom.SetOptions("log-player", names, player)
	known, named := d.Player(player)
	dom.SetDisabled("log-young", !named)
	dom.SetChecked("log-young", known.Young)
	passages := []dom.Option{{Key: anyPassage, Label: a.words.Say("all")}}
	for _, p := range d.Of(player).Passages() {
		passages = append(passages, dom.Option{Key: p.Key, Label: p.Title})
	}
	dom.SetOptions("log-passage", passages, passage)
	p := d.Progress(player, passage)
	dom.SetText("log-summary", p.Summary(a.words))
	dom.SetHidden("log-rows", p.Rounds == 0)
	var rows [][]string
	for _, r := range p.Rows(a.words) {
		rows = append(rows, []string{r.Name, r.Text})
	}
	dom.SetTable("log-rows", nil, rows)
	dom.SetText("log-fault", p.Left(a.words))
	dom.SetHidden("log-figure", len(p.Last) == 0)
	dom.SetHidden("log-table", len(p.Last) == 0)
	dom.SetDrawing("log-picture", p.Picture(a.words))
	rows = nil
	for i := len(p.Last) - 1; i >= 0; i-- {
		rows = append(rows, p.Last[i].Cells(a.words))
	}
	var head []string
	for _, column := range diary.TableHead {
		head = append(head, a.words.Say(column))
	}
	dom.SetTable("log-days", head, rows)
	for _, id := range []string{"export-csv", "export-json", "erase-all"} {
		dom.SetDisabled(id, d.Empty())
	}
	dom.SetDisabled("erase-one", d.Of(player).Empty())
}

func whole(s string) int {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil {
		return 0
	}
	return n
}
