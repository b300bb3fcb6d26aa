package hear

import "math"

// Pulse finds a steady beat of clicks in a sound: what recurs in the treble,
// sharp and at the same instant, every so many seconds. A player's notes fall
// around a beat; a click falls on it.
type Pulse struct {
	rate, every float64
	high        [2]float64 // states of the high-pass
	sum         float64
	count, left int
	recent      [pulseBefore]float64 // powers of the last looks
	looks       int
	fold        []float64 // how much rises at each place between two clicks
	times       []int     // how often each place was looked at
}

const (
	pulseLook   = 0.0005 // s
	pulseBefore = 16     // looks that a click has to rise above
	pulseRise   = 1.5    // the most that one rise counts, in powers of ten
	pulseFrom   = 900.0  // Hz
	// How far the best place has to stand above the usual one (recordings with
	// clicks: 1.2 to 1.9; without, dry sound played in time: 0.9 at most), and
	// how often it has to have come.
	pulseClear, pulseOften = 1.0, 4
)

// NewPulse returns a pulse that looks for a click every so many seconds, 0.05
// to 20.
func NewPulse(rate, every float64) *Pulse {
	p := &Pulse{rate: rate, every: every, left: int(pulseLook * rate)}
	if every >= 0.05 && every <= 20 {
		n := int(every / pulseLook)
		p.fold, p.times = make([]float64, n), make([]int, n)
	}
	return p
}

// Feed takes the next samples, mono.
func (p *Pulse) Feed(samples []float32) {
	if p.fold == nil {
		return
	}
	a := math.Exp(-2 * math.Pi * pulseFrom / p.rate)
	for _, x := range samples {
		v := float64(x)
		if !(v <= 64 && v >= -64) {
			v = 0
		}
		for i := range p.high {
			p.high[i] += (1 - a) * (v - p.high[i])
			v -= p.high[i]
		}
		p.sum += v * v
		p.count++
		if p.count == p.left {
			p.look(p.sum / float64(p.count))
			p.sum, p.count = 0, 0
			// The next look ends where it should, so that none drifts away.
			p.left = max(1, int(float64(p.looks+1)*pulseLook*p.rate)-int(float64(p.looks)*pulseLook*p.rate))
		}
	}
}

func (p *Pulse) look(power float64) {
	before := 0.0
	for _, v := range p.recent {
		before = max(before, v)
	}
	p.recent[p.looks%pulseBefore] = power
	rise := 0.0
	if p.looks >= pulseBefore {
		rise = min(pulseRise, max(0, math.Log10((power+1e-9)/(before+1e-9))))
	}
	place := int(math.Mod(float64(p.looks)*pulseLook, p.every) / p.every * float64(len(p.fold)))
	place = min(place, len(p.fold)-1)
	p.fold[place] += rise
	p.times[place]++
	p.looks++
}

// Phase returns when the first click came, or would have come: 0 to every,
// seconds. found is false where no place stands out.
func (p *Pulse) Phase() (phase float64, found bool) {
	n := len(p.fold)
	if n == 0 {
		return 0, false
	}
	// A click's rise may fall to either side of a look's end.
	mean := func(i int) float64 {
		sum, most := 0.0, 0
		for d := -1; d <= 1; d++ {
			k := (i + d + n) % n
			sum, most = sum+p.fold[k], max(most, p.times[k])
		}
		if most < pulseOften {
			return 0
		}
		return sum / float64(most)
	}
	best, all := 0, 0.0
	for i := range n {
		v := mean(i)
		all += v
		if v > mean(best) {
			best = i
		}
	}
	if mean(best) < pulseClear+all/float64(n) {
		return 0, false
	}
	sum, weight := 0.0, 0.0
	for d := -1; d <= 1; d++ {
		w := p.fold[(best+d+n)%n]
		sum, weight = sum+w*float64(d), weight+w
	}
	phase = (float64(best) + sum/weight + 0.5) * p.every / float64(n) // the middle of a look
	return math.Mod(phase+p.every, p.every), true
}

// What a click itself may make the ear believe: strikes within so many seconds,
// of odds up to so much; so much is taken off those.
const (
	clickNear = 0.014
	clickOdds = 4.5
	clickLess = 3.5
)

// beneath makes less of the strikes that may be a click's own.
func (b *Beat) beneath(strikes []Strike, delay float64) []Strike {
	if b == nil || !(b.Every > 0) || !(b.Quarter > 0) {
		return strikes
	}
	step := b.Every * b.Quarter
	for i := range strikes {
		s := &strikes[i]
		if math.Abs(math.Remainder(s.At-b.Bar-delay, step)) < clickNear && s.Odds < clickOdds {
			s.Odds -= clickLess
		}
	}
	return strikes
}
