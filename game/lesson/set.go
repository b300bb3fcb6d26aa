// Package lesson carries work between the teacher's desk and the student's: a
// desk becomes a task, a task a desk again, and a diary a report. It is pure;
// packets are made and read by realize/codec/packet.
package lesson

import (
	"slices"
	"strings"

	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/codec/packet"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Wish is what the teacher adds to what lies on the desk.
type Wish struct {
	Words string
	Kinds []string // keys of the kinds of round, in order
	// Free are the ornaments whose choice is the student's.
	Free map[score.ID]bool // by principal
	// Taps are how the teacher tapped ornaments herself, by their ids.
	Taps map[string]packet.Taps
}

// ErrUnsendable says that the bars could not be written so that they read the
// same again.
var ErrUnsendable = words.Errorf(nil, "these bars cannot be written down exactly; send the score file instead")

// edge is how many measures around the chosen ones go along: they set the key
// and the context, and the one after is where the round lands.
const edge = 1

// Set makes a task of what lies on the desk: the chosen bars, every decision,
// tempo, hands and sound.
func Set(d *desk.Desk, w Wish) (packet.Task, error) {
	from, to := max(0, d.From-edge), min(len(d.Passage.Measures), d.To+edge)
	cut := d.Passage.Cut(from, to)
	var here []*realize.Ornament
	for i := range d.Reading.Ornaments {
		if o := &d.Reading.Ornaments[i]; o.Measure >= from && o.Measure < to {
			here = append(here, o)
		}
	}
	t := packet.Task{
		Title: d.Passage.Title, Bars: d.Bars(), Goal: d.Reading.Tempo, Percent: d.Percent,
		Tradition: d.Reading.Tradition, Prefer: string(d.Taste.Prefer), Rate: d.Taste.Rate,
		Hand: desk.HandWord(d.Tap), Instrument: d.Instrument, Tuning: d.Temperament, Pitch: d.Pitch,
		Words: w.Words, Kinds: w.Kinds,
	}
	if d.HearSet {
		t.Hear = desk.HandWord(d.Hear)
	}
	if f := d.Following(); f != (score.RoadOptions{}) {
		t.Follow = desk.FollowWord(f)
	}
	// ABC is shorter and nearly always says it all.
	for _, write := range []func(*score.Passage) (string, error){asABC, asMusicXML} {
		text, err := write(cut)
		if err != nil {
			continue
		}
		t.Score = text
		t.Crossed = nil
		there, err := reading(t)
		if err == nil {
			t.Crossed = crossed(cut, there.Passage)
			there, err = reading(t)
		}
		if err != nil || len(there.Passage.Measures) != len(cut.Measures) || !sameSigns(here, there.Ornaments, d.Passage.Measures[from].Onset) {
			continue
		}
		t.Numbers = numbers(cut, there.Passage)
		t.Decisions, t.Free = decide(d.Taste, here, there, w.Free)
		t.Fingers = fingers(d, here)
		for i, o := range here {
			if p, ok := w.Taps[o.ID]; ok {
				p.Ornament = i
				t.Taps = append(t.Taps, p)
			}
		}
		if !soundsThere(d, t) {
			continue
		}
		return t, nil
	}
	return packet.Task{}, ErrUnsendable
}

func asABC(p *score.Passage) (string, error) { return abc.Encode(p), nil }

func asMusicXML(p *score.Passage) (string, error) {
	b, err := musicxml.Encode(p)
	return string(b), err
}

// reading reads a task's score with its taste and no decision.
func reading(t packet.Task) (*realize.Reading, error) {
	p, err := passage(t)
	if err != nil {
		return nil, err
	}
	return realize.Read(p, taste(t)), nil
}

func taste(t packet.Task) realize.Taste {
	prefer := realize.Preference(t.Prefer)
	if !prefer.Known() {
		prefer = ""
	}
	return realize.Taste{Tradition: t.Tradition, Prefer: prefer, Tempo: t.Goal, Rate: t.Rate}
}

// sameSigns reports whether two readings list the same ornaments, the second
// from start on.
func sameSigns(here []*realize.Ornament, there []realize.Ornament, start music.Frac) bool {
	if len(here) != len(there) {
		return false
	}
	for i, o := range here {
		if p := &there[i]; o.Onset.Sub(start) != p.Onset || o.Principal != p.Principal || o.Staff != p.Staff ||
			o.Notated != p.Notated || !slices.Equal(o.Signs, p.Signs) {
			return false
		}
	}
	return true
}

// decide writes down what is chosen here, as far as it is not the student's
// to choose and the first choice there. What is the teacher's own goes along as
// hers, with her reason, and so do notes of which the other reading has no
// choice.
func decide(taste realize.Taste, here []*realize.Ornament, there *realize.Reading, free map[score.ID]bool) (all []packet.Decision, open []int) {
	for i, o := range here {
		chosen, list := &o.Choices[o.Chosen], there.Ornaments[i].Choices
		at := slices.IndexFunc(list, func(c realize.Choice) bool { return c.Key == chosen.Key && realize.SameNotes(c.Notes, chosen.Notes) })
		if at < 0 {
			at = slices.IndexFunc(list, func(c realize.Choice) bool { return realize.SameNotes(c.Notes, chosen.Notes) })
		}
		d := packet.Decision{Ornament: i, Choice: chosen.Key}
		switch {
		case chosen.Key == realize.OwnKey:
			kept := taste.Own[o.Note]
			d.Own = realize.Own{Notes: chosen.Notes, Why: kept.Why, Edition: kept.Edition}.Text()
			at = -1 // hers, whatever the program would have chosen
		case at >= 0:
			d.Choice = list[at].Key
		default:
			d.Own = realize.Own{Notes: chosen.Notes, Why: chosen.Name}.Text()
		}
		for _, p := range o.Passes {
			all = append(all, packet.Decision{Ornament: i, Pass: p.Pass, Choice: o.Choices[p.Choice].Key})
		}
		if free[o.Note] {
			open = append(open, i)
		}
		if !free[o.Note] || at != there.Ornaments[i].Chosen {
			all = append(all, d)
		}
	}
	return all, open
}

// fingers are those the teacher wants for what is chosen.
func fingers(d *desk.Desk, here []*realize.Ornament) []packet.Fingers {
	var all []packet.Fingers
	for i, o := range here {
		if f, ok := d.Taste.Fingers[o.Note]; ok && f.Key == o.Choices[o.Chosen].Key && len(f.Fingers) > 0 {
			all = append(all, packet.Fingers{Ornament: i, Choice: f.Key, Fingers: strings.Join(f.Fingers, " ")})
		}
	}
	return all
}
