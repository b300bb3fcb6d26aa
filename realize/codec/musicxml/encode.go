package musicxml

import (
	"fmt"
	"slices"
	"strconv"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// Encode writes a passage as a partwise MusicXML 4.0 score, its ornament signs
// kept. Decoding the result gives the passage again, but for ids that are no
// XML names. The error is that of [score.Passage.Check].
func Encode(p *score.Passage) ([]byte, error) {
	if err := p.Check(); err != nil {
		return nil, fmt.Errorf("musicxml: %w", err)
	}
	w := &encoder{p: p}
	w.plan()
	w.line(`<?xml version="1.0" encoding="UTF-8"?>`)
	w.line(`<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">`)
	w.start("score-partwise", "version", "4.0")
	w.heading()
	w.start("part", "id", w.partID)
	for i := range p.Measures {
		w.measure(i)
	}
	w.end()
	w.end()
	return w.buf, nil
}

// encoder writes a passage.
type encoder struct {
	markup
	p         *score.Passage
	partID    string
	divisions int64
	lines     [][]voiceLine // of each measure
	noteIDs   map[score.ID]bool

	slurs   map[int][]numbered // by chord
	tuplets map[int][]numbered
	events  [][]event // of each measure, in order of onset
	key     music.Key // in force
	metre   music.Metre
	ending  []int
}

// voiceLine is a voice within a measure: its chords in order.
type voiceLine struct {
	name   string
	chords []int
}

// numbered is the start or stop of a line with its MusicXML number.
type numbered struct {
	index  int // into the passage's Slurs or Tuplets
	number int
	stop   bool
}

// plan settles what must be known before the first measure is written.
func (w *encoder) plan() {
	p := w.p
	w.partID = "P1"
	if xmlName(p.Part) {
		w.partID = p.Part
	}
	var common music.Common
	for i := range p.Chords {
		c := &p.Chords[i]
		common.Take(c.Onset)
		common.Take(c.Dur)
		if c.Grace != nil {
			common.Take(c.Grace.MakeTime)
		}
	}
	for i := range p.Measures {
		common.Take(p.Measures[i].Onset)
		common.Take(p.Measures[i].Length)
	}
	w.divisions = common.Den()
	w.noteIDs = map[score.ID]bool{}
	w.planLines()
	w.planNumbers()
	w.planEvents()
}

// planLines splits each measure into voices, the upper staff's first.
func (w *encoder) planLines() {
	p := w.p
	w.lines = make([][]voiceLine, len(p.Measures))
	for i := range p.Chords {
		c := &p.Chords[i]
		lines := w.lines[c.Measure]
		at := slices.IndexFunc(lines, func(l voiceLine) bool { return l.name == c.Voice })
		if at < 0 {
			at = len(lines)
			w.lines[c.Measure] = append(lines, voiceLine{name: c.Voice})
		}
		w.lines[c.Measure][at].chords = append(w.lines[c.Measure][at].chords, i)
	}
	for _, lines := range w.lines {
		sorting.Stable(lines, func(a, b voiceLine) int {
			return p.Chords[a.chords[0]].Staff - p.Chords[b.chords[0]].Staff
		})
	}
}

func (w *encoder) heading() {
	p := w.p
	if p.Title != "" {
		w.start("work")
		w.text("work-title", p.Title)
		w.end()
	}
	w.start("identification")
	if p.Composer != "" {
		w.text("creator", p.Composer, "type", "composer")
	}
	w.start("encoding")
	w.text("software", "Agremens")
	w.end()
	if p.Year != 0 {
		w.start("miscellaneous")
		w.text("miscellaneous-field", strconv.Itoa(p.Year), "name", yearField)
		w.end()
	}
	w.end()
	w.start("part-list")
	w.start("score-part", "id", w.partID)
	w.text("part-name", "Keyboard")
	w.end()
	w.end()
}

// yearField is the miscellaneous field that keeps the year of composition.
const yearField = "year-composed"

func (w *encoder) measure(i int) {
	m := &w.p.Measures[i]
	attrs := []string{"number", m.Number}
	if m.Implicit {
		attrs = append(attrs, "implicit", "yes")
	}
	w.start("measure", attrs...)
	if m.NewSystem {
		w.empty("print", "new-system", "yes")
	}
	w.attributes(i)
	w.leftBarline(i)
	w.voices(i)
	w.rightBarline(i)
	w.end()
}

// voices writes the voices of a measure one after the other, and between
// their chords what is at those onsets.
func (w *encoder) voices(i int) {
	m := &w.p.Measures[i]
	now, furthest := m.Onset, m.Onset
	events := w.events[i]
	for _, l := range w.lines[i] {
		w.move(now, m.Onset)
		now = m.Onset
		for _, k := range l.chords {
			c := &w.p.Chords[k]
			w.move(now, c.Onset)
			events = w.eventsAt(events, c)
			w.chord(k)
			now = c.End()
			furthest = furthest.Max(now)
		}
	}
	for _, e := range events {
		w.move(now, e.onset)
		now = e.onset
		e.write()
		furthest = furthest.Max(now)
	}
	if furthest.Less(m.End()) {
		w.move(now, m.End())
	}
}

// eventsAt writes the events that stand where chord c begins, on its staff,
// and returns those that are left.
func (w *encoder) eventsAt(events []event, c *score.Chord) []event {
	var left []event
	for _, e := range events {
		if e.onset != c.Onset || e.staff != c.Staff {
			left = append(left, e)
			continue
		}
		e.write()
	}
	return left
}

// move writes the step from one onset to another.
func (w *encoder) move(from, to music.Frac) {
	d := to.Sub(from)
	switch d.Sign() {
	case 1:
		w.start("forward")
		w.text("duration", w.ticks(d))
		w.end()
	case -1:
		w.start("backup")
		w.text("duration", w.ticks(d.Neg()))
		w.end()
	}
}

// ticks writes a length in divisions.
func (w *encoder) ticks(d music.Frac) string {
	if w.divisions%d.Den() == 0 {
		return strconv.FormatInt(d.Num()*(w.divisions/d.Den()), 10)
	}
	// Beyond the common denominator: as near as divisions allow.
	return strconv.FormatInt(int64(d.Float()*float64(w.divisions)+0.5), 10)
}
