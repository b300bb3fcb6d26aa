package lesson

import (
	"fmt"
	"slices"
	"strings"

	"agremens/game/desk"
	"agremens/realize/codec"
	"agremens/realize/codec/packet"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// passage reads a task's score and puts back what its written form cannot say.
func passage(t packet.Task) (*score.Passage, error) {
	p, _, err := codec.Decode([]byte(t.Score), nil)
	if err != nil {
		return nil, fmt.Errorf("%w: %s", ErrScore, codec.Words(err))
	}
	if p.Title == "" {
		p.Title = t.Title
	}
	for i, number := range t.Numbers {
		if i < len(p.Measures) {
			p.Measures[i].Number = number
		}
	}
	if p.Staves == 2 && len(t.Crossed) > 0 {
		at, next := 0, 0
		for i := range p.Chords {
			for j := range p.Chords[i].Notes {
				if next < len(t.Crossed) && t.Crossed[next] == at {
					n := &p.Chords[i].Notes[j]
					n.Staff = 3 - n.Staff
					next++
				}
				at++
			}
		}
	}
	return p, nil
}

// numbers returns the printed numbers of a passage's measures where those of
// its written form differ.
func numbers(p, written *score.Passage) []string {
	var all []string
	differ := false
	for i := range p.Measures {
		all = append(all, strings.Join(strings.Fields(p.Measures[i].Number), ""))
		differ = differ || p.Measures[i].Number != written.Measures[i].Number
	}
	if !differ {
		return nil
	}
	return all
}

// crossed returns which notes of the written form, counted through, stand on
// the other staff in the passage it was written from.
func crossed(p, written *score.Passage) []int {
	type place struct {
		onset music.Frac
		pitch music.Pitch
		grace bool
	}
	staves := map[place][]int{}
	for i := range p.Chords {
		for _, n := range p.Chords[i].Notes {
			at := place{p.Chords[i].Onset, n.Pitch, p.Chords[i].Grace != nil}
			staves[at] = append(staves[at], n.Staff)
		}
	}
	var all []int
	at := 0
	for i := range written.Chords {
		for _, n := range written.Chords[i].Notes {
			here := staves[place{written.Chords[i].Onset, n.Pitch, written.Chords[i].Grace != nil}]
			if len(here) > 0 && !slices.Contains(here, n.Staff) {
				all = append(all, at)
			}
			at++
		}
	}
	return all
}

// soundsThere reports whether a task opens to the very sound of the desk's
// chosen measures.
func soundsThere(d *desk.Desk, t packet.Task) bool {
	h, _, err := Open(t, []string{d.Instrument}, nil)
	return err == nil && slices.Equal(sounding(d), sounding(h.Desk))
}

// heard is a note as far as the ear and the judge can tell.
type heard struct {
	onset, dur music.Frac // quarters from the first chosen measure
	pitch      music.Pitch
	hand       perf.Hand
}

// sounding returns what sounds in the chosen measures, sorted.
func sounding(d *desk.Desk) []heard {
	from, to := d.Passage.Measures[d.From].Onset, d.Passage.Measures[d.To-1].End()
	var all []heard
	for _, n := range d.Sounding().Notes {
		if !n.Onset.Less(from) && n.Onset.Less(to) {
			all = append(all, heard{n.Onset.Sub(from), n.Dur, n.Pitch, n.Hand})
		}
	}
	sorting.Stable(all, func(a, b heard) int {
		if c := a.onset.Cmp(b.onset); c != 0 {
			return c
		}
		if c := int(a.hand) - int(b.hand); c != 0 {
			return c
		}
		if c := a.pitch.Diatonic() - b.pitch.Diatonic(); c != 0 {
			return c
		}
		if c := a.pitch.MIDI() - b.pitch.MIDI(); c != 0 {
			return c
		}
		return a.dur.Cmp(b.dur)
	})
	return all
}
