package main

import (
	"bytes"
	"encoding/json"

	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/music"
	"agremens/realize/score"
)

// The types below are schema 1. All times are exact fractions of a quarter
// note, as strings.

type document struct {
	Schema    int            `json:"schema"`
	Title     string         `json:"title"`
	Tradition string         `json:"tradition"`
	Tempo     tempoJSON      `json:"tempo"`
	Ornaments []ornamentJSON `json:"ornaments"`
	Questions []questionJSON `json:"questions"`
	Warnings  []string       `json:"warnings"`
	// NotDrawn counts what stands in the file and not on its page.
	NotDrawn []notDrawnJSON `json:"notDrawn"`
}

type notDrawnJSON struct {
	Element string `json:"element"`
	Name    string `json:"name"`
	Count   int    `json:"count"`
}

type tempoJSON struct {
	QuartersPerMinute float64 `json:"quartersPerMinute"`
	Assumed           bool    `json:"assumed"`
}

type ornamentJSON struct {
	ID        string    `json:"id"`
	NoteID    string    `json:"noteId"`
	Part      string    `json:"part"`
	Staff     int       `json:"staff"`
	Voice     string    `json:"voice"`
	Measure   string    `json:"measure"`
	Onset     string    `json:"onset"`
	Principal pitchJSON `json:"principal"`
	Notated   string    `json:"notated"`
	// Key is the local key: "G major".
	Key    string   `json:"key"`
	Signs  []string `json:"signs"`
	Chosen int      `json:"chosen"`
	// Pass is the pass of a repeat the entry holds for, 0 for every pass.
	Pass    int          `json:"pass,omitempty"`
	Choices []choiceJSON `json:"choices"`
}

type pitchJSON struct {
	Step   string `json:"step"`
	Alter  int    `json:"alter"`
	Octave int    `json:"octave"`
	MIDI   int    `json:"midi"`
}

type choiceJSON struct {
	Name           string       `json:"name"`
	Notes          []noteJSON   `json:"notes"`
	Borrows        []borrowJSON `json:"borrows"`
	Fingering      []string     `json:"fingering"`
	Reason         string       `json:"reason"`
	Sources        []sourceJSON `json:"sources"`
	Warnings       []string     `json:"warnings"`
	NotesPerSecond float64      `json:"notesPerSecond"`
	// Fingerings are further ones to change to; Meets says which note of the
	// other hand each note meets.
	Fingerings []fingeringJSON `json:"otherFingerings"`
	Meets      []meetJSON      `json:"meets"`
}

type fingeringJSON struct {
	Fingers []string   `json:"fingers"`
	Why     string     `json:"why"`
	Source  sourceJSON `json:"source"`
}

type meetJSON struct {
	Note     int       `json:"note"` // index in notes
	NoteID   string    `json:"noteId"`
	Pitch    pitchJSON `json:"pitch"`
	Together bool      `json:"together"` // struck at once
}

type noteJSON struct {
	pitchJSON
	Onset    string `json:"onset"` // from the principal's onset
	Duration string `json:"duration"`
	// Tied notes are held over and not struck.
	Tied bool `json:"tied,omitempty"`
}

type borrowJSON struct {
	NoteID string `json:"noteId"`
	Amount string `json:"amount"`
}

type sourceJSON struct {
	Text   string `json:"text"`
	Status string `json:"status"`
}

type questionJSON struct {
	About   string `json:"about"`
	Text    string `json:"text,omitempty"`
	Assumed string `json:"assumed"`
	NoteID  string `json:"noteId,omitempty"`
	// NoteIDs are all places it is about; Options the answers, the assumed one
	// first.
	NoteIDs []string `json:"noteIds,omitempty"`
	Options []string `json:"options,omitempty"`
}

func writeJSON(w written) ([]byte, error) {
	r := w.reading
	d := document{
		Schema:    1,
		Title:     r.Passage.Title,
		Tradition: r.Tradition,
		Tempo:     tempoJSON{r.Tempo, r.TempoAssumed},
		Ornaments: jsonOrnaments(r, w.ornaments()),
		Questions: each(r.Questions, func(q realize.Question) questionJSON {
			return questionJSON{q.About, q.Text, q.Assumed, string(q.Note),
				each(q.Notes, func(id score.ID) string { return string(id) }),
				each(q.Options, func(o realize.Option) string { return o.Text })}
		}),
		Warnings: append(append([]string{}, w.opened.Warnings...), r.Warnings...),
		NotDrawn: each(w.opened.NotDrawn, func(n codec.NotDrawn) notDrawnJSON { return notDrawnJSON(n) }),
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	err := enc.Encode(d)
	return b.Bytes(), err
}

// jsonOrnaments lists each ornament once, or where what is decided differs by
// pass of a repeat once for each pass.
func jsonOrnaments(r *realize.Reading, ornaments []realize.Ornament) []ornamentJSON {
	out := []ornamentJSON{}
	for _, o := range ornaments {
		entry := jsonOrnament(r, o)
		last := 0
		for _, p := range o.Passes {
			last = max(2, p.Pass)
		}
		for pass := 1; pass <= last; pass++ {
			entry.Pass, entry.Chosen = pass, o.ChosenIn(pass)
			out = append(out, entry)
		}
		if last == 0 {
			out = append(out, entry)
		}
	}
	return out
}

func jsonOrnament(r *realize.Reading, o realize.Ornament) ornamentJSON {
	return ornamentJSON{
		ID:        o.ID,
		NoteID:    string(o.Note),
		Part:      r.Passage.Part,
		Staff:     o.Staff,
		Voice:     o.Voice,
		Measure:   r.Passage.Measures[o.Measure].Number,
		Onset:     o.Onset.String(),
		Principal: jsonPitch(o.Principal),
		Notated:   o.Notated.String(),
		Key:       o.Key.String(),
		Signs:     append([]string{}, o.Signs...),
		Chosen:    o.Chosen,
		Choices:   each(o.Choices, jsonChoice),
	}
}

func jsonChoice(c realize.Choice) choiceJSON {
	return choiceJSON{
		Name: c.Name,
		Notes: each(c.Notes, func(n realize.Note) noteJSON {
			return noteJSON{jsonPitch(n.Pitch), n.Onset.String(), n.Dur.String(), n.Tied}
		}),
		Borrows: each(c.Borrows, func(b realize.Borrow) borrowJSON {
			return borrowJSON{string(b.Note), b.Amount.String()}
		}),
		Fingering: append([]string{}, c.Fingering...),
		Reason:    c.Reason,
		Sources: each(c.Sources, func(s realize.Source) sourceJSON {
			return sourceJSON{s.Text, string(s.Status)}
		}),
		Warnings:       append([]string{}, c.Warnings...),
		NotesPerSecond: c.NotesPerSecond,
		Fingerings: each(c.Fingerings[min(1, len(c.Fingerings)):], func(f realize.Fingering) fingeringJSON {
			return fingeringJSON{f.Fingers, f.Why, sourceJSON{f.Source.Text, string(f.Source.Status)}}
		}),
		Meets: each(c.Meetings, func(m realize.Meeting) meetJSON {
			return meetJSON{m.Note, string(m.Other), jsonPitch(m.Pitch), m.Together}
		}),
	}
}

func jsonPitch(p music.Pitch) pitchJSON {
	return pitchJSON{p.Step.String(), int(p.Alter), int(p.Octave), p.MIDI()}
}

// each maps a slice; the result is never nil, so that JSON has a list.
func each[A, B any](in []A, f func(A) B) []B {
	out := make([]B, len(in))
	for i, a := range in {
		out[i] = f(a)
	}
	return out
}
