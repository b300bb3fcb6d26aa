package main

import (
	"agremens/game/diary"
	"agremens/game/week"
	"agremens/web/dom"
)

// show shows what is in the log for who taps now.
func (s *logSheet) show() {
	d, player := s.log.Diary, s.log.Player
	names := []dom.Option{{Key: "", Label: s.words.Say("no name")}}
	for _, p := range d.Players {
		names = append(names, dom.Option{Key: p.Name, Label: p.Name})
	}
	dom.SetOptions("log-player", names, player)
	known, named := d.Player(player)
	dom.SetDisabled("log-young", !named)
	dom.SetChecked("log-young", known.Young)
	passages := []dom.Option{{Key: anyPassage, Label: s.words.Say("all")}}
	for _, p := range d.Of(player).Passages() {
		passages = append(passages, dom.Option{Key: p.Key, Label: p.Title})
	}
	dom.SetOptions("log-passage", passages, s.passage)
	var w week.Week // of one passage: tempos of several say nothing beside each other
	if s.passage != anyPassage || len(passages) == 2 {
		w = week.Of(d, player, s.passage, s.log.Now().Day, 0)
		w.Open = true
	}
	showWeek("log-week", w, s.words)
	s.showProgress(d.Progress(player, s.passage))
	for _, id := range []string{"export-csv", "export-json", "erase-all"} {
		dom.SetDisabled(id, d.Empty())
	}
	dom.SetDisabled("erase-one", d.Of(player).Empty())
}

func (s *logSheet) showProgress(p diary.Progress) {
	dom.SetText("log-summary", p.Summary(s.words))
	dom.SetHidden("log-rows", p.Rounds == 0)
	var rows [][]string
	for _, r := range p.Rows(s.words) {
		rows = append(rows, []string{r.Name, r.Text})
	}
	dom.SetTable("log-rows", nil, rows)
	dom.SetText("log-fault", p.Left(s.words))
	dom.SetHidden("log-figure", len(p.Last) == 0)
	dom.SetHidden("log-table", len(p.Last) == 0)
	dom.SetDrawing("log-picture", p.Picture(s.words))
	rows = nil
	for i := len(p.Last) - 1; i >= 0; i-- {
		rows = append(rows, p.Last[i].Cells(s.words))
	}
	var head []string
	for _, column := range diary.TableHead {
		head = append(head, s.words.Say(column))
	}
	dom.SetTable("log-days", head, rows)
}
