package diary

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"agremens/realize/sorting"
)

// Name makes a player's name of what was typed: no control characters, single
// spaces, at most [MaxName] characters. Nothing is left of an empty one.
func Name(typed string) string { return clip(typed, MaxName) }

// clip makes one line of a text, of at most so many characters.
func clip(s string, most int) string {
	words := strings.FieldsFunc(strings.ToValidUTF8(s, ""), func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) })
	out := []rune(strings.Join(words, " "))
	if len(out) > most {
		out = out[:most]
	}
	return strings.TrimSpace(string(out))
}

// Player returns what is known of a player.
func (d *Diary) Player(name string) (Player, bool) {
	i := slices.IndexFunc(d.Players, func(p Player) bool { return p.Name == name })
	if i < 0 {
		return Player{}, false
	}
	return d.Players[i], true
}

// SetPlayer puts a player into the diary, or changes what is known of one. It
// reports false for an empty name and where there is no room for another.
func (d *Diary) SetPlayer(p Player) bool {
	p = p.tidy()
	if p.Name == "" {
		return false
	}
	for i := range d.Players {
		if d.Players[i].Name == p.Name {
			d.Players[i] = p
			return true
		}
	}
	if len(d.Players) >= MaxPlayers {
		return false
	}
	d.Players = append(d.Players, p)
	sorting.Stable(d.Players, func(a, b Player) int { return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
	return true
}

// tidy brings every field within its limits.
func (p Player) tidy() Player {
	p.Name = Name(p.Name)
	p.Rate = number(p.Rate, 0, 30)
	p.With = clip(p.With, maxText)
	return p
}

func (r Round) tidy() Round {
	r.When = r.When.tidy()
	r.Player = Name(r.Player)
	for _, s := range []*string{&r.Passage, &r.Title, &r.Bars, &r.Kind, &r.With, &r.Hand, &r.Fault, &r.Where} {
		*s = clip(*s, maxText)
	}
	r.Beats, r.Goal = number(r.Beats, 0, 1000), number(r.Goal, 0, 1000)
	r.MeanMS, r.SpreadMS = number(r.MeanMS, -mostMS, mostMS), number(r.SpreadMS, 0, mostMS)
	r.Seconds = min(max(r.Seconds, 0), 86400)
	for _, n := range []*int{&r.Wanted, &r.Hit, &r.Missed, &r.Extra} {
		*n = min(max(*n, 0), mostNotes)
	}
	r.Starts, r.Uneven = numbers(r.Starts, -mostMS, mostMS), numbers(r.Uneven, 0, 10)
	return r
}

func (e Ear) tidy() Ear {
	e.When = e.When.tidy()
	e.Player, e.Passage, e.Title = Name(e.Player), clip(e.Passage, maxText), clip(e.Title, maxText)
	for _, n := range []*int{&e.OnBeat, &e.Even, &e.Lands, &e.Steady} {
		*n = min(max(*n, 0), BestMark)
	}
	return e
}

func (p Piano) tidy() Piano {
	p.When = p.When.tidy()
	p.Player, p.Passage, p.Title = Name(p.Player), clip(p.Passage, maxText), clip(p.Title, maxText)
	p.Minutes = min(max(p.Minutes, 0), 600)
	return p
}

const (
	mostMS    = 100000
	mostNotes = 100000
	lastDay   = 200000 // in the year 2517
)

func (w When) tidy() When {
	return When{Day: min(max(w.Day, 0), lastDay), Minute: min(max(w.Minute, 0), 24*60-1)}
}

// number brings x within its limits; what is no number is 0.
func number(x, least, most float64) float64 {
	if math.IsNaN(x) {
		x = 0
	}
	return min(max(x, least), most)
}

func numbers(x []float64, least, most float64) []float64 {
	var out []float64
	for _, v := range x[:min(len(x), maxStarts)] {
		out = append(out, number(v, least, most))
	}
	return out
}
