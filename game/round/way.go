package round

import (
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

// Road returns the way through the chosen measures on which repeats and jumps
// are played as s says, and for the landing the measure after it; nil where
// that is the written order. It sets how many legs of the way the round plays,
// which [Build] wants together with what sounds along it.
func (s *Settings) Road(p *score.Passage) []score.Step {
	s.Legs = 0
	from, to := max(0, s.From), min(len(p.Measures), s.To)
	if !s.Along || from >= to || !p.HasRoad() {
		return nil
	}
	road := p.RoadIn(from, to, s.Follow)
	if len(road) == 0 || written(road, from, to) {
		return nil
	}
	s.Legs = len(road)
	if last := road[len(road)-1].Measure; last == to-1 && to < len(p.Measures) {
		road = append(road, score.Step{Measure: to, Pass: 1})
	}
	return road
}

func written(road []score.Step, from, to int) bool {
	for i, step := range road {
		if step.Measure != from+i {
			return false
		}
	}
	return len(road) == to-from
}

// stretch is what of a performance a round plays.
type stretch struct {
	from, until music.Frac // in played time
	first, last int        // written measures
}

func (s *Settings) stretch(p *score.Passage, sounding *perf.Performance) stretch {
	way := sounding.Way
	if s.Legs == 0 || len(way) < s.Legs {
		return stretch{p.Measures[s.From].Onset, p.Measures[s.To-1].End(), s.From, s.To - 1}
	}
	out := stretch{from: way[0].Onset, until: sounding.End, first: way[0].Measure, last: way[s.Legs-1].Measure}
	if s.Legs < len(way) {
		out.until = way[s.Legs].Onset
	}
	return out
}

// standsAt returns where a note stands in the passage. A small note before the
// beat of a measure stands before that measure, wherever that is played.
func (b *builder) standsAt(n *perf.Note) music.Frac {
	if len(b.sounding.Way) == 0 {
		return n.Onset
	}
	leg := b.sounding.Way[n.Leg]
	return n.Onset.Sub(leg.Onset).Add(leg.Written)
}

// playedAt returns when a place of the passage is played in the leg of a note.
func (b *builder) playedAt(place music.Frac, n *perf.Note) music.Frac {
	if len(b.sounding.Way) == 0 {
		return place
	}
	leg := b.sounding.Way[n.Leg]
	return place.Sub(leg.Written).Add(leg.Onset)
}

// Place is where a plan stands at a moment.
type Place struct {
	// Quarters is the place in the passage, Played the same on the way through it.
	Quarters, Played float64
	// Leapt says that the way has leapt here, From is the place it left and
	// Since the seconds that have passed.
	Leapt       bool
	From, Since float64
}

// Place returns where the plan stands at one of its frames.
func (p *Plan) Place(frame float64) Place {
	played := p.played(frame)
	at := Place{Quarters: p.way.Written(played), Played: played}
	for i := p.way.At(played); i > 0; i-- {
		if p.way.Leaps(i) {
			before := p.way[i-1]
			at.Leapt = true
			at.From = before.Written.Float() + p.way[i].Onset.Sub(before.Onset).Float()
			at.Since = (p.around(frame) - float64(p.frame(p.way[i].Onset))) / float64(p.Rate)
			break
		}
	}
	return at
}
