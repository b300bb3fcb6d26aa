// Package heard judges what was heard at an instrument as taps are judged: it
// makes of a report of realize/hear the wants and the struck keys of
// realize/tap, whose words a teacher reads. It is pure.
package heard

import (
	"math"
	"strconv"

	"agremens/realize/hear"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/tap"
)

// Judge judges a report on what was expected. about tells more of each of
// e.Notes than hear.Note does: where it stands, its ornament's name, its degree;
// it may be shorter, or nil. At, Hand, Key, Ornament, Index, Count and Landing are
// put in here. What is not sure, not reached or sounded by the program is left
// out, so that nothing is judged on a guess.
func Judge(e hear.Expected, r hear.Report, about []tap.Want, o tap.Options) tap.Result {
	wants, taps := Taps(e, r, about)
	return tap.Judge(wants, taps, o)
}

// Taps returns the wants and the keys struck, ms of the sound.
func Taps(e hear.Expected, r hear.Report, about []tap.Want) (wants []tap.Want, taps []tap.Tap) {
	inside, landing := map[string][]int{}, map[int]bool{}
	for i, n := range e.Notes {
		if n.Ornament != "" {
			inside[n.Ornament] = append(inside[n.Ornament], i)
		}
	}
	for _, o := range r.Ornaments {
		if o.Landing >= 0 {
			landing[o.Landing] = true
		}
	}
	place := map[int]int{}
	for _, notes := range inside {
		for k, i := range notes {
			place[i] = k
		}
	}
	for i, h := range r.Notes {
		n := e.Notes[i]
		if !h.Reached || h.Unsure || n.Program {
			continue
		}
		w := tap.Want{Measured: true}
		if i < len(about) {
			w = about[i]
		} else {
			w.Onset, w.Note = exact(n.At), score.ID("n"+strconv.Itoa(i))
			if notes := inside[n.Ornament]; n.Ornament != "" {
				w.Degree = steps(n.Key - e.Notes[notes[len(notes)-1]].Key)
				w.Note = score.ID(n.Ornament)
			}
			w.Written = w.Onset
		}
		w.At, w.Hand, w.Key = 1000*due(e, r, i), n.Hand, n.Key
		w.Ornament, w.Index, w.Count, w.Until = n.Ornament, 0, 0, 0
		if n.Ornament != "" {
			w.Index, w.Count = place[i], len(inside[n.Ornament])
		}
		w.Landing = landing[i]
		wants = append(wants, w)
		if h.Played {
			taps = append(taps, tap.Tap{At: 1000 * h.At, Hand: n.Hand, Key: n.Key})
		}
	}
	for _, x := range r.Extra {
		t := tap.Tap{At: 1000 * x.At, Key: x.Key}
		best := math.Inf(1)
		for i, h := range r.Notes {
			if !h.Reached || e.Notes[i].Program {
				continue
			}
			if d := math.Abs(h.At-x.At)/msPerStep*1000 + math.Abs(float64(e.Notes[i].Key-x.Key)); d < best {
				t.Hand, best = e.Notes[i].Hand, d
			}
		}
		taps = append(taps, t)
	}
	return wants, taps
}

// msPerStep weighs time against pitch where an extra note is given the hand
// whose note is nearest.
const msPerStep = 250.0 / 7

// due is when a note was to come, s: against the beat that was heard or kept.
func due(e hear.Expected, r hear.Report, i int) float64 {
	h := r.Notes[i]
	switch {
	case h.Judged:
		return h.At - h.Error/1000
	case e.Beat != nil:
		return e.Beat.Bar + e.Delay + e.Notes[i].At*e.Beat.Quarter
	}
	return r.Offset + e.Notes[i].At*60/max(1, r.Tempo)
}

// exact is the 96th of a quarter nearest to a place.
func exact(at float64) music.Frac {
	if !(math.Abs(at) < 1e6) {
		return music.Frac{}
	}
	return music.F(int64(math.Round(96*at)), 96)
}

// steps is about how many scale steps so many semitones are.
func steps(semitones int) int { return int(math.Round(float64(semitones) / 1.7)) }

// Kind returns what a finding of realize/tap is about in one word: "late",
// "early", "uneven" or "landing"; "" where it is about neither.
func Kind(f tap.Finding) string {
	if !f.Fault {
		return ""
	}
	switch f.Code {
	case tap.CodeLateStart:
		return "late"
	case tap.CodeEarlyStart, tap.CodeBeforeBeat:
		return "early"
	case tap.CodeLimps, tap.CodeLimpsLower, tap.CodeCrowdedFront, tap.CodeCrowdedBack, tap.CodeUneven, tap.CodeTurnTwoQuick:
		return "uneven"
	case tap.CodeLandsLate, tap.CodeLandsEarly, tap.CodeBump, tap.CodeLateAfter:
		return "landing"
	}
	return ""
}
