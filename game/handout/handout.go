// Package handout makes what is printed: the practice sheet of a task and the
// answers to "why like that?". It is pure; the page puts it on paper.
package handout

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/game/practice"
	"agremens/game/week"
)

// Handout is one practice sheet: one side of paper, and the music of a long
// passage on sides that follow.
type Handout struct {
	Title, Byline, Words string
	// Music is the printed line and the line as played, with the counting
	// under the notes, in SVG. A passage that is too long for it stands on
	// Sides of its own, and Music is nil.
	Music []byte
	Sides [][]byte
	Rows  []Row
	// Sources are those of all rows, each once and with its number: "[1] …".
	Sources []string
	// Tempos are the steps to tick, in beats a minute, the goal last.
	Tempos []string
	Kinds  []string
	// Week is an empty week to fill in, in SVG.
	Week []byte
}

// Row is one ornament: what is played and why.
type Row struct {
	Heading string // "Bar 3, mordent"
	Notes   string
	Why     string
	Sources string
	Numbers string // of its sources on the sheet, "[1, 3]"; "" for none
	// Played is what is played, in SVG.
	Played []byte
}

// width is that of the music in staff spaces: a side of paper at a staff of
// seven millimetres, which reads well at the piano.
const width = 100

// Make writes the sheet of what lies on a desk, for a student to read: what is
// decided there is her teacher's. words and kinds are too.
func Make(teachers *desk.Desk, words string, kinds []string) Handout {
	students := *teachers
	d := &students
	d.SetTaught(true)
	h := Handout{Title: d.Passage.Title, Words: strings.TrimSpace(words), Byline: byline(d)}
	if h.Title == "" {
		h.Title = d.Words.Say("Untitled")
	}
	l := engrave.Page(d.Passage, d.Reading, width, engrave.Options{From: d.From, To: d.To, Played: true})
	if l.Bottom-l.Top <= besideRows {
		h.Music = counted(l, d.Passage, h.Title)
	} else {
		for _, part := range sides(l, d.Passage) {
			h.Sides = append(h.Sides, counted(part, d.Passage, h.Title))
		}
	}
	for _, i := range d.Inside() {
		at := *d
		at.Select(i)
		w, ok := at.Sign()
		if !ok {
			continue
		}
		o, _ := at.Ornament()
		h.Rows = append(h.Rows, Row{
			Heading: w.Heading, Notes: w.Notes, Why: w.Why, Sources: strings.Join(w.Sources, "; "), Numbers: h.number(w.Sources),
			Played: engrave.SVG(engrave.Preview(d.Passage, d.Reading, o.ID, o.Chosen), engrave.SVGOptions{}),
		})
	}
	h.Tempos = tempos(d.Beats(), d.Goal())
	if first, err := strconv.ParseFloat(h.Tempos[0], 64); err == nil {
		h.Week = []byte(week.ToFill(first, d.Goal()).SVG(d.Words, week.Large))
	}
	for _, key := range kinds {
		if k, ok := practice.Find(key); ok {
			h.Kinds = append(h.Kinds, d.Words.Say(k.Name))
		}
	}
	return h
}

// number returns the numbers of sources on the sheet, new ones at its end.
func (h *Handout) number(sources []string) string {
	var all []string
	for _, source := range sources {
		n := 1 + slices.IndexFunc(h.Sources, func(s string) bool { return strings.HasSuffix(s, "] "+source) })
		if n == 0 {
			n = 1 + len(h.Sources)
			h.Sources = append(h.Sources, fmt.Sprintf("[%d] %s", n, source))
		}
		all = append(all, strconv.Itoa(n))
	}
	if len(all) == 0 {
		return ""
	}
	return "[" + strings.Join(all, ", ") + "]"
}

func byline(d *desk.Desk) string {
	parts := []string{}
	if d.Passage.Composer != "" {
		parts = append(parts, d.Passage.Composer)
	}
	parts = append(parts, d.Words.Say("bars {bars}", "{bars}", strings.ReplaceAll(d.Bars(), "-", "–")))
	parts = append(parts, d.Words.Say("goal {beat} = {tempo}", "{beat}", d.BeatWord(), "{tempo}", d.Words.Number(d.Goal(), 0)))
	return strings.Join(parts, " · ")
}

// steps is how many tempos stand on a sheet at most.
const steps = 8

// tempos goes from a first tempo to the goal in even shares, as a metronome
// shows them. A first tempo that is no slower than the goal is the only one.
func tempos(first, goal float64) []string {
	if first >= goal-1 {
		first = goal * 0.6
	}
	n := min(steps-1, max(1, int(math.Round(math.Log(goal/first)/math.Log(1.08)))))
	var all []string
	last := ""
	for i := range n + 1 {
		word := fmt.Sprintf("%.0f", first*math.Pow(goal/first, float64(i)/float64(n)))
		if word != last {
			all = append(all, word)
		}
		last = word
	}
	return all
}
