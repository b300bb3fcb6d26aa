package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// Written is one notated value of a choice. A note may need several, tied.
type Written struct {
	Value score.Value
	// Tie joins this value to the next one of the same note.
	Tie bool
	// Note is the index in Choice.Notes.
	Note int
	// Tuplet numbers the tuplet the value belongs to, from 1; 0 is none. All
	// values of a tuplet stand next to each other.
	Tuplet int
}

// Notate gives the notes of a choice legal note values: plain and dotted
// ones, joined by ties where needed, and tuplets where the time is divided by
// three, five or seven. The values of a note add up to its duration.
//
// Values are chosen along the line, so that what sounds together (a roll, a
// chord that leans in two voices) is written one voice after another in the
// order of Choice.Notes. notated is the principal's printed value; it is not
// needed for choices that fill it.
func Notate(c *Choice, notated music.Frac) []Written {
	var out []Written
	tuplet := 0
	for i := 0; i < len(c.Notes); {
		p := oddPart(c.Notes[i].Dur)
		if p == 1 {
			out = appendValues(out, c.Notes[i].Dur, score.Value{}, i, 0)
			i++
			continue
		}
		// Take notes until their sum is a plain value again.
		j, sum := i, music.Frac{}
		for j < len(c.Notes) {
			sum = sum.Add(c.Notes[j].Dur)
			j++
			if oddPart(sum) == 1 && j-i > 0 {
				break
			}
		}
		if oddPart(sum) != 1 {
			j = i + 1
			sum = c.Notes[i].Dur
		}
		cut, rest := endOfTuplet(c.Notes[i:j])
		all := int64(1)
		for k := i; k < j; k++ {
			all = lcm(all, oddPart(c.Notes[k].Dur))
		}
		if oddPart(sum) != 1 {
			all = oddPart(sum)
		}
		tuplet++
		ratio := score.Value{Actual: int(all), Normal: int(powerBelow(all))}
		for k := i; k < j; k++ {
			if k == j-1 && rest.Sign() > 0 {
				out = appendValues(out, cut, ratio, k, tuplet)
				out[len(out)-1].Tie = true
				out = appendValues(out, rest, score.Value{}, k, 0)
				break
			}
			out = appendValues(out, c.Notes[k].Dur, ratio, k, tuplet)
		}
		i = j
	}
	return out
}

// endOfTuplet finds where the last of some notes that share a tuplet leaves it:
// a long note is tied over from the part that fills the tuplet of the notes
// before it to a plain one, so that no bracket stands over a long note. rest is
// 0 where the note is no longer than its part.
func endOfTuplet(notes []Note) (cut, rest music.Frac) {
	last := len(notes) - 1
	if last < 1 {
		return
	}
	var before music.Frac
	all, shortest := int64(1), notes[0].Dur
	for _, n := range notes[:last] {
		before = before.Add(n.Dur)
		all, shortest = lcm(all, oddPart(n.Dur)), shortest.Min(n.Dur)
	}
	full := shortest.Mul(music.Int(all))
	if oddPart(full) != 1 || full.Num() != 1 && full.Den() != 1 {
		return
	}
	cut = music.Int(before.Div(full).Floor() + 1).Mul(full).Sub(before)
	rest = notes[last].Dur.Sub(cut)
	// Short notes and those of the length of their tuplet stay whole.
	if all > 9 || rest.Less(music.Int(1)) || oddPart(rest) != 1 {
		return cut, music.Frac{}
	}
	return cut, rest
}

// oddPart is the odd factor of a duration's denominator.
func oddPart(f music.Frac) int64 {
	d := f.Den()
	for d%2 == 0 {
		d /= 2
	}
	return d
}

func lcm(a, b int64) int64 {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}

// powerBelow is the largest power of two below n.
func powerBelow(n int64) int64 {
	p := int64(1)
	for p*2 < n {
		p *= 2
	}
	return p
}

// appendValues writes a duration as tied values of a tuplet, longest first,
// dotted where one dot or two say it.
func appendValues(out []Written, dur music.Frac, ratio score.Value, note, tuplet int) []Written {
	left := dur
	if ratio.Actual > 0 {
		left = left.Mul(music.F(int64(ratio.Actual), int64(ratio.Normal)))
	}
	first := len(out)
	for left.Sign() > 0 {
		v, length, ok := largest(left)
		if !ok {
			break
		}
		v.Actual, v.Normal = ratio.Actual, ratio.Normal
		out = append(out, Written{Value: v, Note: note, Tuplet: tuplet, Tie: true})
		left = left.Sub(length)
	}
	if len(out) > first {
		out[len(out)-1].Tie = false
	}
	return out
}

// largest returns the longest plain or dotted value that fits exactly, or
// leaves something that is still a sum of plain values.
func largest(left music.Frac) (score.Value, music.Frac, bool) {
	for t := score.Breve; t <= score.N256th; t++ {
		base := score.Value{Type: t}.Quarters()
		if left.Less(base) {
			continue
		}
		for dots := 2; dots >= 1; dots-- {
			v := score.Value{Type: t, Dots: dots}
			if v.Quarters() == left {
				return v, left, true
			}
		}
		return score.Value{Type: t}, base, true
	}
	// Shorter than any printed value: the shortest one stands for it.
	return score.Value{Type: score.N256th}, left, true
}
