package main

import (
	"bytes"
	"fmt"
	"strings"

	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/music"
	"agremens/realize/score"
)

// writeText writes a reading for a person.
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
	assumed := ""
	if r.TempoAssumed {
		assumed = " (assumed: the score gives none)"
	}
	fmt.Fprintf(&b, "%s\n%s\ntradition: %s\ntempo: %g quarter notes a minute%s\n", title, codec.About(nil, w.opened, r), traditionName(r.Tradition), r.Tempo, assumed)
	ornaments := w.ornaments()
	if len(ornaments) == 0 {
		b.WriteString("\nThere are no ornaments in these bars.\n")
	}
	for _, o := range ornaments {
		textOrnament(&b, r, o)
	}
	if len(r.Questions) > 0 {
		b.WriteString("\nAssumed; please check:\n")
		for _, q := range r.Questions {
			fmt.Fprintf(&b, "  %s: %s\n", q.About, strings.Join(nonEmpty(q.Text, q.Assumed), " "))
		}
	}
	if warnings := append(append([]string{}, w.opened.Warnings...), r.Warnings...); len(warnings) > 0 {
		b.WriteString("\nLost or uncertain:\n")
		for _, text := range warnings {
			fmt.Fprintf(&b, "  %s\n", text)
		}
	}
	return b.Bytes(), nil
}

func textOrnament(b *bytes.Buffer, r *realize.Reading, o realize.Ornament) {
	fmt.Fprintf(b, "\nmeasure %s, staff %d, %v %s: %s\n", r.Passage.Measures[o.Measure].Number, o.Staff,
		o.Principal, value(o.Notated), strings.Join(o.Signs, ", "))
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
			fmt.Fprintf(b, "      source: %s (%s)\n", s.Text, s.Status)
		}
		for _, borrow := range c.Borrows {
			fmt.Fprintf(b, "      takes %s %s\n", value(borrow.Amount), giver(r.Passage, borrow, o.Onset))
		}
		for _, warning := range c.Warnings {
			fmt.Fprintf(b, "      note: %s\n", warning)
		}
	}
}

// notes prints the notes of a choice with their values in quarters, and
// where they start if not on the beat.
func notes(c realize.Choice) string {
	var out []string
	for i, n := range c.Notes {
		text := fmt.Sprintf("%v %v", n.Pitch, n.Dur)
		if n.Tied {
			text = "(" + text + ")"
		}
		if i == 0 && !n.Onset.IsZero() {
			text = fmt.Sprintf("from %v: %s", n.Onset, text)
		}
		out = append(out, text)
	}
	return strings.Join(out, "  ")
}

// value prints a length in quarters.
func value(d music.Frac) string {
	if d == music.Int(1) {
		return "1 quarter"
	}
	return d.String() + " quarters"
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
	return fmt.Sprintf("from the note %s (%v)", side, p.At(ref).Pitch)
}

func traditionName(key string) string {
	for _, t := range realize.Traditions() {
		if t.Key == key {
			return t.Name
		}
	}
	return key
}

func nonEmpty(parts ...string) []string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return kept
}
