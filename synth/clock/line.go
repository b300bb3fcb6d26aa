package clock

import (
	"math"
	"slices"
)

// line relates the context's time to performance.now(): what jittery samples
// have in common, kept for as long as a round may last, so that the past can
// be asked about too.
type line struct {
	points []point // in order of context time
	epoch  int     // counts cuts and jumps; points of others don't mix
	now    float64 // of the latest sample
	delays []float64
	outs   []float64
	mode   mode
}

type point struct {
	context float64 // s
	offset  float64 // ms: performance.now() - context time, heard
	epoch   int
	mode    mode
}

// mode is where the heard time is taken from.
type mode int

const (
	// current: now - currentTime and the output latency that is told
	// (Firefox), or none (WebKit).
	current mode = iota
	// output: getOutputTimestamp's line, which includes the output's delay
	// (Chromium).
	output
)

const (
	halfWindow = 1.5          // s either side of the median, 3 s together
	keep       = 20 * 60 * 20 // points: 20 minutes at 20 a second
	jumpMS     = 14.0         // a lasting move by more is a jump
	jumpRun    = 8            // samples it must last
	modeRun    = 20           // samples to choose the mode from
	plausible  = 1000.0       // ms by which an output timestamp may be old
	future     = 30.0         // and lie ahead: WebKit's do, by the whole context time
	distinct   = 4.0          // ms by which it must differ from currentTime's line to hold a delay
)

// cut begins a new epoch: what came before no longer holds.
func (l *line) cut() {
	l.epoch++
	l.delays, l.outs = l.delays[:0], l.outs[:0]
	l.mode = current
}

// add takes a sample and reports whether the line has jumped.
func (l *line) add(s Sample) (jump bool) {
	l.now = s.Now
	if n := len(l.points); n > 0 && l.points[n-1].epoch == l.epoch && s.Current <= l.points[n-1].context {
		return false // the device is not running yet, or nothing new is known
	}
	if s.Current <= 0 {
		return false
	}
	direct := s.Now - s.Current*1000
	out := math.NaN()
	if ahead := s.OutPerformance - s.Now; s.OutContext > 0 && ahead <= future && ahead >= -plausible {
		out = s.OutPerformance - s.OutContext*1000
	}
	l.choose(direct, out)
	offset := direct + s.OutputLatency*1000
	if l.mode == output {
		if math.IsNaN(out) {
			return false
		}
		offset = out
	}
	l.delays = tail(append(l.delays, s.OutputLatency*1000), modeRun)
	l.points = append(l.points, point{s.Current, offset, l.epoch, l.mode})
	if len(l.points) > keep {
		l.points = slices.Delete(l.points, 0, keep/4)
	}
	return l.jumped()
}

// choose decides, from the latest second of samples, whether the output
// timestamp holds a delay of its own. Until there are so many it is not
// believed.
func (l *line) choose(direct, out float64) {
	if math.IsNaN(out) {
		out = direct
	}
	l.outs = tail(append(l.outs, out-direct), modeRun)
	if len(l.outs) < modeRun {
		return
	}
	threshold := distinct
	if l.mode == output {
		threshold /= 2
	}
	want := current
	if medianOf(l.outs) > threshold {
		want = output
	}
	if want != l.mode {
		l.epoch++ // what was measured the other way does not mix
		l.mode = want
	}
}

// jumped looks at the latest samples: when they all stand to one side of the
// median before them, they begin a new epoch.
func (l *line) jumped() bool {
	n := len(l.points)
	if n < 3*jumpRun || l.points[n-3*jumpRun].epoch != l.epoch {
		return false
	}
	var scratch [256]float64
	before := scratch[:0]
	for i := n - jumpRun - 1; i >= 0 && len(before) < 60 && l.points[i].epoch == l.epoch; i-- {
		before = append(before, l.points[i].offset)
	}
	middle := median(before)
	side := math.Copysign(1, l.points[n-1].offset-middle)
	var recent [jumpRun]float64
	for i, p := range l.points[n-jumpRun:] {
		d := p.offset - middle
		if d*side <= 0 {
			return false
		}
		recent[i] = d
	}
	if math.Abs(median(recent[:])) < jumpMS {
		return false
	}
	l.epoch++
	for i := n - jumpRun; i < n; i++ {
		l.points[i].epoch = l.epoch
	}
	return true
}

// lowest is the share of samples of currentTime's line that may lie below it.
// That time is never ahead, but often old: it stands still between two blocks,
// and a busy page hears of the next one late. Measured in Firefox, 15 ms of
// every 50 busy: the median wanders by 10 ms beside a recorder, the lowest
// tenth by 2.
const lowest = 0.1

// at returns the offset in ms that holds at a context time, of the samples
// within 1.5 s of it, or of the nearest 3 s where it lies outside: of an
// output's own line, whose jitter has two sides, the median; of currentTime's
// its lower edge.
func (l *line) at(context float64) (float64, bool) {
	n := len(l.points)
	if n == 0 {
		return 0, false
	}
	i, _ := slices.BinarySearchFunc(l.points, context, func(p point, at float64) int {
		switch {
		case p.context < at:
			return -1
		case p.context > at:
			return 1
		}
		return 0
	})
	nearest := min(i, n-1)
	if nearest > 0 && context-l.points[nearest-1].context < l.points[nearest].context-context {
		nearest--
	}
	epoch := l.points[nearest].epoch
	if context > l.points[n-1].context && epoch != l.epoch {
		return 0, false // only the past is known
	}
	middle := l.points[nearest].context
	from, to := middle-halfWindow, middle+halfWindow
	if last := l.points[n-1].context; to > last {
		from, to = last-2*halfWindow, last
	}
	var scratch [256]float64
	near := scratch[:0]
	for j := nearest; j >= 0 && l.points[j].context >= from && l.points[j].epoch == epoch && len(near) < 120; j-- {
		near = append(near, l.points[j].offset)
	}
	for j := nearest + 1; j < n && l.points[j].context <= to && l.points[j].epoch == epoch && len(near) < 240; j++ {
		near = append(near, l.points[j].offset)
	}
	if l.points[nearest].mode == current {
		slices.Sort(near)
		return near[int(lowest*float64(len(near)-1))], true
	}
	return median(near), true
}

func (l *line) latest() (float64, bool) {
	if len(l.points) == 0 {
		return 0, false
	}
	return l.at(l.points[len(l.points)-1].context)
}

// settled: enough samples of this epoch, and close together.
func (l *line) settled() bool {
	n := len(l.points)
	return n >= modeRun && l.points[n-modeRun].epoch == l.epoch && l.spread() <= 12
}

// spread is the median distance of the last second's samples from theirs.
func (l *line) spread() float64 {
	var scratch [modeRun]float64
	x := scratch[:0]
	for i := len(l.points) - 1; i >= 0 && len(x) < modeRun && l.points[i].epoch == l.epoch; i-- {
		x = append(x, l.points[i].offset)
	}
	m := median(x)
	for i := range x {
		x[i] = math.Abs(x[i] - m)
	}
	return median(x)
}

// told reports whether the browser says how late its output is.
func (l *line) told() bool { return l.mode == output || l.latency() > 0 }

func (l *line) latency() float64 {
	if l.mode == output {
		return medianOf(l.outs)
	}
	return medianOf(l.delays)
}

// median sorts x and returns its middle, 0 of none.
func median(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	slices.Sort(x)
	if n := len(x); n%2 == 0 {
		return (x[n/2-1] + x[n/2]) / 2
	}
	return x[len(x)/2]
}

// medianOf leaves x as it is.
func medianOf(x []float64) float64 { return median(slices.Clone(x)) }

// tail keeps the last n of x.
func tail(x []float64, n int) []float64 {
	if len(x) > n {
		return slices.Delete(x, 0, len(x)-n)
	}
	return x
}
