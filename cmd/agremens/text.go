package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/glossary"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

// writeText writes a reading for a person, in the words of the page. Lengths
// in lists of notes are in quarter notes; the heading says so.
func writeText(w written) ([]byte, error) {
	var b bytes.Buffer
	r := w.reading
	title := r.Passage.Title
	if title == "" {
		title = "Untitled"
	}
	if r.Passage.Composer != "" {
		title += ", " + r.Passage.Composer
	}
	fmt.Fprintf(&b, "%s\n%s\nTradition: %s%s\nTempo: %g quarter notes per minute%s\n", title, codec.About(nil, w.opened, r),
		traditionName(r.Tradition), assumed(r, realize.AboutTradition), r.Tempo, assumed(r, realize.AboutTempo))
	ornaments := w.ornaments()
	if len(ornaments) == 0 {
		b.WriteString("\nThere are no ornaments in these bars.\n")
	} else {
		b.WriteString("Each list of notes gives their lengths in quarter notes; notes in brackets are tied over.\n")
	}
	for _, o := range ornaments {
		textOrnament(&b, r, o)
	}
	if len(r.Questions) > 0 {
		b.WriteString("\nAssumed; please check:\n")
		for _, q := range r.Questions {
			textQuestion(&b, q)
		}
	}
	if len(w.opened.NotDrawn) > 0 {
		b.WriteString("\nNot drawn from this file:\n")
		for _, n := range w.opened.NotDrawn {
			fmt.Fprintf(&b, "  %s\n", n.In(nil))
		}
	}
	if warnings := append(append([]string{}, w.opened.Warnings...), r.Warnings...); len(warnings) > 0 {
		b.WriteString("\nLost or uncertain:\n")
		for _, text := range warnings {
			fmt.Fprintf(&b, "  %s\n", words.Sentence(text))
		}
	}
	return b.Bytes(), nil
}

// assumed marks what the reading asks about.
func assumed(r *realize.Reading, about string) string {
	for _, q := range r.Questions {
		if q.About == about {
			return " (assumed)"
		}
	}
	return ""
}

// settling names the flags that settle a question.
var settling = map[string]string{realize.AboutTradition: "-tradition", realize.AboutTempo: "-tempo"}

// textQuestion prints the question and, on a line of its own, the answer that
// is assumed.
func textQuestion(b *bytes.Buffer, q realize.Question) {
	if q.Text != "" {
		fmt.Fprintf(b, "  %s\n  ", q.Text)
	}
	fmt.Fprintf(b, "  Assumed: %s", strings.TrimSuffix(q.Assumed, "."))
	if flag := settling[q.About]; flag != "" {
		fmt.Fprintf(b, " (%s changes it)", flag)
	}
	b.WriteString("\n")
}

func textOrnament(b *bytes.Buffer, r *realize.Reading, o realize.Ornament) {
	fmt.Fprintf(b, "\nBar %s, %s, %s, %s: %s\n", r.Passage.Measures[o.Measure].Number, desk.HandInWords(nil, o.Staff),
		pitch(o.Principal), length(o.Notated), signName(&o))
	for i, c := range o.Choices {
		mark := " "
		if i == o.Chosen {
			mark = "*"
		}
		fmt.Fprintf(b, " %s %d. %s\n      %s\n", mark, i+1, c.Name, notes(c))
		if c.Reason != "" {
			fmt.Fprintf(b, "      %s\n", c.Reason)
		}
		for _, s := range c.Sources {
			fmt.Fprintf(b, "      Source: %s\n", desk.SourceInWords(nil, s))
		}
		for _, borrow := range c.Borrows {
			fmt.Fprintf(b, "      Takes %s %s\n", share(borrow.Amount), giver(r.Passage, borrow, o.Onset))
		}
		for _, warning := range c.Warnings {
			fmt.Fprintf(b, "      Note: %s\n", warning)
		}
	}
}

// signName is the glossary's name for what the signs ask for together.
func signName(o *realize.Ornament) string {
	if e, ok := glossary.Find(glossary.Of(o)); ok {
		return e.Title(nil)
	}
	return "a sign that is not played"
}

// pitch prints a pitch as the page does, with its octave: F♯5.
func pitch(p music.Pitch) string {
	return music.EnglishNames.Name(p) + strconv.Itoa(int(p.Octave))
}

// notes prints the notes of a choice with their lengths in quarter notes, and
// where they start if not on the beat.
func notes(c realize.Choice) string {
	var out []string
	for i, n := range c.Notes {
		text := fmt.Sprintf("%s %v", pitch(n.Pitch), n.Dur)
		if n.Tied {
			text = "(" + text + ")"
		}
		if i == 0 && n.Onset.Sign() < 0 {
			text = fmt.Sprintf("from %v before the beat: %s", n.Onset.Neg(), text)
		} else if i == 0 && n.Onset.Sign() > 0 {
			text = fmt.Sprintf("from %v after the beat: %s", n.Onset, text)
		}
		out = append(out, text)
	}
	return strings.Join(out, "  ")
}

// lengths are the note values by their quarters.
var lengths = map[music.Frac]string{
	music.Int(8): "double whole note", music.Int(6): "dotted whole note", music.Int(4): "whole note",
	music.Int(3): "dotted half note", music.Int(2): "half note", music.F(3, 2): "dotted quarter note",
	music.Int(1): "quarter note", music.F(3, 4): "dotted eighth note", music.F(1, 2): "eighth note",
	music.F(3, 8): "dotted sixteenth note", music.F(1, 4): "sixteenth note", music.F(1, 8): "thirty-second note",
}

// length names a length: "dotted quarter note"; "1/3 of a quarter note" where
// no undivided value has it.
func length(d music.Frac) string {
	if name := lengths[d]; name != "" {
		return name
	}
	return share(d)
}

// share prints a length in quarter notes.
func share(d music.Frac) string {
	switch {
	case d == music.Int(1):
		return "a quarter note"
	case d.Less(music.Int(1)):
		return d.String() + " of a quarter note"
	}
	return d.String() + " quarter notes"
}

func giver(p *score.Passage, b realize.Borrow, at music.Frac) string {
	side := "before"
	if b.After {
		side = "after"
	}
	ref, isNote := p.Find(b.Note)
	if !isNote && !b.After && at.IsZero() {
		return "before the beginning"
	}
	if !isNote {
		return "from the rest " + side
	}
	return fmt.Sprintf("from the note %s (%s)", side, pitch(p.At(ref).Pitch))
}

func traditionName(key string) string {
	for _, t := range realize.Traditions() {
		if t.Key == key {
			return t.Name
		}
	}
	return key
}
