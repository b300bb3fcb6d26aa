package realize

import "agremens/realize/music"

// lead returns what precedes the alternation: the shape's prefix, or the
// written small notes, and the degree the alternation then starts on.
func (pl *place) lead(sh *shape) ([]tone, int) {
	lead, from := pl.tones(sh.steps, sh.raised), sh.from
	if len(pl.prefixTones) > 0 && len(sh.steps) == 0 {
		lead = pl.prefixTones
		// A single upper note before an upper start is that start.
		if len(lead) == 1 && lead[0].degree == 1 {
			return nil, 1
		}
		if len(lead) == 1 && lead[0].degree == 0 {
			return nil, 0
		}
	}
	if n := len(lead); n > 0 {
		switch lead[n-1].degree {
		case 0:
			from = 1
		case 1, -1:
			from = 0
		}
	}
	return lead, from
}

// ending returns the tones that close a shake.
func (pl *place) ending(sh *shape) []tone {
	if len(pl.suffixTones) > 0 {
		return pl.suffixTones
	}
	if !sh.suffix {
		return nil
	}
	return pl.tones([]int{-1, 0}, sh.raised)
}

// shakeSeconds is the longest trill that is written out note by note: longer
// than any a player sustains (from memory: a long final trill takes ten to
// twenty seconds), and a bound on what a score can ask for. The rest is held.
const shakeSeconds = 40

// longestShake is the length of shakeSeconds, in whole quarters.
func (pl *place) longestShake() music.Frac {
	return music.Int(int64(max(1, shakeSeconds*pl.qpm/60)))
}

// shakeNotes fills a room with a trill. Its number of notes follows from the
// room, the goal tempo and the player's rate.
func (pl *place) shakeNotes(sh *shape, room figureRoom) ([]Note, []Borrow, bool) {
	length := room.length
	held := music.Frac{} // added to the last note
	if pl.has(suspended) && !sh.suffix && len(pl.suffixTones) == 0 && room.length == pl.room {
		held = length.Sub(pl.own)
		length = pl.own
	}
	if most := pl.longestShake(); most.Less(length) {
		held = held.Add(length.Sub(most))
		length = most
	}
	rate := pl.r.rate
	lead, from := pl.lead(sh)
	end := pl.ending(sh)
	var notes []Note
	at := room.from
	switch {
	case !sh.stop.IsZero():
		notes = pl.stopped(sh, at, length, lead)
	case !sh.leaned.IsZero():
		first := length.Mul(sh.leaned)
		notes = lay(at, pl.tones([]int{1}, false), []music.Frac{first}, true)
		rest := length.Sub(first)
		tones, values := pl.alternate(sh, nil, 0, end, rest, rate, 2)
		notes = append(notes, lay(at.Add(first), tones, values, false)...)
		notes[0].Strength = 1.15
	default:
		least := len(lead) + len(end) + 2
		if len(end) == 0 && len(lead) == 0 {
			least = 4
		}
		if from == 0 && len(end) == 0 && len(lead) == 0 {
			least = 2
		}
		tones, values := pl.alternate(sh, lead, from, end, length, rate, least+least%2)
		notes = lay(at, tones, values, sh.grid > 0)
	}
	if len(notes) == 0 {
		return nil, nil, false
	}
	if sh.joined {
		notes[0].Tied = true
	}
	last := &notes[len(notes)-1]
	last.Dur = last.Dur.Add(held)
	return notes, nil, true
}

// alternate lays lead, alternation and ending evenly over a length. An odd
// number of notes puts three of them in the time of two: before the ending,
// in it, or at the close.
func (pl *place) alternate(sh *shape, lead []tone, from int, end []tone, length music.Frac, rate float64, least int) ([]tone, []music.Frac) {
	swap := [2][]tone{pl.tones([]int{1, 0}, false), pl.tones([]int{0, 1}, false)}
	pair := swap[0]
	if from == 0 {
		pair = swap[1]
	}
	count := func(k int) int { // notes with k alternations
		n := len(lead) + 2*k + len(end)
		if from == 0 && !sh.endUpper {
			n++ // back to the principal
		}
		if from == 1 && sh.endUpper {
			n++
		}
		return n
	}
	odd := count(1)%2 == 1
	var u units
	switch {
	case sh.grid > 0 && !pl.grid.IsZero():
		unit := pl.grid.Div(music.Int(int64(sh.grid)))
		u = units{n: int(length.Div(unit).Floor()), unit: unit}
		if u.n%2 == 1 {
			u.n--
			u.unit = length.Div(music.Int(int64(u.n)))
		}
	default:
		if odd && count(1)-1 > least {
			least = count(1) - 1
		} else if !odd && count(1) > least {
			least = count(1)
		}
		u = divide(length, pl.seconds(length), rate, least, odd)
		if pl.partner.Sign() > 0 && length == pl.room {
			u = oneGrid(u, length, least, divide(pl.partner, pl.seconds(pl.partner), rate, fewest, odd), pl.partner)
		}
	}
	n := u.n
	if odd {
		n++
	}
	k := max(1, (n-count(0))/2)
	tones := append([]tone(nil), lead...)
	for range k {
		tones = append(tones, pair...)
	}
	if from == 0 && !sh.endUpper {
		tones = append(tones, pl.tones([]int{0}, false)...)
	}
	if from == 1 && sh.endUpper {
		tones = append(tones, pl.tones([]int{1}, false)...)
	}
	tones = append(tones, end...)
	values := make([]music.Frac, len(tones))
	for i := range values {
		values[i] = u.unit
	}
	spread(values, length.Sub(u.left), u.unit, len(end), odd, sh.late3)
	// A trill without an ending waits on its last note, else on its first.
	held := 0
	if len(end) == 0 {
		held = len(values) - 1
	}
	values[held] = values[held].Add(u.left)
	return tones, values
}

// spread makes the values fill the length: three notes in the time of two
// where the number is odd, else even.
func spread(values []music.Frac, length, unit music.Frac, end int, odd, late bool) {
	n := len(values)
	if odd && n >= 3 && length == unit.Mul(music.Int(int64(n-1))) && binary(unit) {
		last := n - end
		if late || last < 3 {
			last = n
		}
		third := unit.Mul(music.F(2, 3))
		for i := last - 3; i < last; i++ {
			values[i] = third
		}
		return
	}
	for i := range values {
		values[i] = length.Div(music.Int(int64(n)))
	}
}

// stopped is a trill that leans a little, shakes at the speed of a short
// ornament and stops on its principal, as before a printed anticipation.
func (pl *place) stopped(sh *shape, at, length music.Frac, lead []tone) []Note {
	busy := length.Mul(music.Int(1).Sub(sh.stop))
	u := quickUnit(pl.qpm)
	n := max(4, int(busy.Div(u).Floor())/2*2)
	for u2 := busy.Div(music.Int(int64(n))); n > 4 && !binary(u2) && !ternary(u2); u2 = busy.Div(music.Int(int64(n))) {
		n -= 2
	}
	unit := busy.Div(music.Int(int64(n)))
	tones := append([]tone(nil), lead...)
	values := make([]music.Frac, len(lead))
	for i := range values {
		values[i] = unit
	}
	left := n - len(lead)
	if len(lead) == 0 {
		tones = append(tones, pl.tones([]int{1}, false)...)
		values = append(values, unit.Mul(music.Int(2)))
		left -= 2
	}
	for i := range max(2, left) {
		d := i % 2
		if len(lead) > 0 && lead[len(lead)-1].degree == 0 {
			d = 1 - d
		}
		tones = append(tones, pl.tones([]int{d}, false)...)
		values = append(values, unit)
	}
	if tones[len(tones)-1].degree == 0 {
		tones, values = tones[:len(tones)-1], values[:len(values)-1]
	}
	used := music.Frac{}
	for _, v := range values {
		used = used.Add(v)
	}
	tones = append(tones, pl.tones([]int{0}, false)...)
	values = append(values, length.Sub(used))
	if length.Sub(used).Sign() <= 0 {
		return nil
	}
	return lay(at, tones, values, false)
}
