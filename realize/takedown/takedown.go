// Package takedown writes down how an ornament was played: keys and times in,
// places and lengths in quarters out, in the simplest rhythm that is honest. It
// is told what is printed around the ornament, finds by it which strikes belong
// to the ornament, how fast it was and where its beat fell, and leaves the
// names of the pitches to its caller. It is pure.
package takedown

import (
	"cmp"
	"math"

	"agremens/realize/music"
	"agremens/realize/sorting"
)

// Strike is a key going down, in seconds from anywhere.
type Strike struct {
	Key int // MIDI
	At  float64
	// Odds is the logarithm of the odds that it was struck: [Certain] where
	// keys tell, less where it was only heard.
	Odds float64
}

// Certain are the odds of a key that a MIDI instrument reports.
const Certain = 20.0

// Printed is a note near the ornament that is played as it stands.
type Printed struct {
	Key int
	At  float64 // quarters from the ornament's beat
	// Same is set where the hand that plays the ornament plays it.
	Same bool
}

// Place is where an ornament stands.
type Place struct {
	Key     int     // of its principal, MIDI
	Length  float64 // the principal's value in quarters
	About   float64 // quarters a minute, a guess; 0 is none
	Around  []Printed
	Chord   []int // further keys that are struck with the principal
	Spread  bool  // the chord is spread: its keys are the ornament's notes
	Highest int   // the range of keys an ornament may have here
	Lowest  int
	Likely  []int // keys that ornaments at this place usually have
}

// Note is one note of what was played.
type Note struct {
	Key       int
	Onset     music.Frac // quarters from the beat
	Dur       music.Frac
	Heard     float64 // where it truly came, quarters from the beat
	Length    float64 // s of a quarter there
	HeldOver  bool    // not struck: the note before sounds on
	Unwritten bool    // farther from its written place than can be called exact
}

// Version is an ornament as it was played.
type Version struct {
	Notes []Note
	// Take is the take that is written, Alike how many had the same keys.
	Take, Alike int
	// Alone says that nothing printed was found around it: the first note is
	// taken for the beat.
	Alone bool
	// Free says that its notes came too unevenly for any simple rhythm.
	Free bool
}

// HandAlone is the place where only the hand that has the ornament plays.
func (p Place) HandAlone() Place {
	around := p.Around
	p.Around = nil
	for _, n := range around {
		if n.Same {
			p.Around = append(p.Around, n)
		}
	}
	return p
}

// otherLeast is the part of the other hand's keys that must have been struck for
// that hand to have played: a key or two the ornament's hand may strike itself.
const otherLeast = 0.25

// playedBy is the place by the hands that played a take: notes of the other
// hand are not missed where it was silent.
func (p Place) playedBy(s []Strike) Place {
	other, struck := map[int]bool{}, map[int]bool{}
	for _, n := range p.Around {
		if !n.Same {
			other[n.Key] = true
		}
	}
	for _, x := range s {
		if other[x.Key] {
			struck[x.Key] = true
		}
	}
	if float64(len(struck)) < otherLeast*float64(len(other)) {
		return p.HandAlone()
	}
	return p
}

// Limits: of what is looked at, and of an ornament.
const (
	mostStrikes = 200
	mostNotes   = 64
)

// Write takes down one to three takes. It reports false where none has a note
// of the ornament.
func (p Place) Write(takes ...[]Strike) (Version, bool) {
	var found []located
	var from []int
	for i, take := range takes {
		take = tidy(take)
		if l := p.playedBy(take).locate(take); len(l.keys) > 0 {
			found, from = append(found, l), append(from, i)
		}
	}
	if len(found) == 0 {
		return Version{}, false
	}
	// The way that was played most often is what is meant, the last of equals:
	// who plays again corrects.
	best, votes := 0, 0
	for i := range found {
		n := 0
		for j := range found {
			if sameKeys(found[i].keys, found[j].keys) {
				n++
			}
		}
		if n >= votes {
			best, votes = i, n
		}
	}
	l := found[best]
	at := make([]float64, len(l.at))
	for _, other := range found {
		if sameKeys(other.keys, l.keys) {
			for i, x := range other.at {
				at[i] += x / float64(votes)
			}
		}
	}
	v := p.written(l, at)
	v.Take, v.Alike = from[best], votes
	return v, true
}

func sameKeys(a, b []int) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// tidy sorts strikes and leaves out what is none.
func tidy(take []Strike) []Strike {
	var out []Strike
	for _, s := range take {
		if !math.IsNaN(s.At) && math.Abs(s.At) < 1e6 && s.Key >= 0 && s.Key < 128 && s.Odds > 0 && len(out) < mostStrikes {
			out = append(out, s)
		}
	}
	sorting.Stable(out, func(a, b Strike) int { return cmp.Compare(a.At, b.At) })
	return out
}
