// Package version makes a realization of a user's own of what was played: where
// the ornament stands, for whoever takes it down; how its notes are spelled;
// and what is said and drawn of how it was understood. It is pure.
package version

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/sorting"
	"agremens/realize/takedown"
)

// around is how far from the ornament printed notes are looked for, quarters.
const around = 8

// reach is how far from the principal an ornament's keys may be beyond those of
// the choices: a sixth.
const reach = 9

// Place says where an ornament of a reading stands, and false where it stands
// nowhere.
func Place(r *realize.Reading, p *score.Passage, ornament string) (takedown.Place, bool) {
	o := find(r, ornament)
	if o == nil {
		return takedown.Place{}, false
	}
	key := o.Principal.MIDI()
	at := takedown.Place{Key: key, Length: o.Notated.Float(), Spread: spread(o), Lowest: key - reach, Highest: key + reach}
	covered := map[score.ID]bool{o.Note: true}
	for _, id := range o.Covers {
		covered[id] = true
		if ref, ok := p.Find(id); ok && id != o.Note {
			k := p.At(ref).Pitch.MIDI()
			at.Chord = append(at.Chord, k)
			at.Lowest, at.Highest = min(at.Lowest, k-2), max(at.Highest, k+2)
		}
	}
	// Other ornaments are expected as they are chosen, this one takes no time
	// from the notes around it.
	for i := range o.Choices {
		if o.Choices[i].Key == "plain" {
			r = r.Choose(ornament, i)
		}
	}
	at.Likely = []int{key, o.Upper.MIDI(), o.Lower.MIDI()}
	for i := range o.Choices {
		for _, n := range o.Choices[i].Notes {
			k := n.Pitch.MIDI()
			at.Lowest, at.Highest = min(at.Lowest, k-2), max(at.Highest, k+2)
			if !slices.Contains(at.Likely, k) {
				at.Likely = append(at.Likely, k)
			}
		}
	}
	sounding := realize.Perform(r, realize.PerformOptions{})
	at.About = sounding.Tempo.At(o.Onset)
	hand := perf.Right
	for _, n := range sounding.Notes {
		if n.From == o.Note {
			hand = n.Hand
		}
	}
	for _, n := range sounding.Notes {
		x := n.Onset.Sub(o.Onset).Float()
		if covered[n.From] || n.Ornament == ornament || math.Abs(x) > around {
			continue
		}
		at.Around = append(at.Around, takedown.Printed{Key: n.Pitch.MIDI(), At: x, Same: n.Hand == hand})
	}
	return at, true
}

// spread reports whether an ornament is a chord that is rolled.
func spread(o *realize.Ornament) bool {
	for i := range o.Choices {
		if strings.HasPrefix(o.Choices[i].Key, "roll.") {
			return len(o.Covers) > 1
		}
	}
	return false
}

func find(r *realize.Reading, id string) *realize.Ornament {
	for i := range r.Ornaments {
		if r.Ornaments[i].ID == id {
			return &r.Ornaments[i]
		}
	}
	return nil
}

// Own writes a version as a realization of the user's own for an ornament.
func Own(r *realize.Reading, p *score.Passage, ornament string, v takedown.Version) (realize.Own, bool) {
	o := find(r, ornament)
	if o == nil || len(v.Notes) == 0 {
		return realize.Own{}, false
	}
	known := spellings(o, p)
	var own realize.Own
	for _, n := range v.Notes {
		pitch := spell(n.Key, o, known)
		if n.HeldOver {
			if q, ok := before(p, o, n.Key); ok {
				pitch = q
			}
		}
		own.Notes = append(own.Notes, realize.Note{
			Pitch: pitch, Onset: n.Onset, Dur: n.Dur, Degree: pitch.Diatonic() - o.Principal.Diatonic(),
			Tied: n.HeldOver, Strength: 1, Measured: !v.Free,
		})
	}
	if last := &own.Notes[len(own.Notes)-1]; last.Onset.Less(o.Notated) {
		last.Dur = o.Notated.Sub(last.Onset)
	}
	if len(o.Covers) > 1 && !spread(o) {
		own.Notes = append(own.Notes, chord(o, p)...)
		sorting.Stable(own.Notes, func(a, b realize.Note) int {
			return cmp.Or(a.Onset.Cmp(b.Onset), a.Pitch.MIDI()-b.Pitch.MIDI())
		})
	}
	return own, true
}

// chord returns the other notes of the principal's chord, held as printed.
func chord(o *realize.Ornament, p *score.Passage) []realize.Note {
	var notes []realize.Note
	for _, id := range o.Covers {
		if ref, ok := p.Find(id); ok && id != o.Note {
			pitch := p.At(ref).Pitch
			notes = append(notes, realize.Note{Pitch: pitch, Dur: o.Notated, Degree: pitch.Diatonic() - o.Principal.Diatonic(), Strength: 1, Measured: true})
		}
	}
	return notes
}

// spellings are the names that keys have at this place: those of the
// principal, its neighbours and the choices first, then of the measure.
func spellings(o *realize.Ornament, p *score.Passage) map[int]music.Pitch {
	known := map[int]music.Pitch{}
	name := func(q music.Pitch) {
		if _, ok := known[q.MIDI()]; !ok {
			known[q.MIDI()] = q
		}
	}
	name(o.Principal)
	name(o.Upper)
	name(o.Lower)
	for i := range o.Choices {
		for _, n := range o.Choices[i].Notes {
			name(n.Pitch)
		}
	}
	for i := range p.Chords {
		if c := &p.Chords[i]; c.Measure == o.Measure {
			for j := range c.Notes {
				name(c.Notes[j].Pitch)
			}
		}
	}
	return known
}

// spell names a key at an ornament: as it is known there, else as the next
// letter where it is a neighbour, else as the local key has it, and what the
// key lacks as raised where the key has sharps and lowered where it has flats.
func spell(key int, o *realize.Ornament, known map[int]music.Pitch) music.Pitch {
	if q, ok := known[key]; ok {
		return q
	}
	for _, octave := range [2]int{12, -12} {
		if q, ok := known[key+octave]; ok {
			q.Octave -= int8(octave / 12)
			return q
		}
	}
	if d := key - o.Principal.MIDI(); d >= -2 && d <= 2 {
		step := 1
		if d < 0 {
			step = -1
		}
		if q := music.FromDiatonic(o.Principal.Diatonic()+step, 0); d != 0 {
			if alter := key - q.MIDI(); alter >= -1 && alter <= 1 {
				return q.WithAlter(alter)
			}
		}
	}
	near := (key/12 - 1) * 7
	for n := near - 1; n < near+8; n++ {
		q := music.FromDiatonic(n, 0)
		if q = q.WithAlter(o.Key.Alter(q.Step)); q.MIDI() == key {
			return q
		}
	}
	alter := 1
	if o.Key.Fifths < 0 {
		alter = -1
	}
	for n := near - 1; n < near+8; n++ {
		for _, a := range [2]int{0, alter} {
			if q := music.FromDiatonic(n, a); q.MIDI() == key {
				return q
			}
		}
	}
	return o.Principal // not reached: every key is a letter or next to one
}

// before finds the printed pitch of a key that sounds before an ornament.
func before(p *score.Passage, o *realize.Ornament, key int) (music.Pitch, bool) {
	var found music.Pitch
	have := false
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Staff != o.Staff || !c.Onset.Less(o.Onset) {
			continue
		}
		for j := range c.Notes {
			if c.Notes[j].Pitch.MIDI() == key {
				found, have = c.Notes[j].Pitch, true
			}
		}
	}
	return found, have
}
