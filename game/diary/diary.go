// Package diary is the log of practice that stays on one device: the rounds of
// everyone who taps there, the teacher's marks by ear, and what has stayed of
// it all. It is pure; whoever keeps it keeps its text ([Diary.Encode]).
package diary

import "slices"

// Limits of a diary. What is more than that is left out, the oldest first.
const (
	MaxRounds  = 4000
	MaxEars    = 500
	MaxPianos  = 1000
	MaxPlayers = 40
	MaxName    = 24 // characters of a player's name
	maxText    = 80 // characters of any other text
	maxStarts  = 40 // ornaments of one round
)

// Diary is everything kept. The zero value is an empty one.
type Diary struct {
	Players []Player // in order of their names
	Rounds  []Round  // in order of time, as far as the device's clock is right
	Ears    []Ear
	Pianos  []Piano
	// strange are lines that this version does not know, kept for the next.
	strange []string
}

// Player is someone who taps on this device.
type Player struct {
	Name string // first name or initials
	// Rate is the notes a second the player can count on; 0 is not measured.
	Rate float64
	// With says where the rate comes from: "keys", "midi" or "typed".
	With string
	// Young says that the player is under twelve.
	Young bool
}

// When is a moment on the wall clock of the device's own place.
type When struct {
	Day    int // days since 1 January 1970
	Minute int // since midnight
}

// Round is one finished round of tapping.
type Round struct {
	When
	Player  string // "" nobody named
	Passage string // id of a built-in passage, or the title of an opened one
	Title   string
	Bars    string  // "1-4"
	Kind    string  // key of the kind of round
	With    string  // what was tapped on: "keys", "glass", "midi", "instrument"
	Hand    string  // "right", "left", "both"
	Beats   float64 // tempo, felt beats a minute
	Goal    float64 // the same at the goal tempo
	Seconds int     // from its first sound to its end
	Wanted  int
	Hit     int
	Missed  int
	Extra   int
	// MeanMS and SpreadMS are those of all hits, late positive, no lead taken out.
	MeanMS, SpreadMS float64
	Starts           []float64 // how late each ornament started against the other hand, ms
	Uneven           []float64 // scatter of each ornament's quick notes, share of their length
	Clean            bool
	Certain          bool   // enough was heard to judge by
	Unaided          bool   // without clicks and moving line
	Plain            bool   // the notes without their ornaments
	Fault            string // code of the first fault found, "" none
	Void             bool   // "that wasn't me"
	Where            string // the printed bar and the sign of the fault, "5 trill"; "" at several
}

// AtInstrument reports whether a round was played at an instrument and heard,
// a climb there too.
func (r *Round) AtInstrument() bool { return r.Kind == "piano" || r.With == "instrument" }

// Ear is the teacher's four marks, given by ear at the instrument: 0 to 3 each.
type Ear struct {
	When
	Player, Passage, Title      string
	OnBeat, Even, Lands, Steady int
}

// BestMark is the highest mark by ear.
const BestMark = 3

// Piano is time at the piano as the player told it.
type Piano struct {
	When
	Player, Passage, Title string
	Minutes                int
}

// Add puts a finished round into the diary.
func (d *Diary) Add(r Round) {
	d.Rounds = bounded(append(d.Rounds, r.tidy()), MaxRounds)
}

// AddEar puts the teacher's marks into the diary.
func (d *Diary) AddEar(e Ear) {
	d.Ears = bounded(append(d.Ears, e.tidy()), MaxEars)
}

// AddPiano puts time at the piano into the diary.
func (d *Diary) AddPiano(p Piano) {
	d.Pianos = bounded(append(d.Pianos, p.tidy()), MaxPianos)
}

// Drop says of the latest n rounds that they were not the player's, or takes
// that back. It reports whether there are so many.
func (d *Diary) Drop(n int, void bool) bool {
	if n <= 0 || n > len(d.Rounds) {
		return false
	}
	for i := range n {
		d.Rounds[len(d.Rounds)-1-i].Void = void
	}
	return true
}

// Latest returns the latest n rounds, the newest last; all where there are fewer.
func (d *Diary) Latest(n int) []Round { return d.Rounds[max(0, len(d.Rounds)-n):] }

// Sign gives those of the latest n rounds that are nobody's to a player.
func (d *Diary) Sign(n int, player string) {
	latest := d.Latest(n)
	for i := range latest {
		if latest[i].Player == "" {
			latest[i].Player = Name(player)
		}
	}
}

// Of returns what a player has in the diary, "" for nobody named.
func (d *Diary) Of(player string) *Diary {
	out := &Diary{}
	for _, r := range d.Rounds {
		if r.Player == player {
			out.Rounds = append(out.Rounds, r)
		}
	}
	for _, e := range d.Ears {
		if e.Player == player {
			out.Ears = append(out.Ears, e)
		}
	}
	for _, p := range d.Pianos {
		if p.Player == player {
			out.Pianos = append(out.Pianos, p)
		}
	}
	if p, ok := d.Player(player); ok {
		out.Players = []Player{p}
	}
	return out
}

// Erase takes out everything of a player, name included.
func (d *Diary) Erase(player string) {
	d.Rounds = slices.DeleteFunc(d.Rounds, func(r Round) bool { return r.Player == player })
	d.Ears = slices.DeleteFunc(d.Ears, func(e Ear) bool { return e.Player == player })
	d.Pianos = slices.DeleteFunc(d.Pianos, func(p Piano) bool { return p.Player == player })
	d.Players = slices.DeleteFunc(d.Players, func(p Player) bool { return p.Name == player })
}

// Empty reports whether nothing is kept.
func (d *Diary) Empty() bool {
	return len(d.Players)+len(d.Rounds)+len(d.Ears)+len(d.Pianos) == 0
}

func bounded[T any](all []T, most int) []T {
	if over := len(all) - most; over > 0 {
		return append([]T(nil), all[over:]...)
	}
	return all
}

// Known is a passage in the diary.
type Known struct{ Key, Title string }

// Passages returns the passages practised, the latest first.
func (d *Diary) Passages() []Known {
	var out []Known
	for i := len(d.Rounds) - 1; i >= 0; i-- {
		r := &d.Rounds[i]
		if !slices.ContainsFunc(out, func(k Known) bool { return k.Key == r.Passage }) {
			title := r.Title
			if title == "" {
				title = r.Passage
			}
			out = append(out, Known{r.Passage, title})
		}
	}
	return out
}
