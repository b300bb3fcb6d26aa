package realize

// Limits of what a player sets. A tempo is in quarters a minute: the page takes
// goals from 10 to 400 felt beats, and a beat lasts from an eighth to a dotted
// half, so these leave room on both sides. A rate is in notes a second, from
// two, which anybody manages, to a third more than a concert player's twelve.
// A reach is in semitones, from a fourth to two octaves.
const (
	SlowestTempo = 1.0
	FastestTempo = 2000.0

	// StudentRate is assumed where the player's rate is not known. Advanced
	// players manage about 8, concert players 12.
	StudentRate = 6.0
	SlowestRate = 2.0
	FastestRate = 16.0

	// mostRate is what [Read] counts with at most: published examples are also
	// read at rates no player has.
	mostRate = 1000.0

	leastReach = 5
	mostReach  = 24
)

// readable returns the taste with the defaults in place of numbers that a
// reading cannot count with.
func (t Taste) readable() Taste {
	rate := t.Rate
	t = t.WithinLimits()
	if rate > 0 && rate <= mostRate {
		t.Rate = rate
	}
	return t
}

// WithinLimits returns the taste with every number that lies outside its
// limits, or is none, put back to its default.
func (t Taste) WithinLimits() Taste {
	if !(t.Tempo >= SlowestTempo && t.Tempo <= FastestTempo) {
		t.Tempo = 0
	}
	if !(t.Rate >= SlowestRate && t.Rate <= FastestRate) {
		t.Rate = 0
	}
	if t.Reach < leastReach || t.Reach > mostReach {
		t.Reach = 0
	}
	return t
}
