package music

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Step is a letter name: 0 is C, 6 is B.
type Step int8

// The seven letter names.
const (
	C Step = iota
	D
	E
	F_
	G
	A
	B
)

var (
	stepNames     = [7]string{"C", "D", "E", "F", "G", "A", "B"}
	stepSemitones = [7]int{0, 2, 4, 5, 7, 9, 11}
)

// String returns the English letter name.
func (s Step) String() string { return stepNames[s] }

// Pitch is a spelled pitch. Octave 4 starts at middle C, as in MusicXML.
// Alter counts semitones: 1 is a sharp, -1 a flat.
type Pitch struct {
	Step   Step
	Alter  int8
	Octave int8
}

// MIDI returns the key number; middle C is 60.
func (p Pitch) MIDI() int {
	return (int(p.Octave)+1)*12 + stepSemitones[p.Step] + int(p.Alter)
}

// Diatonic counts letter names up from C0: middle C is 28. One more is one
// staff position higher.
func (p Pitch) Diatonic() int { return int(p.Octave)*7 + int(p.Step) }

// FromDiatonic returns the pitch at a staff position (see [Pitch.Diatonic])
// with the given alteration.
func FromDiatonic(n, alter int) Pitch {
	octave := n / 7
	if n < 0 && n%7 != 0 {
		octave--
	}
	return Pitch{Step: Step(n - octave*7), Alter: int8(alter), Octave: int8(octave)}
}

// Neighbour returns the pitch n letter names away, altered as key asks.
func (p Pitch) Neighbour(n int, key Key) Pitch {
	q := FromDiatonic(p.Diatonic()+n, 0)
	q.Alter = int8(key.Alter(q.Step))
	return q
}

// WithAlter returns p with another alteration.
func (p Pitch) WithAlter(alter int) Pitch {
	p.Alter = int8(alter)
	return p
}

// String prints "C#5", "Eb4", "F##3", "Bbb2".
func (p Pitch) String() string { return p.class() + strconv.Itoa(int(p.Octave)) }

// class prints a pitch without its octave.
func (p Pitch) class() string {
	acc := ""
	switch {
	case p.Alter > 0:
		acc = strings.Repeat("#", int(p.Alter))
	case p.Alter < 0:
		acc = strings.Repeat("b", -int(p.Alter))
	}
	return p.Step.String() + acc
}

// ErrPitch is returned by [ParsePitch] for text that names no pitch.
var ErrPitch = errors.New("music: not a pitch")

// ParsePitch reads what [Pitch.String] prints; "♯" and "♭" are understood too.
func ParsePitch(s string) (Pitch, error) {
	t := strings.NewReplacer("♯", "#", "♭", "b").Replace(s)
	if t == "" {
		return Pitch{}, fmt.Errorf("%w: %q", ErrPitch, s)
	}
	var p Pitch
	i := strings.IndexByte("CDEFGAB", t[0])
	if i < 0 {
		return Pitch{}, fmt.Errorf("%w: %q", ErrPitch, s)
	}
	p.Step = Step(i)
	rest := t[1:]
	for len(rest) > 0 && (rest[0] == '#' || rest[0] == 'b') {
		if rest[0] == '#' {
			p.Alter++
		} else {
			p.Alter--
		}
		rest = rest[1:]
	}
	octave, err := strconv.Atoi(rest)
	if err != nil || octave < -1 || octave > 10 || p.Alter > 2 || p.Alter < -2 {
		return Pitch{}, fmt.Errorf("%w: %q", ErrPitch, s)
	}
	p.Octave = int8(octave)
	return p, nil
}

// MustPitch is [ParsePitch] for constants; it panics on an error.
func MustPitch(s string) Pitch {
	p, err := ParsePitch(s)
	if err != nil {
		panic(err)
	}
	return p
}

// Interval is a distance between two spelled pitches: letter names and
// semitones, both positive upward.
type Interval struct {
	Steps, Semitones int
}

// To returns the interval from p up to q.
func (p Pitch) To(q Pitch) Interval {
	return Interval{q.Diatonic() - p.Diatonic(), q.MIDI() - p.MIDI()}
}

// Transpose returns p moved by iv, spelled accordingly.
func (p Pitch) Transpose(iv Interval) Pitch {
	q := FromDiatonic(p.Diatonic()+iv.Steps, 0)
	q.Alter = int8(p.MIDI() + iv.Semitones - q.MIDI())
	return q
}
