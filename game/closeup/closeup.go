// Package closeup shows one ornament of a tapped round large: its notes, an
// upright where each was wanted, and the dot of the tap that was made for it,
// with a word where it matters. It is pure; the page shows it after a round.
package closeup

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/realize/words"
)

// Verdict is what a note's tap is called.
type Verdict int8

// Verdicts. A note without one is a plain dot: only where it begins and lands,
// and the one that stands out most, have a word.
const (
	None Verdict = iota
	OnBeat
	Early
	Late
	Lands
	Missed
)

// Note is one note of the ornament, or the one it lands on.
type Note struct {
	Degree int     // scale steps from the principal
	Wanted float64 // ms from the first note
	// Off is how late it was tapped, ms, the player's own lead taken out.
	Off     float64
	Tapped  bool
	Landing bool
	Verdict Verdict
}

// Figure is an ornament as it was tapped.
type Figure struct {
	Ornament string // its id
	Name     string // in the terms of the trade, "" for plain notes
	Notes    []Note // two or more
	// Who is the hand that tapped where two players did, in words, "" nobody.
	Who string
	// Before is how it was tapped on an earlier day, or by the teacher; nil
	// unknown.
	Before *Row
}

// most is how many notes are drawn: of a longer trill the first ones and the
// landing.
const most = 16

// Of returns the figure that a result speaks of: the ornament of its first
// finding, else the one whose start was furthest off, else the first plain
// notes. wants and taps are what was judged. ok is false where nothing was
// tapped or the round does not count.
func Of(r *tap.Result, wants []tap.Want, taps []tap.Tap) (f Figure, ok bool) {
	if !counts(r, wants) {
		return f, false
	}
	from, until := place(r, wants)
	return figure(r, wants, from, until)
}

// Each returns a figure of every ornament of a round, in their order.
func Each(r *tap.Result, wants []tap.Want) (all []Figure) {
	if !counts(r, wants) {
		return nil
	}
	for i := range r.Ornaments {
		from, until := placeOf(&r.Ornaments[i], wants)
		if f, ok := figure(r, wants, from, until); ok {
			all = append(all, f)
		}
	}
	return all
}

// counts reports whether there is something to show.
func counts(r *tap.Result, wants []tap.Want) bool {
	return r != nil && r.Spoilt == "" && r.Hit > 0 && len(wants) > 0
}

// figure is what stands between two wants, the second of which it lands on.
func figure(r *tap.Result, wants []tap.Want, from, until int) (f Figure, ok bool) {
	f.Ornament, f.Name = wants[from].Ornament, wants[from].Name
	hand, lead := wants[from].Hand, r.Leads[wants[from].Hand].MS
	off := map[int]float64{}
	for _, m := range r.Marks {
		if m.Want >= 0 && m.Tap >= 0 {
			off[m.Want] = m.ErrorMS - lead
		}
	}
	landed := false
	for i := from; i < len(wants) && !landed; i++ {
		w := &wants[i]
		if w.Hand != hand || w.Tied {
			continue
		}
		landed = i >= until
		if len(f.Notes) >= most-1 && !landed {
			continue
		}
		ms, tapped := off[i]
		if !tapped && !w.Measured && w.Ornament != "" && !landed {
			continue // what a free trill leaves open
		}
		f.Notes = append(f.Notes, Note{Degree: w.Degree, Wanted: w.At - wants[from].At, Off: ms, Tapped: tapped, Landing: landed && f.Ornament != ""})
	}
	if len(f.Notes) < 2 {
		return f, false
	}
	f.judge(beatOf(r, wants))
	return f, true
}

// place is where the figure's first want stands, and the first one after it.
func place(r *tap.Result, wants []tap.Want) (from, until int) {
	if len(r.Ornaments) == 0 {
		return 0, min(3, len(wants)-1)
	}
	chosen := &r.Ornaments[0]
	for i := range r.Ornaments {
		if o := &r.Ornaments[i]; o.Start.Known && math.Abs(o.Start.V) > math.Abs(chosen.Start.V) {
			chosen = o
		}
	}
	if len(r.Findings) > 0 && r.Findings[0].Ornament != "" {
		for i := range r.Ornaments {
			if r.Ornaments[i].Ornament == r.Findings[0].Ornament {
				chosen = &r.Ornaments[i]
				break
			}
		}
	}
	return placeOf(chosen, wants)
}

// placeOf is where an ornament's first want stands, and the first one after it.
func placeOf(chosen *tap.OrnamentResult, wants []tap.Want) (from, until int) {
	from = slices.IndexFunc(wants, func(w tap.Want) bool {
		return w.Ornament == chosen.Ornament && w.Hand == chosen.Hand && !w.Tied && math.Abs(w.At-chosen.At) < 1
	})
	if from < 0 {
		from = max(0, slices.IndexFunc(wants, func(w tap.Want) bool { return w.Ornament == chosen.Ornament && !w.Tied }))
	}
	until = from + 1
	for until < len(wants) && (wants[until].Ornament == chosen.Ornament || wants[until].Hand != wants[from].Hand) {
		until++
	}
	return from, until
}

// Tolerances, ms. The first is that of a clean round (see [tap.Result.Clean]);
// a quick note stands out by a third of its length.
const (
	together   = 40.0
	beatShare  = 0.05
	quickShare = 1.0 / 3
	leastOut   = 25.0
)

// beatOf is a felt beat's length, ms, as far as the wants tell it.
func beatOf(r *tap.Result, wants []tap.Want) float64 {
	last := -1.0
	for _, w := range wants {
		if !w.Beat || w.Hand != wants[0].Hand && last < 0 {
			continue
		}
		if last >= 0 && w.At > last+1 {
			return w.At - last
		}
		last = w.At
	}
	return 0
}

func (f *Figure) judge(beat float64) {
	near := max(together, beatShare*beat)
	worst, most := -1, 0.0
	for i := range f.Notes {
		n := &f.Notes[i]
		switch {
		case !n.Tapped:
			n.Verdict = Missed
		case i == 0:
			n.Verdict = verdict(n.Off, near, OnBeat)
		case n.Landing:
			n.Verdict = verdict(n.Off, near, Lands)
		default:
			quick := n.Wanted - f.Notes[i-1].Wanted
			if out := math.Abs(n.Off) - max(leastOut, min(near, quickShare*quick)); out > most {
				worst, most = i, out
			}
		}
	}
	if worst >= 0 {
		f.Notes[worst].Verdict = verdict(f.Notes[worst].Off, 0, None)
	}
}

func verdict(off, near float64, on Verdict) Verdict {
	switch {
	case off > near:
		return Late
	case off < -near:
		return Early
	}
	return on
}

// Word says a note's verdict, "" for none.
func (n Note) Word(c *words.Catalogue) string {
	switch n.Verdict {
	case OnBeat:
		return c.Say("on the beat")
	case Early:
		return c.Say("early")
	case Late:
		return c.Say("late")
	case Lands:
		return c.Say("lands")
	case Missed:
		return c.Say("missed")
	}
	return ""
}

// Text says the figure to whoever does not see it: "Note 1: on the beat; note
// 2: late; landing: lands."
func (f Figure) Text(c *words.Catalogue) string {
	text := f.said(c)
	if f.Who != "" {
		text = f.Who + ": " + text
	}
	if f.Before != nil {
		text += " " + f.Before.label(c) + "."
	}
	return text
}

func (f Figure) said(c *words.Catalogue) string {
	var parts []string
	for i, n := range f.Notes {
		word := n.Word(c)
		if word == "" {
			continue
		}
		if n.Landing {
			parts = append(parts, c.Say("the next note: {word}", "{word}", word))
			continue
		}
		parts = append(parts, c.Say("note {n}: {word}", "{n}", strconv.Itoa(i+1), "{word}", word))
	}
	return words.Sentence(strings.Join(parts, "; ") + ".")
}

// Hands parts what was tapped by two players, a figure each: what one taps must
// not hide the other's. A hand that tapped nothing has none.
func Hands(r *tap.Result, wants []tap.Want, taps []tap.Tap) (all [2]Figure, ok [2]bool) {
	for hand := range all {
		one := *r
		one.Ornaments, one.Findings, one.Marks = nil, nil, nil
		var mine []tap.Want
		index := map[int]int{}
		for i, w := range wants {
			if w.Hand == perf.Hand(hand) {
				index[i] = len(mine)
				mine = append(mine, w)
			}
		}
		one.Hit = 0
		for _, m := range r.Marks {
			if at, is := index[m.Want]; is {
				m.Want = at
				one.Marks = append(one.Marks, m)
				if m.Tap >= 0 {
					one.Hit++
				}
			}
		}
		for _, o := range r.Ornaments {
			if o.Hand == perf.Hand(hand) {
				one.Ornaments = append(one.Ornaments, o)
			}
		}
		if ok[hand] = len(mine) > 0; ok[hand] {
			all[hand], ok[hand] = Of(&one, mine, taps)
		}
	}
	return all, ok
}
