package main

import (
	"agremens/game/desk"
	"agremens/game/diary"
)

// setRate lets the reading follow a player's rate, notes a second, and
// reports whether that can be set.
func (a *app) setRate(rate float64) bool {
	if a.desk == nil {
		return false
	}
	if !a.desk.SetRate(rate) {
		return false
	}
	a.changed()
	a.resound()
	return true
}

// playersRate is the notes a second of who taps, a student's where not known.
func (a *app) playersRate() float64 {
	if p, ok := a.log.diary.Player(a.log.player); ok && p.Rate > 0 {
		return p.Rate
	}
	return desk.StudentRate
}

// rateOf keeps the rate with who taps, where somebody is named.
func (a *app) rateOf(rate float64, with string) {
	if a.log.player == "" {
		return
	}
	a.write(func(d *diary.Diary) {
		p, _ := d.Player(a.log.player)
		p.Name, p.Rate, p.With = a.log.player, rate, with
		d.SetPlayer(p)
	})
}
