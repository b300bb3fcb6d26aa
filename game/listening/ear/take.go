package ear

import (
	"math"

	"agremens/realize/hear"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/takedown"
)

// Taker takes down how an ornament is played: takes go in, heard or as keys of
// a MIDI instrument, and a version comes out. Make one with [NewTaker].
type Taker struct {
	place    takedown.Place
	takes    [][]takedown.Strike
	listener *hear.Listener
}

// NewTaker returns a taker for a place as [PackPlace] writes it.
func NewTaker(place []float64) *Taker { return &Taker{place: unpackPlace(place)} }

// Listen begins a take that is heard; rate is in samples a second.
func (t *Taker) Listen(rate float64) {
	x := hear.Expected{About: t.place.About, Notes: []hear.Note{{Key: t.place.Key, Ornament: "0"}}}
	for _, n := range t.place.Around {
		hand := perf.Left
		if n.Same {
			hand = perf.Right
		}
		x.Notes = append(x.Notes, hear.Note{Key: n.Key, At: n.At, Hand: hand})
	}
	also := append([]int(nil), t.place.Chord...)
	for k := t.place.Lowest; k <= t.place.Highest; k++ {
		also = append(also, k)
	}
	t.listener = hear.New(x, hear.Options{Rate: rate, Also: also})
}

// Feed takes the next samples of a take, ±1, and returns the keys that were
// just heard.
func (t *Taker) Feed(samples []float32) []float64 {
	if t.listener == nil {
		return nil
	}
	var keys []float64
	for _, o := range t.listener.Feed(samples) {
		keys = append(keys, float64(o.Key))
	}
	return keys
}

// Heard ends a take that was heard and returns its strikes, as [Taker.Played]
// takes them.
func (t *Taker) Heard() []float64 {
	if t.listener == nil {
		return nil
	}
	t.listener.Finish()
	var row []float64
	for _, s := range t.listener.Strikes() {
		if s.Odds > 0 {
			row = append(row, float64(s.Key), s.At, math.Min(s.Odds, takedown.Certain-1))
		}
	}
	t.listener = nil
	return row
}

// Played adds a take: key, seconds and odds ([takedown.Strike]) of each strike.
func (t *Taker) Played(row []float64) {
	var take []takedown.Strike
	for ; len(row) >= 3; row = row[3:] {
		take = append(take, takedown.Strike{Key: int(row[0]), At: row[1], Odds: row[2]})
	}
	t.takes = append(t.takes, take)
}

// Write writes what was played so far, as [UnpackVersion] reads it: nothing
// where no note of the ornament was among it.
func (t *Taker) Write() []float64 {
	v, ok := t.place.Write(t.takes...)
	if !ok {
		return nil
	}
	return packVersion(v)
}

// PackPlace writes a place as numbers.
func PackPlace(p takedown.Place) []float64 {
	row := []float64{float64(p.Key), p.Length, p.About, truth(p.Spread), float64(p.Lowest), float64(p.Highest), float64(len(p.Chord)), float64(len(p.Likely))}
	for _, k := range append(p.Chord[:len(p.Chord):len(p.Chord)], p.Likely...) {
		row = append(row, float64(k))
	}
	for _, n := range p.Around {
		row = append(row, float64(n.Key), n.At, truth(n.Same))
	}
	return row
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

const placeHead = 8

// unpackPlace reads what PackPlace wrote; of anything else it takes what there
// is.
func unpackPlace(row []float64) takedown.Place {
	if len(row) < placeHead {
		return takedown.Place{}
	}
	p := takedown.Place{Key: int(row[0]), Length: row[1], About: row[2], Spread: row[3] != 0, Lowest: int(row[4]), Highest: int(row[5])}
	chord, likely := int(row[6]), int(row[7])
	for row = row[placeHead:]; chord+likely > 0 && len(row) > 0; row = row[1:] {
		if chord > 0 {
			p.Chord = append(p.Chord, int(row[0]))
			chord--
			continue
		}
		p.Likely = append(p.Likely, int(row[0]))
		likely--
	}
	for ; len(row) >= 3; row = row[3:] {
		p.Around = append(p.Around, takedown.Printed{Key: int(row[0]), At: row[1], Same: row[2] != 0})
	}
	return p
}

const (
	versionHead = 4
	versionNote = 9
)

func packVersion(v takedown.Version) []float64 {
	row := []float64{float64(v.Take), float64(v.Alike), truth(v.Alone), truth(v.Free)}
	for _, n := range v.Notes {
		row = append(row, float64(n.Key), float64(n.Onset.Num()), float64(n.Onset.Den()), float64(n.Dur.Num()), float64(n.Dur.Den()),
			n.Heard, n.Length, truth(n.HeldOver), truth(n.Unwritten))
	}
	return row
}

// UnpackVersion reads what a taker's Write returned, and false where that is
// no version.
func UnpackVersion(row []float64) (v takedown.Version, ok bool) {
	if len(row) < versionHead+versionNote {
		return v, false
	}
	v = takedown.Version{Take: int(row[0]), Alike: int(row[1]), Alone: row[2] != 0, Free: row[3] != 0}
	for row = row[versionHead:]; len(row) >= versionNote; row = row[versionNote:] {
		onset, fine := fraction(row[1], row[2])
		dur, whole := fraction(row[3], row[4])
		if key := row[0]; !fine || !whole || dur.Sign() <= 0 || !(key >= 0 && key < 128) {
			return takedown.Version{}, false
		}
		v.Notes = append(v.Notes, takedown.Note{Key: int(row[0]), Onset: onset, Dur: dur, Heard: row[5], Length: row[6], HeldOver: row[7] != 0, Unwritten: row[8] != 0})
	}
	return v, true
}

func fraction(num, den float64) (music.Frac, bool) {
	if !(den >= 1 && den < 1<<20 && math.Abs(num) < 1<<20) {
		return music.Frac{}, false
	}
	return music.F(int64(num), int64(den)), true
}
