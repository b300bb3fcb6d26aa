package realize

import "agremens/realize/music"

// units is a division of a room into equal notes. What is left over is held
// by one of them.
type units struct {
	n    int
	unit music.Frac
	left music.Frac
}

// binary and ternary tell the note values a player reads at sight: plain ones
// and those of triplets and sextuplets.
func binary(f music.Frac) bool { return f.Num() == 1 && f.Den()&(f.Den()-1) == 0 || f.Den() == 1 }

func ternary(f music.Frac) bool {
	d := f.Den()
	return (f.Num() == 1 || f.Num() == 2) && d%3 == 0 && (d/3)&(d/3-1) == 0
}

// fewest is the least number of notes of a trill.
const fewest = 4

// oneGrid gives two hands that trill at once the same unit: the slower hand's
// where it divides both rooms into enough notes, else the other's.
func oneGrid(u units, room music.Frac, least int, other units, otherRoom music.Frac) units {
	first, second := u.unit, other.unit
	if first.Less(second) {
		first, second = second, first
	}
	for _, unit := range []music.Frac{first, second} {
		n, m := room.Div(unit), otherRoom.Div(unit)
		even := n.Den() == 1 && m.Den() == 1 && n.Num()%2 == 0 && m.Num()%2 == 0
		if even && n.Num() >= int64(least) && m.Num() >= fewest {
			return units{n: int(n.Num()), unit: unit}
		}
	}
	return u
}

// divide chooses how many equal notes fill a room: an even number, at least
// least, no more a second than the rate, in values that can be read. Plain
// values are preferred unless they are much slower than the player can; for an
// odd number, three in the time of two, only plain ones. Where even the least number is too fast it is taken all the same; the
// choice then carries a warning.
func divide(room music.Frac, seconds, rate float64, least int, odd bool) units {
	var plainBest, threeBest, first int
	most := int(seconds*rate*1.02 + 1e-9)
	for n := least; n <= 256; n += 2 {
		u := room.Div(music.Int(int64(n)))
		p, t := binary(u), ternary(u) && !odd
		if !p && !t {
			continue
		}
		if first == 0 {
			first = n
		}
		if n > most {
			break
		}
		if p {
			plainBest = n
		} else {
			threeBest = n
		}
	}
	n := plainBest
	if float64(plainBest) < .6*seconds*rate && threeBest > plainBest {
		n = threeBest
	}
	if n == 0 {
		n = first
		// A value that reads well but is far from the least count is no help.
		if n == 0 || n > 2*least {
			if u := atSpeed(room, most, least, odd); u.n > 0 {
				return u
			}
			n = least
		}
	}
	return units{n: n, unit: room.Div(music.Int(int64(n)))}
}

// atSpeed takes the quickest value the player manages, plain unless a triplet's
// is much nearer, for a room of odd length, as of tied notes: it does not
// divide the room, and one note is held longer. With an odd number of notes
// room is left for the last of them. None where even the least number is too
// fast.
func atSpeed(room music.Frac, most, least int, odd bool) units {
	var best units
	more := 0
	if odd {
		more = 1
	}
	for _, of := range []int64{1, 3} {
		if float64(best.n) >= .6*float64(most) {
			break
		}
		for unit := music.F(4, of); unit.Num()*256 >= unit.Den(); unit = unit.Mul(music.F(1, 2)) {
			n := (int(room.Div(unit).Floor()) - more) &^ 1
			if n > most {
				break
			}
			if n >= least && n > best.n {
				best = units{n, unit, room.Sub(unit.Mul(music.Int(int64(n + more))))}
			}
		}
	}
	return best
}
