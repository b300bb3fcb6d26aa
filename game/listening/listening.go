// Package listening makes a round of what was played at an instrument and
// heard: what may be played, by a plan; how what was heard is judged, as taps
// that know their keys; and what is said where nothing is judged. It is pure.
//
// No delay of loudspeaker or microphone comes in. Where nothing sounds while
// one plays, every note is held against the notes around it, and a round tells
// how ornaments start, run and land, not whether a metronome was kept. Where
// the page sounds a beat, notes are held against that beat as the microphone
// heard it, in the same recording.
package listening

import (
	"math"

	"agremens/game/listening/ear"
	"agremens/game/round"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// Task returns what may be played by a plan on which both hands are wanted,
// and the wants that its notes stand for: those of the plan with every key of
// a chord.
func Task(p *round.Plan) (ear.Task, []tap.Want) {
	wants := p.EveryKey(p.Wants)
	t := ear.Task{About: 60_000 / quarterMS(p)}
	type playing struct {
		id  string
		leg int
	}
	numbers, legs, before := map[playing]int{}, map[string]int{}, map[string]int{}
	for _, w := range wants {
		n := ear.Note{Key: w.Key, At: (w.At - wants[0].At) / quarterMS(p), Hand: w.Hand, Ornament: -1}
		if w.Ornament != "" {
			if w.Index < before[w.Ornament] {
				legs[w.Ornament]++
			}
			before[w.Ornament] = w.Index
			turn := playing{w.Ornament, legs[w.Ornament]}
			if _, ok := numbers[turn]; !ok {
				numbers[turn] = len(numbers)
			}
			n.Ornament = numbers[turn]
		}
		t.Notes = append(t.Notes, n)
	}
	if len(wants) > 0 {
		t.Speaker = speaker(p, wants[0].At)
	}
	return t, wants
}

// speaker is what a plan sounds, place 0 being due at so many ms; nil where it
// is silent.
func speaker(p *round.Plan, bar float64) *ear.Speaker {
	ms := func(frame int64) float64 { return float64(frame) * 1000 / float64(p.Rate) }
	first := int64(-1)
	began := func(at int64) {
		if first < 0 || at < first {
			first = at
		}
	}
	for _, c := range p.Sequence.Clicks {
		began(c.At)
	}
	s := &ear.Speaker{}
	for _, n := range p.Sequence.Notes {
		began(n.Start)
		s.Notes = append(s.Notes, ear.Sounded{Key: n.Key, At: (ms(n.Start) - bar) / quarterMS(p)})
	}
	if first < 0 {
		return nil
	}
	s.Bar = (bar - ms(first)) / 1000
	return s
}

// quarterMS is the mean length of a quarter in a plan, ms.
func quarterMS(p *round.Plan) float64 {
	if n := len(p.Wants); n > 1 {
		first, last := p.Wants[0], p.Wants[n-1]
		if q := last.Onset.Sub(first.Onset).Float(); q > 0 && last.At > first.At {
			return (last.At - first.At) / q
		}
	}
	return p.BeatMS
}

// Judge makes a judged round of a report on a plan's [Task]. Times are those
// of the sound.
func Judge(p *round.Plan, r ear.Report) *round.Round {
	_, all := Task(p)
	var wants []tap.Want
	var taps []tap.Tap
	last := 0.0
	for _, w := range all {
		last = math.Max(last, w.Onset.Float())
	}
	for i, h := range r.Notes {
		if i >= len(all) || h.State == ear.NotDue || h.State == ear.Unsure {
			continue
		}
		w := all[i]
		// Who stops at the end of the bars leaves nothing out.
		if h.State == ear.Missing && w.Landing && w.Onset.Float() >= last {
			continue
		}
		w.At, w.Until = h.Due, 0
		wants = append(wants, w)
		if h.State == ear.Played {
			taps = append(taps, tap.Tap{At: h.At, Hand: w.Hand, Key: w.Key})
		}
	}
	for _, x := range r.Extra {
		taps = append(taps, tap.Tap{At: x.At, Hand: handOf(x, r, all), Key: x.Key})
	}
	return round.Heard(p, wants, taps, r.Hands != ear.BothHands)
}

// msPerStep weighs time against pitch, as round.HandOf does.
const msPerStep = 250.0 / 7

// handOf gives an extra note the hand whose note is nearest.
func handOf(x ear.Extra, r ear.Report, all []tap.Want) perf.Hand {
	hand, best := perf.Right, math.Inf(1)
	for i, h := range r.Notes {
		if i < len(all) && h.State == ear.Played {
			if d := math.Abs(h.At-x.At)/msPerStep + math.Abs(float64(all[i].Key-x.Key)); d < best {
				hand, best = all[i].Hand, d
			}
		}
	}
	return hand
}
