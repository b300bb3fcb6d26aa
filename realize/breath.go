package realize

import (
	"math"
	"slices"

	"agremens/realize/music"
	"agremens/realize/perf"
)

// breath is how pianists divide the time of an ornament among its notes: weights
// beside 1, the middle of the shake.
//
// The figures are the ones nearest to what was played in mean onset error, works
// weighing the same, on 746 trills of 43 works of (n)ASAP and Batik-plays-Mozart, and drawn
// 15 % towards evenness. A figure stands where it is nearer than even notes on
// works it was not fitted to (TestInnerTiming). Where none was, notes stay even:
// short trills, turns, and periods not named. Strengths stay as they are too: in
// the 25 performances of which strengths are known no rule for the loud note did
// better than none.
type breath struct {
	periods []period // none: all
	closed  bool     // it ends with the lower neighbour and the principal
	most    int      // notes of the shake at most
	first   float64
	speed   float64 // how much slower the shake begins than it ends
	before  float64 // the last note before the termination
	closing float64 // the termination's first
	last    float64
}

var breaths = [...]breath{
	{periods: []period{haydn, classical, middle}, most: 4, first: 0.87, last: 1.51},
	{periods: []period{baroque, later}, most: 8, first: 1.21, speed: 0.04, last: 1.55},
	{periods: []period{baroque, haydn, classical}, most: math.MaxInt, first: 1.30, speed: 0.04, last: 1.55},
	{periods: []period{baroque, haydn, classical, middle}, closed: true, most: 4, first: 1.08, speed: 0.13, before: 1.21, closing: 1.08, last: 1.34},
	{periods: []period{middle}, closed: true, most: 8, first: 1.15, speed: 0.35, before: 1.15, closing: 1.34, last: 1.73},
	{closed: true, most: 8, first: 1.25, speed: 0.21, before: 1.13, closing: 1.25, last: 1.64},
	{closed: true, most: math.MaxInt, first: 2.53, before: 1.72, closing: 1.34, last: 2.19},
}

// mordentInner: the quick notes of a mordent, on 45 in 6 works.
var mordentInner = []float64{0.90, 1.10}

// fewestShaken is the fewest notes that count as a trill.
const fewestShaken = 4

// innerGrid is how finely a quarter is divided to place the notes: 1 ms at a
// quarter a second.
const innerGrid = 960

// moved sets an ornament's notes where pianists of a period have them: its first
// onset, its end and the notes that are held stay.
func moved(notes []perf.Note, fig figure, of period) {
	from, to := quickRun(notes)
	run := notes[from:to]
	weights := innerWeights(run, fig, of, to == len(notes))
	if weights == nil {
		return
	}
	start, end := run[0].Onset, run[len(run)-1].End()
	whole := 0.0
	for _, w := range weights {
		whole += w
	}
	length, sum := end.Sub(start).Float(), 0.0
	for i := range run {
		if i > 0 {
			run[i].Onset = start.Add(music.F(int64(math.Round(sum/whole*length*innerGrid)), innerGrid))
			run[i-1].Dur = run[i].Onset.Sub(run[i-1].Onset)
		}
		sum += weights[i]
	}
	run[len(run)-1].Dur = end.Sub(run[len(run)-1].Onset)
}

// quickRun is the longest stretch of notes of about the shortest value that
// follow each other: what leans before it or is held after it is left alone.
func quickRun(notes []perf.Note) (from, to int) {
	if len(notes) == 0 {
		return 0, 0
	}
	shortest := notes[0].Dur
	for _, n := range notes {
		shortest = shortest.Min(n.Dur)
	}
	most := shortest.Mul(music.F(8, 5))
	for i := 0; i < len(notes); {
		k := i
		for k < len(notes) && notes[k].Dur.Cmp(most) <= 0 && (k == i || notes[k].Onset == notes[k-1].End()) {
			k++
		}
		if k-i > to-from {
			from, to = i, k
		}
		i = max(k, i+1)
	}
	return from, to
}

// innerWeights are the shares of the run's notes, nil where they stay even. whole
// says that the run reaches the ornament's end.
func innerWeights(run []perf.Note, fig figure, of period, whole bool) []float64 {
	var steps []int
	for _, n := range run {
		steps = append(steps, n.Degree)
	}
	switch {
	case fig == mordentFigure && slices.Equal(steps, []int{0, -1}):
		return mordentInner
	case slices.Contains(otherTrills, fig) && len(run) >= fewestShaken:
		n := len(run)
		closed := whole && steps[n-2] == -1 && steps[n-1] == 0
		shake := n
		if closed {
			shake -= 2
		}
		for i := range breaths {
			if r := &breaths[i]; r.closed == closed && shake <= r.most && (r.periods == nil || slices.Contains(r.periods, of)) {
				return r.weights(n, whole)
			}
		}
	}
	return nil
}

// weights are the shares of n notes.
func (r *breath) weights(n int, whole bool) []float64 {
	w := make([]float64, n)
	shake := n
	if r.closed {
		shake -= 2
	}
	for i := range w {
		along := 0.0
		if shake > 2 {
			along = min(max(float64(i-1)/float64(shake-2), 0), 1)
		}
		w[i] = 1 + r.speed*(0.5-along)
	}
	w[0] *= r.first
	if r.closed {
		w[shake-1] *= r.before
		w[n-2] = r.closing
	}
	if whole {
		w[n-1] = r.last
	}
	return w
}
