package round

import (
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
	"agremens/synth"
)

// laid is what a plan was laid out from, so that it can be heard once more.
type laid struct {
	passage *score.Passage
	names   map[string]string
}

// shortest is how long a tap sounds at least, and longest at most, in seconds:
// a tap has no length of its own.
const (
	shortestTap = 0.12
	longestTap  = 0.7
)

// Replay returns two plans of the measure in which a judged round's note
// stands: what was tapped, heard with the keys that were wanted, and how it
// goes. Both are counted in and sound the other hand too. from is a want of
// the round; ok is false where there is nothing to hear.
func (r *Round) Replay(from int) (mine, asItGoes *Plan, ok bool) {
	if r.result == nil || from < 0 || from >= len(r.wants) || r.plan.laid.passage == nil {
		return nil, nil, false
	}
	w := &r.wants[from]
	lead := r.result.Leads[w.Hand].MS
	hear := func(play Hands) (*Plan, error) {
		s := r.plan.Settings
		s.Tap, s.Play, s.Repeat, s.Beat = NoHand, play, false, true
		if s.Legs == 0 { // else the way through the repeats is heard whole
			s.Along = false
			s.From, s.To = r.plan.measureOf(w.Written)
		}
		return Build(r.plan.laid.passage, r.plan.Sounding, r.plan.laid.names, s, r.plan.Rate)
	}
	asItGoes, err := hear(BothHands)
	if err != nil {
		return nil, nil, false
	}
	if mine, err = hear(r.plan.Settings.Tap.Other()); err != nil {
		return nil, nil, false
	}
	for _, m := range r.result.Marks {
		if m.Want < 0 || m.Tap < 0 {
			continue
		}
		w := &r.wants[m.Want]
		if w.Onset.Less(mine.first) || mine.until.Less(w.Onset) {
			continue
		}
		at := mine.frame(w.Onset) + int64((m.ErrorMS-lead)*float64(mine.Rate)/1000)
		mine.strike(max(0, at), w.Key)
	}
	mine.end(asItGoes.Sequence.Length)
	return mine, asItGoes, len(mine.tapped) > 0
}

// measureOf is the measure that holds a place, half-open.
func (p *Plan) measureOf(at music.Frac) (from, to int) {
	all := p.laid.passage.Measures
	for i := range all {
		if all[i].Onset.Cmp(at) <= 0 && at.Less(all[i].End()) {
			return i, i + 1
		}
	}
	return p.Settings.From, p.Settings.To
}

// strike adds a tap that is to sound.
func (p *Plan) strike(at int64, key int) {
	if key > 0 {
		p.tapped = append(p.tapped, synth.Note{Start: at, Key: key, Strength: 0.7})
	}
}

// end lets each tap sound up to the next one, and puts them into the sequence.
func (p *Plan) end(length int64) {
	least, most := int64(shortestTap*float64(p.Rate)), int64(longestTap*float64(p.Rate))
	for i, n := range p.tapped {
		stop := n.Start + most
		for _, other := range p.tapped {
			if other.Start > n.Start {
				stop = min(stop, other.Start)
			}
		}
		p.tapped[i].End = max(n.Start+least, stop)
		length = max(length, p.tapped[i].End)
	}
	p.Sequence.Notes = append(p.Sequence.Notes, p.tapped...)
	sorting.Stable(p.Sequence.Notes, func(a, b synth.Note) int { return int(a.Start - b.Start) })
	p.Sequence.Length = length
}

// NoteAt is the want of an ornament, the first one; −1 where there is none.
func (r *Round) NoteAt(ornament string) int {
	for i := range r.wants {
		if r.wants[i].Ornament == ornament {
			return i
		}
	}
	return -1
}
