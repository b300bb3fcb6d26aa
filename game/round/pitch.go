package round

import (
	"math"
	"strconv"

	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/realize/words"
)

// A struck key belongs to the hand whose wanted note is nearest. Far from any
// wanted note the keyboard is split at middle C. How much time weighs against
// pitch is ours: a quarter of a second is as far as a fifth.
const (
	nearMS      = 1000.0
	msPerStep   = 250.0 / 7
	splitAtMIDI = 60
)

// HandOf returns the hand that a key of an instrument, struck at a time in
// milliseconds of the page, belongs to.
func (r *Round) HandOf(key int, at float64, c Clock) perf.Hand {
	hand := perf.Left
	if key >= splitAtMIDI {
		hand = perf.Right
	}
	frame, ok := c.FrameAt(at)
	if !ok {
		return hand
	}
	place := r.plan.around(frame - float64(r.start))
	best := math.Inf(1)
	for i, f := range r.plan.Frames {
		ms := math.Abs(float64(f)-place) * 1000 / float64(r.plan.Rate)
		if ms > nearMS {
			continue
		}
		w := &r.plan.Wants[i]
		steps := math.Abs(float64(w.Key - key))
		for _, also := range r.plan.Also[Struck{f, w.Hand}] {
			steps = min(steps, math.Abs(float64(also-key)))
		}
		if d := steps + ms/msPerStep; d < best {
			best, hand = d, w.Hand
		}
	}
	return hand
}

// around brings a frame of a repeated plan into its first pass.
func (p *Plan) around(frame float64) float64 {
	if q := &p.Sequence; q.Loop && frame >= float64(q.Length) {
		return float64(q.LoopStart) + math.Mod(frame-float64(q.LoopStart), float64(q.Length-q.LoopStart))
	}
	return frame
}

// Struck is a moment at which a hand strikes.
type Struck struct {
	Frame int64
	Hand  perf.Hand
}

// keyed adds the further keys of chords to the wants, where the taps tell
// their keys: then every one of them is looked for.
func (r *Round) keyed(wants []tap.Want, taps []tap.Tap) []tap.Want {
	known := false
	for _, t := range taps {
		known = known || t.Key > 0
	}
	if !known {
		return wants
	}
	return r.plan.EveryKey(wants)
}

// Lean is how strongly appoggiaturas were struck against their main notes, as
// MIDI velocities.
type Lean struct {
	N                int
	Leaning, MainOne float64 // means
}

// Lean returns the velocities of appoggiaturas and of the main notes after
// them; N is 0 where no instrument told them.
func (r *Round) Lean() Lean {
	var l Lean
	if r.result == nil {
		return l
	}
	strength := map[string][2]int{}
	for _, m := range r.result.Marks {
		if m.Want < 0 || m.Tap < 0 {
			continue
		}
		w := &r.wants[m.Want]
		if w.Ornament == "" || w.Count != 2 || w.Index > 1 || !w.Measured {
			continue
		}
		pair := strength[w.Ornament]
		pair[w.Index] = r.made[m.Tap].Strength
		strength[w.Ornament] = pair
	}
	for _, pair := range strength {
		if pair[0] > 0 && pair[1] > 0 {
			l.N++
			l.Leaning += float64(pair[0])
			l.MainOne += float64(pair[1])
		}
	}
	if l.N > 0 {
		l.Leaning /= float64(l.N)
		l.MainOne /= float64(l.N)
	}
	return l
}

// Keyed is how many keys of an instrument were struck in a round.
type Keyed struct{ Struck, Other int }

// Keys counts the keys struck, and those that were others than written.
func (r *Round) Keys() Keyed {
	var k Keyed
	if r.result == nil {
		return k
	}
	for _, t := range r.made {
		if t.Key > 0 {
			k.Struck++
		}
	}
	k.Other = r.result.WrongKeys
	return k
}

// Words says which keys were struck and how the appoggiaturas leaned, "" where
// no key is known. That the appoggiatura is the stronger one is C.P.E. Bach's
// rule (Versuch I, II.2; from memory).
func (k Keyed) Words(l Lean, c *words.Catalogue) string {
	if k.Struck == 0 {
		return ""
	}
	text := c.Say("Every note as written.")
	if k.Other > 0 {
		text = c.Count(k.Other, "One note was different from the written one.", "{n} notes were different from the written ones.")
	}
	if l.N > 0 {
		text += " " + c.Say("Appoggiaturas were struck with {a}, their main notes with {b} (of 127).", "{a}", whole(l.Leaning), "{b}", whole(l.MainOne))
		if l.Leaning <= l.MainOne {
			text += " " + c.Say("The appoggiatura is the louder note.")
		}
	}
	return text
}

func whole(x float64) string { return strconv.Itoa(int(math.Round(x))) }
