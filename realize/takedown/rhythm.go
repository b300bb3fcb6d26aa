package takedown

import (
	"math"

	"agremens/realize/music"
)

// tick is the finest place a group of notes may begin at, in quarters: fine
// enough for triplets and for hundred-and-twenty-eighths.
const tick = 96

// Costs of writing, against a deviation of one spread squared over two: of a
// group of equal notes; of a value that is no simple one.
const (
	perGroup = 1.5
	exactS   = 0.016 // how near to its place a note is struck that is meant there, s
	looseS   = 0.045 // farther than this from its place is not what is written
)

// written gives the notes their places. Notes are parted into groups of equal
// length between places of the beat; the groups that cost least, in symbols
// and in deviation from what was played, are what is written.
func (p Place) written(l located, at []float64) Version {
	if first, also, ok := p.crushed(l, at); ok {
		return p.withCrushed(l, at, first, also)
	}
	n := len(at)
	end := int(math.Round(p.Length * tick))
	sigma := exactS / l.quarter
	type state struct {
		cost      float64
		from, pos int // the group before: its first note, and where it began
	}
	// where[i] are the places, in ticks, at which a group may begin with note i.
	where := make([][]int, n+1)
	reached := make([]map[int]state, n+1)
	for i := range n {
		wide := max(0.1, 3.5*sigma)
		for t := int(math.Ceil((at[i] - wide) * tick)); t <= int((at[i]+wide)*tick); t++ {
			if t < end && plain(t) < 9 {
				where[i] = append(where[i], t)
			}
		}
		reached[i] = map[int]state{}
	}
	where[n], reached[n] = []int{end}, map[int]state{}
	for _, t := range where[0] {
		cost := plain(t)
		if t != 0 {
			cost += 1.5
		}
		reached[0][t] = state{cost: cost, from: -1}
	}
	for i := range n {
		for _, a := range where[i] {
			s, ok := reached[i][a]
			if !ok {
				continue
			}
			for j := i + 1; j <= n; j++ {
				for _, b := range where[j] {
					if b <= a {
						continue
					}
					d := float64(b-a) / tick / float64(j-i)
					off := 0.0
					for k := i; k < j; k++ {
						e := at[k] - float64(a)/tick - float64(k-i)*d
						off += e * e
					}
					cost := s.cost + perGroup + value(b-a, j-i) + plain(b)*0.5 + off/(2*sigma*sigma)
					if old, ok := reached[j][b]; !ok || cost < old.cost {
						reached[j][b] = state{cost, i, a}
					}
				}
			}
		}
	}
	v := Version{Alone: l.alone}
	if _, ok := reached[n][end]; !ok {
		// What comes after its own value's end is written as it came.
		return p.literal(l, at)
	}
	v.Notes = make([]Note, n)
	for j, b := n, end; j > 0; {
		s := reached[j][b]
		each := music.F(int64(b-s.pos), int64(tick*(j-s.from)))
		for k := s.from; k < j; k++ {
			v.Notes[k] = Note{Key: l.keys[k], Onset: music.F(int64(s.pos), tick).Add(each.Mul(music.Int(int64(k - s.from)))), Dur: each, Heard: at[k], Length: l.quarter}
		}
		j, b = s.from, s.pos
	}
	loose := 0
	for i := range v.Notes {
		x := &v.Notes[i]
		if math.Abs(x.Heard-x.Onset.Float())*l.quarter > looseS {
			x.Unwritten = true
			loose++
		}
	}
	v.Free = 3*loose > n
	p.whole(&v)
	return v
}

// together is the distance, s, below which two keys are struck as one: no hand
// alternates so fast.
const together = 0.022

// crushed finds two keys that are struck together: the one that is let go at
// once, not the principal, and the one that stays.
func (p Place) crushed(l located, at []float64) (stays, crushed int, ok bool) {
	for i := 0; i+1 < len(at) && !p.Spread; i++ {
		gap := at[i+1] - at[i]
		if gap*l.quarter > together || i > 0 && at[i]-at[i-1] < 2.5*gap || i+2 < len(at) && at[i+2]-at[i+1] < 2.5*gap {
			continue
		}
		// Notes of a run may be as near where it is written so fast.
		if len(at) > 2 && i+2 == len(at) && i > 0 && at[i]-at[i-1] < 4*gap {
			continue
		}
		if l.keys[i] == p.Key {
			return i, i + 1, true
		}
		return i + 1, i, true
	}
	return 0, 0, false
}

// crushedFor is how long a key sounds that is struck together with another and
// let go at once, in quarters, where nothing tells.
var crushedFor = music.F(1, 8)

// withCrushed writes the notes without the one that is struck with another,
// and it beside that.
func (p Place) withCrushed(l located, at []float64, stays, crushed int) Version {
	rest := located{quarter: l.quarter, alone: l.alone}
	var times []float64
	for i := range at {
		if i != crushed {
			rest.keys, times = append(rest.keys, l.keys[i]), append(times, at[i])
		}
	}
	if stays > crushed {
		stays--
	}
	v := p.written(rest, times)
	if len(v.Notes) > len(times) {
		stays++ // one is held over before them
	}
	with := v.Notes[stays]
	with.Key, with.Heard = l.keys[crushed], at[crushed]
	with.Dur = with.Dur.Mul(music.F(1, 2)).Min(crushedFor)
	v.Notes = append(v.Notes, Note{})
	copy(v.Notes[stays+1:], v.Notes[stays:])
	v.Notes[stays] = with
	if v.Notes[stays+1].Key < with.Key {
		v.Notes[stays], v.Notes[stays+1] = v.Notes[stays+1], with
	}
	return v
}

// literal writes each note where it came, to the nearest thirty-second.
func (p Place) literal(l located, at []float64) Version {
	v := Version{Alone: l.alone, Free: true}
	last := math.MinInt
	for i, x := range at {
		t := max(int(math.Round(x*8)), last+1)
		last = t
		v.Notes = append(v.Notes, Note{Key: l.keys[i], Onset: music.F(int64(t), 8), Heard: x, Length: l.quarter})
	}
	end := music.F(int64(math.Round(p.Length*tick)), tick).Max(music.F(int64(last+1), 8))
	for i := range v.Notes {
		to := end
		if i+1 < len(v.Notes) {
			to = v.Notes[i+1].Onset
		}
		v.Notes[i].Dur = to.Sub(v.Notes[i].Onset)
	}
	p.whole(&v)
	return v
}

// whole lets what was not struck on the beat be held over from the note
// before, and the keys of a spread chord lie.
func (p Place) whole(v *Version) {
	if p.Spread {
		end := v.Notes[len(v.Notes)-1].Onset.Add(v.Notes[len(v.Notes)-1].Dur)
		for i := range v.Notes {
			v.Notes[i].Dur = end.Sub(v.Notes[i].Onset)
		}
		return
	}
	if first := v.Notes[0].Onset; first.Sign() > 0 && p.before() >= 0 {
		held := Note{Key: p.before(), Dur: first, HeldOver: true, Length: v.Notes[0].Length}
		v.Notes = append([]Note{held}, v.Notes...)
	}
}

// before is the key of the hand's last note before the ornament, -1 none.
func (p Place) before() int {
	key, at := -1, math.Inf(-1)
	for _, n := range p.Around {
		if n.Same && n.At < 0 && n.At >= at {
			key, at = n.Key, n.At
		}
	}
	return key
}

// plain is how little a place in the measure is one of the beat's, in ticks:
// what its fraction of a quarter costs.
func plain(t int) float64 {
	switch music.F(int64(t), tick).Den() {
	case 1:
		return 0
	case 2:
		return 0.5
	case 4:
		return 1
	case 8:
		return 2
	case 3:
		return 2
	case 16, 6:
		return 3
	case 12, 24:
		return 4.5
	case 32:
		return 5
	}
	return 9
}

// value is what a group of n equal notes in so many ticks costs by the length
// of its notes.
func value(ticks, n int) float64 {
	f := music.F(int64(ticks), int64(tick*n))
	num, den := f.Num(), f.Den()
	cost := 0.0
	switch odd := den >> trailing(den); odd {
	case 1:
		cost = 0.3 * float64(trailing(den))
	case 3:
		cost = 1.5
	case 5:
		cost = 2.5
	case 7:
		cost = 3
	default:
		cost = 5
	}
	switch {
	case num&(num-1) == 0:
	case num == 3:
		cost += 0.8
	case num == 7, num == 6:
		cost += 1.5
	default:
		cost += 2.5
	}
	return cost
}

// trailing is how often 2 divides x.
func trailing(x int64) int {
	n := 0
	for ; x > 1 && x%2 == 0; x /= 2 {
		n++
	}
	return n
}
