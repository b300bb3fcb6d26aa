package diary

import (
	"math"
	"slices"

	"agremens/realize/sorting"
	"agremens/realize/tap"
)

// Progress is what has stayed of a player's practice, as far as it can be
// told: not the best round, but the first one of each day, rounds without
// help, passages never practised before, and the teacher's ears.
type Progress struct {
	Days, Rounds, Minutes int // of tapping; rounds that were dropped do not count
	PianoMinutes          int // as told
	Cold                  Kept
	Unaided               Kept
	New                   Kept
	Ears                  [4]Heard // on its beat, even, lands, beat steady
	// Fault is the code of the fault found most often in the last rounds, "" none.
	Fault string
	// Where is the place at which it was found most often, as in [Round].
	Where string
	Last  []DayLine // the days practised, in order
}

// Kept compares the earlier half of the last rounds of a kind with the later
// half, one value a round: notes of one round are not independent.
type Kept struct {
	Rounds int
	// Starts is the mean distance of ornaments' starts from their beats, ms;
	// Tempo the tempo as a share of the goal.
	Starts, Tempo tap.Change
	Clean         tap.Change
}

// Heard is one of the teacher's marks.
type Heard struct {
	N      int
	Latest int
	Change tap.Change
}

// DayLine is one day practised.
type DayLine struct {
	When
	Rounds, Minutes, Clean int
	// Cold is its first round with ornaments, Unaided the first of those without
	// help; nil for none.
	Cold, Unaided *Round
	// Best is the highest tempo of a clean round as a share of the goal, 0 none.
	Best float64
}

// keptRounds is how many of the last rounds of a kind are compared: what lies
// further back says little of now.
const keptRounds = 24

// faultRounds is how many of the last rounds tell which fault is left.
const faultRounds = 8

// Progress sums up what one player has in a diary; passage narrows it to one
// passage, "" takes all.
func (d *Diary) Progress(player, passage string) Progress {
	var rounds, ornamented, fresh []Round
	met := map[string]bool{}
	for _, r := range d.byTime() {
		if r.Void || r.Player != player {
			continue
		}
		if !met[r.Passage] && !r.Plain {
			fresh = append(fresh, r)
		}
		met[r.Passage] = met[r.Passage] || !r.Plain
		if passage != "" && r.Passage != passage {
			continue
		}
		rounds = append(rounds, r)
		if !r.Plain {
			ornamented = append(ornamented, r)
		}
	}
	p := Progress{Rounds: len(rounds), New: keep(fresh)}
	p.Cold, p.Unaided = keep(pick(ornamented, tap.Cold)), keep(pick(ornamented, tap.Unaided))
	faults := map[string]int{}
	seconds := 0
	for _, r := range rounds {
		seconds += r.Seconds
	}
	for _, r := range ornamented[max(0, len(ornamented)-faultRounds):] {
		if r.Fault != "" {
			if faults[r.Fault]++; faults[r.Fault] > faults[p.Fault] {
				p.Fault = r.Fault
			}
		}
	}
	places := map[string]int{}
	for _, r := range ornamented[max(0, len(ornamented)-faultRounds):] {
		if r.Fault == p.Fault && r.Where != "" {
			if places[r.Where]++; places[r.Where] > places[p.Where] {
				p.Where = r.Where
			}
		}
	}
	p.Minutes = (seconds + 59) / 60
	p.Last = days(rounds)
	p.Days = len(p.Last)
	for _, t := range d.Pianos {
		if t.Player == player && (passage == "" || t.Passage == passage) {
			p.PianoMinutes += t.Minutes
		}
	}
	p.Ears = d.heard(player, passage)
	return p
}

// byTime returns the rounds in order of their clock.
func (d *Diary) byTime() []Round {
	rounds := slices.Clone(d.Rounds)
	sorting.Stable(rounds, func(a, b Round) int { return a.When.compare(b.When) })
	return rounds
}

func (w When) compare(v When) int {
	if w.Day != v.Day {
		return w.Day - v.Day
	}
	return w.Minute - v.Minute
}

// pick chooses rounds by the rule of package tap.
func pick(rounds []Round, rule func([]tap.Practised) []tap.Practised) []Round {
	all := make([]tap.Practised, len(rounds))
	for i, r := range rounds {
		all[i] = tap.Practised{Day: r.Day, Minute: r.Minute, Unaided: r.Unaided, Void: r.Void, Place: i}
	}
	var out []Round
	for _, p := range rule(all) {
		out = append(out, rounds[p.Place])
	}
	return out
}

func keep(all []Round) Kept {
	rounds := all[max(0, len(all)-keptRounds):]
	half := len(rounds) / 2
	before, after := measure(rounds[:half]), measure(rounds[half:])
	return Kept{
		Rounds: len(all),
		Starts: tap.CompareStarts(before.starts, after.starts),
		Tempo:  tap.CompareTempo(before.tempo, after.tempo),
		Clean:  tap.CompareClean(before.clean, half, after.clean, len(rounds)-half),
	}
}

type measured struct {
	starts, tempo []float64
	clean         int
}

func measure(rounds []Round) measured {
	var m measured
	for _, r := range rounds {
		if len(r.Starts) > 0 {
			m.starts = append(m.starts, Distance(r.Starts))
		}
		if r.Goal > 0 {
			m.tempo = append(m.tempo, r.Beats/r.Goal)
		}
		if r.Clean {
			m.clean++
		}
	}
	return m
}

// Distance returns the mean distance from 0; 0 for no values.
func Distance(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += math.Abs(v)
	}
	return sum / float64(max(1, len(x)))
}

// off returns how far a round's ornaments started from their beats, ms; ok is
// false where there is no round or it had no ornament.
func (r *Round) off() (ms float64, ok bool) {
	if r == nil || len(r.Starts) == 0 {
		return 0, false
	}
	return Distance(r.Starts), true
}

// days gathers rounds, in order, into days.
func days(rounds []Round) []DayLine {
	var out []DayLine
	seconds := 0
	for i := range rounds {
		r := &rounds[i]
		if n := len(out); n == 0 || out[n-1].Day != r.Day {
			out = append(out, DayLine{When: r.When})
			seconds = 0
		}
		line := &out[len(out)-1]
		line.Rounds++
		seconds += r.Seconds
		line.Minutes = (seconds + 59) / 60
		if line.Cold == nil && !r.Plain {
			line.Cold = r
		}
		if r.Clean && !r.Plain {
			line.Clean++
			if r.Goal > 0 {
				line.Best = max(line.Best, r.Beats/r.Goal)
			}
		}
		if r.Unaided && !r.Plain && line.Unaided == nil {
			line.Unaided = r
		}
	}
	return out
}

func (d *Diary) heard(player, passage string) [4]Heard {
	var marks [4][]float64
	for _, e := range d.Ears {
		if e.Player != player || passage != "" && e.Passage != passage {
			continue
		}
		for i, m := range [4]int{e.OnBeat, e.Even, e.Lands, e.Steady} {
			marks[i] = append(marks[i], float64(m))
		}
	}
	var out [4]Heard
	for i, m := range marks {
		half := len(m) / 2
		out[i] = Heard{N: len(m), Change: tap.CompareMarks(m[:half], m[half:])}
		if len(m) > 0 {
			out[i].Latest = int(m[len(m)-1])
		}
	}
	return out
}
