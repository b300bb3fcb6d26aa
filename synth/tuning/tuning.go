// Package tuning turns keys into frequencies: the temperaments keyboards of
// the 18th and early 19th century were tuned in, and equal temperament, at
// any pitch of a'.
package tuning

import "math"

// Tuning says how far each key stands from equal temperament, and where a'
// is. The zero value is equal temperament at 440 Hz.
type Tuning struct {
	// Name is the temperament's key ("vallotti"); Label is for people.
	Name, Label string
	// Cents are the deviations from equal temperament of C, C sharp … B, with
	// A at 0: 100 cents are an equal semitone.
	Cents [12]float64
	// A is the frequency of a' (key 69) in Hz; 0 stands for 440.
	A float64
}

// Hz returns the frequency of a MIDI key, moved by so many cents.
func (t Tuning) Hz(key int, cents float64) float64 {
	a := t.A
	if a == 0 {
		a = 440
	}
	class := ((key % 12) + 12) % 12
	return a * math.Exp2(float64(key-69)/12+(t.Cents[class]-t.Cents[9]+cents)/1200)
}

// At returns the temperament with a' at so many Hz.
func (t Tuning) At(a float64) Tuning {
	t.A = a
	return t
}

// Named returns a temperament by its key at a' = 440, and false for an
// unknown one.
func Named(name string) (Tuning, bool) {
	for _, t := range All() {
		if t.Name == name {
			return t, true
		}
	}
	return Tuning{}, false
}

// Pitch is a customary frequency of a'.
type Pitch struct {
	A     float64 // Hz
	Label string
}

// Pitches lists the customary ones, from low to high. Any other value of A
// works as well.
//
//words:texts
func Pitches() []Pitch {
	return []Pitch{
		{392, "a' = 392, French Baroque"},
		{415, "a' = 415, Baroque"},
		{430, "a' = 430, Classical"},
		{440, "a' = 440"},
		{442, "a' = 442"},
		{466, "a' = 466, choir pitch"},
	}
}
