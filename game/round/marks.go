package round

import (
	"math"

	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

// Mark is one tap of a judged round by its place in the passage.
type Mark struct {
	Note     score.ID // of the written note; "" for an extra tap
	Ornament string   // of the reading, "" for a plain note
	Index    int
	Hand     perf.Hand
	Wanted   float64 // quarters
	At       float64 // quarters; where it was tapped
	Missed   bool
}

// Marks returns where the taps of a judged round fell, in quarters of the
// passage, so that they can stand on the staff to scale. What a free trill
// leaves open is left out.
func (r *Round) Marks() []Mark {
	if r.result == nil {
		return nil
	}
	var marks []Mark
	for _, m := range r.result.Marks {
		switch {
		case m.Free:
		case m.Want < 0:
			marks = append(marks, r.extra(m.Tap))
		default:
			w := &r.wants[m.Want]
			mark := Mark{Note: w.Note, Ornament: w.Ornament, Index: w.Index, Hand: w.Hand, Wanted: w.Written.Float()}
			mark.Missed = m.Tap < 0
			mark.At = mark.Wanted
			if !mark.Missed {
				mark.At += r.quarters(m.ErrorMS, w.Onset)
			}
			marks = append(marks, mark)
		}
	}
	return marks
}

// extra places a tap that belongs to no note by the nearest wanted one.
func (r *Round) extra(i int) Mark {
	t := r.made[i]
	best, distance := 0, math.Inf(1)
	for j := range r.wants {
		if d := math.Abs(r.wants[j].At - t.At); d < distance {
			best, distance = j, d
		}
	}
	w := &r.wants[best]
	at := w.Written.Float()
	return Mark{Hand: t.Hand, Wanted: at, At: at + r.quarters(t.At-w.At, w.Onset)}
}

// quarters turns milliseconds at a place into quarters.
func (r *Round) quarters(ms float64, at music.Frac) float64 {
	return ms * r.plan.tempo.At(at) / 60000
}
