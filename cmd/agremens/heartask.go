package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/hear"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// task is what may be played, in one or more ways.
type task struct {
	ways   []way
	places map[string]string // of each note, as exact fractions
	clicks *clicksJSON
	beat   beatOf
}

// way is one way to play, and its choice at each ornament.
type way struct {
	expected hear.Expected
	about    []tap.Want          // what the score says of each note, nil where there is none
	choices  map[string]choiceOf // by ornament
}

type choiceOf struct {
	note   string // id of the principal
	choice int
	place  string // for people
}

// expectJSON is the file of -expect, schema 1.
type expectJSON struct {
	Schema int     `json:"schema"`
	Tempo  float64 `json:"tempo"`
	About  float64 `json:"quarters_per_minute_about"`
	Notes  []struct {
		ID       string  `json:"id"`
		MIDI     int     `json:"midi"`
		Q        float64 `json:"q"`
		Hand     string  `json:"hand"`
		Ornament bool    `json:"orn"`
	} `json:"notes"`
	Ornament struct {
		Note        string   `json:"note"`
		Quarter     float64  `json:"quarter"`
		Landing     string   `json:"landing"`
		Refs        []string `json:"refs"`
		LandingRefs []string `json:"landing_refs"`
	} `json:"ornament"`
	Clicks  *clicksJSON `json:"clicks"`
	Program []struct {
		ID   string  `json:"id"`
		MIDI int     `json:"midi"`
		Sent float64 `json:"sent_s"`
	} `json:"program_notes"`
}

type clicksJSON struct {
	First float64 `json:"first_s"`
	Every float64 `json:"every_s"`
	Count int     `json:"count"`
	Bar   float64 `json:"bar1_s"`
}

func (q listening) task() (*task, error) {
	if q.expect != "" {
		return q.taskFromFile()
	}
	data, err := os.ReadFile(q.score)
	if err != nil {
		return nil, fmt.Errorf("%w — give the path of a .musicxml, .xml, .mxl, .krn or .abc file", err)
	}
	opened, err := codec.Open(data, "", nil)
	if err != nil {
		return nil, fmt.Errorf("%s: %s", q.score, strings.TrimSpace(codec.Words(err)))
	}
	from, to, err := measureRange(opened.Passage, q.bars)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", q.score, err)
	}
	r := realize.Read(opened.Passage, realize.Taste{})
	t := &task{places: map[string]string{}, beat: beatIn(opened.Passage, from, q)}
	t.add(r, from, to, q)
	// The other good ways, one ornament at a time.
	for i := range r.Ornaments {
		o := r.Ornaments[i]
		if o.Measure < from || o.Measure >= to {
			continue
		}
		for c := range o.Choices {
			if c != o.Chosen {
				other := *r
				other.Ornaments = append([]realize.Ornament(nil), r.Ornaments...)
				other.Ornaments[i].Chosen = c
				t.add(&other, from, to, q)
			}
		}
	}
	return t, nil
}

// mostWays bounds how many ways to play are compared.
const mostWays = 40

func (t *task) add(r *realize.Reading, from, to int, q listening) {
	if len(t.ways) >= mostWays {
		return
	}
	p := r.Passage
	begin, end := p.Measures[from].Onset, p.Measures[to-1].Onset.Add(p.Measures[to-1].Length)
	w := way{choices: map[string]choiceOf{}}
	w.expected.Tempo, w.expected.About = q.tempo, r.Tempo
	inside, names := map[string]bool{}, map[string]string{}
	for _, o := range r.Ornaments {
		if o.Chosen >= 0 && o.Chosen < len(o.Choices) {
			names[o.ID] = o.Choices[o.Chosen].Name
		}
		if o.Measure >= from && o.Measure < to {
			inside[o.ID] = true
			w.choices[o.ID] = choiceOf{string(o.Note), o.Chosen, fmt.Sprintf("Bar %s, %s hand, %s", p.Measures[o.Measure].Number, handName(handOf(o.Staff)), o.Principal)}
		}
	}
	for _, n := range realize.Perform(r, realize.PerformOptions{}).Notes {
		own := n.Ornament != "" && inside[n.Ornament]
		if !own && (n.Onset.Less(begin) || end.Less(n.Onset)) {
			continue
		}
		id := string(n.From)
		if n.Ornament != "" {
			id += "." + strconv.Itoa(n.Index+1)
		}
		at := n.Onset.Sub(begin)
		t.places[id] = at.String()
		note := hear.Note{ID: id, Key: n.Pitch.MIDI(), At: at.Float(), Hand: n.Hand, Ornament: n.Ornament}
		if !own {
			note.Ornament = "" // it lands there, and what follows is not asked for
		}
		if q.sounded == handName(n.Hand) {
			note.Program, note.Sent = true, math.NaN()
		}
		w.expected.Notes = append(w.expected.Notes, note)
		w.about = append(w.about, tap.Want{Onset: n.Onset, Written: n.Onset, Note: n.From, Name: names[n.Ornament], Degree: n.Degree, Measured: n.Measured})
	}
	t.ways = append(t.ways, w)
}

func handOf(staff int) perf.Hand {
	if staff == 2 {
		return perf.Left
	}
	return perf.Right
}

func handName(h perf.Hand) string {
	if h == perf.Left {
		return "left"
	}
	return "right"
}

func (q listening) taskFromFile() (*task, error) {
	data, err := os.ReadFile(q.expect)
	if err != nil {
		return nil, fmt.Errorf("-expect: %w", err)
	}
	var e expectJSON
	if err := json.Unmarshal(data, &e); err != nil {
		return nil, fmt.Errorf("-expect %s: %w", q.expect, err)
	}
	if e.Schema != 1 {
		return nil, fmt.Errorf("-expect %s: its schema is %d, not 1", q.expect, e.Schema)
	}
	w := way{choices: map[string]choiceOf{"o": {note: e.Ornament.Note}}}
	w.expected.Tempo, w.expected.About = q.tempo, e.About
	if q.tempo == 0 {
		w.expected.Tempo = e.Tempo
	}
	t := &task{places: map[string]string{}, clicks: e.Clicks, beat: beatOf{every: 1, quarter: 60 / w.expected.Tempo}}
	for _, n := range e.Notes {
		note := hear.Note{ID: n.ID, Key: n.MIDI, At: n.Q}
		if n.Hand == "left" {
			note.Hand = perf.Left
		}
		if n.Ornament {
			note.Ornament = "o"
		}
		t.places[n.ID] = fraction(n.Q)
		if q.sounded == n.Hand {
			note.Program, note.Sent = true, math.NaN()
		}
		w.expected.Notes = append(w.expected.Notes, note)
	}
	w.programNotes(e)
	t.ways = []way{w}
	return t, nil
}

// programNotes adds the notes that the loudspeaker sounded. The file says of
// those alone where they stand against which the ornament is held.
func (w *way) programNotes(e expectJSON) {
	known := map[string]int{}
	for i, n := range w.expected.Notes {
		known[n.ID] = i
	}
	for _, p := range e.Program {
		if i, ok := known[p.ID]; ok && p.ID != "" {
			w.expected.Notes[i].Program, w.expected.Notes[i].Sent = true, p.Sent
			continue
		}
		n := hear.Note{ID: p.ID, Key: p.MIDI, At: math.NaN(), Program: true, Sent: p.Sent}
		if i, ok := known[e.Ornament.Landing]; ok {
			n.Hand = 1 - w.expected.Notes[i].Hand
			if slices.Contains(e.Ornament.LandingRefs, p.ID) {
				n.At = w.expected.Notes[i].At
			}
		}
		if slices.Contains(e.Ornament.Refs, p.ID) {
			n.At = e.Ornament.Quarter
		}
		w.expected.Notes = append(w.expected.Notes, n)
	}
}

// fraction is the simplest fraction of a quarter near x.
func fraction(x float64) string {
	for _, den := range []int64{1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96} {
		if n := math.Round(x * float64(den)); math.Abs(n-x*float64(den)) < 0.002*float64(den) {
			return music.F(int64(n), den).String()
		}
	}
	return strconv.FormatFloat(x, 'f', 4, 64)
}

func handNamed(name string) perf.Hand {
	if name == "left" {
		return perf.Left
	}
	return perf.Right
}

// oneHand is what may be played where the other hand rests: its notes keep
// their places below the keyboard. some is false where one hand is all there is.
func (w *way) oneHand(hand perf.Hand) (e hear.Expected, some bool) {
	e = w.expected
	e.Notes = append([]hear.Note(nil), e.Notes...)
	both := [2]bool{}
	for i := range e.Notes {
		if n := &e.Notes[i]; !n.Program {
			both[n.Hand] = true
			if n.Hand != hand {
				n.Key = -1
			}
		}
	}
	return e, both[0] && both[1]
}

// place is where a note stands, in quarters from the first bar.
func (t *task) place(n hear.Note) string {
	if text, ok := t.places[n.ID]; ok {
		return text
	}
	if math.IsNaN(n.At) {
		return ""
	}
	return fraction(n.At)
}
