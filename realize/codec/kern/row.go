package kern

import (
	"slices"
	"strings"

	"agremens/realize/codec/told"
	"agremens/realize/music"
	"agremens/realize/score"
)

// row reads a line of data: what is struck at one moment.
func (r *reader) row(fields []string) error {
	tokens := make([][]note, len(fields))
	struck, small := false, false
	for i, f := range fields {
		c := r.columns[i]
		if !c.isNotes() || f == "." || f == "" {
			continue
		}
		tokens[i] = r.token(i, f)
		switch {
		case tokens[i] == nil:
			c.loose = true
		case tokens[i][0].grace > 0:
			small = true
		default:
			struck = true
		}
	}
	if struck {
		r.now = r.moment(tokens)
	} else if small {
		r.now = r.between(tokens)
	}
	r.current()
	if struck || small {
		r.settle()
	}
	// What a column of dynamics says here, letters in the notes need not repeat.
	r.leveled = false
	for i, f := range fields {
		r.leveled = r.leveled || r.columns[i].kind == "dynam" && strings.ContainsAny(f, "fz")
	}
	for i, notes := range tokens {
		if notes == nil {
			continue
		}
		if err := r.place(i, notes); err != nil {
			return err
		}
	}
	for i, f := range fields {
		if c := r.columns[i]; c.kind == "dynam" && f != "." && f != "" {
			r.dynamics(c, f)
		} else if c.kind != "kern" && c.kind != "" && f != "." && f != "" {
			r.left.Add("**" + clip(c.kind))
		}
		if tokens[i] != nil {
			r.columns[i].hints = nil
		}
	}
	if len(r.marks) > maxMarks {
		return fail(r.spot(-1), mendSplit, "the score holds more than {n} marks", "{n}", number(maxMarks))
	}
	return nil
}

// token reads the notes of a field; nil where it holds none that can be read.
func (r *reader) token(i int, text string) []note {
	var notes []note
	for _, part := range strings.Split(text, " ") {
		if part == "" || part == "." {
			continue
		}
		n, ok := parseNote(part, r.letters)
		if !ok {
			r.warn(i, "“{text}” is not a note that can be read; it was left out", "{text}", clip(part))
			continue
		}
		if n.unknown != "" {
			r.warn(i, "the letters “{text}” in a note have no meaning here", "{text}", clip(n.unknown))
		}
		if n.twice {
			r.warn(i, "a note has two lengths; the first counts")
		}
		if n.unpitched {
			r.warn(i, "a note without a pitch was left out; a rest stands for it")
		}
		notes = append(notes, n)
	}
	if len(notes) == 0 {
		return nil
	}
	head := &notes[0]
	for k := range notes {
		if notes[k].length.given {
			head.length = notes[k].length
			break
		}
	}
	if head.grace > 0 && (!head.length.given || head.length.value.Type == score.Unspecified) {
		head.length = length{given: true, value: score.Value{Type: score.Eighth}}
	}
	if !head.length.given {
		r.warn(i, "“{text}” has no length; it was left out", "{text}", clip(text))
		return nil
	}
	for k := range notes {
		if notes[k].length.given && notes[k].length.quarters != head.length.quarters && head.grace == 0 {
			r.warn(i, "the notes of a chord have different lengths; the first counts")
			break
		}
	}
	return notes
}

// moment returns when the notes of a row begin: where the last notes of their
// columns end. Where columns disagree most of them are believed, and of as
// many the later.
func (r *reader) moment(tokens [][]note) music.Frac {
	votes := map[music.Frac]int{}
	var best music.Frac
	any := false
	for i, notes := range tokens {
		c := r.columns[i]
		if notes == nil || notes[0].grace > 0 || c.loose {
			continue
		}
		votes[c.busy]++
		if n, most := votes[c.busy], votes[best]; !any || n > most || n == most && best.Less(c.busy) {
			best = c.busy
		}
		any = true
	}
	if !any {
		return r.next()
	}
	if len(votes) > 1 {
		r.warn(-1, "the lengths of the notes do not add up: the columns reach this line at different times")
	}
	if best.Less(r.now) {
		best = r.now
	}
	return best
}

// next is the first end of a note after the last row, else that row's time.
func (r *reader) next() music.Frac {
	if r.rows == 0 {
		return music.Frac{}
	}
	var first music.Frac
	any := false
	for _, c := range r.columns {
		if c.isNotes() && !c.loose && r.now.Less(c.busy) && (!any || c.busy.Less(first)) {
			first, any = c.busy, true
		}
	}
	if !any {
		return r.now
	}
	return first
}

// between is when small notes that stand alone in their row begin: where the
// note before them ends.
func (r *reader) between(tokens [][]note) music.Frac {
	end := r.now
	for i, notes := range tokens {
		if c := r.columns[i]; notes != nil && !c.loose {
			end = end.Max(c.busy)
		}
	}
	return end
}

// place puts the chord of column i where the row stands.
func (r *reader) place(i int, notes []note) error {
	c := r.columns[i]
	head := &notes[0]
	if r.notes += len(notes); r.notes > maxNotes {
		return fail(r.spot(i), mendSplit, "the score holds more than {n} notes", "{n}", number(maxNotes))
	}
	d := &draft{track: c.track, slot: c.slot, line: r.lineNumber, spine: i + 1, written: notes, hints: c.hints, index: -1,
		unshown: c.track.silent, bare: c.track.unbracket}
	d.Measure, d.Onset, d.Value = r.current(), r.now, head.length.value
	d.Cue = c.track.cue
	r.dress(d, notes)
	if head.grace > 0 {
		d.Grace = &score.Grace{Slash: head.grace == 1}
		d.Value.Actual, d.Value.Normal = 0, 0
		r.keep(c, d)
		return nil
	}
	d.Dur = head.length.quarters
	end := r.now.Add(d.Dur)
	if music.Int(maxMeasure).Less(end) || !r.common.Take(d.Dur) || !r.common.Take(end) {
		r.warn(i, "the length of a note cannot be reckoned with; it was left out")
		c.loose = true
		return nil
	}
	// What the column said before ends here at the latest.
	if c.last >= 0 {
		if before := r.chords[c.last]; r.now.Less(before.Onset.Add(before.Dur)) {
			if before.Dur = r.now.Sub(before.Onset); before.Dur.Sign() > 0 {
				before.Value, _ = valueOf(before.Dur)
			} else {
				before.track = nil // nothing of it is left
			}
		}
	}
	c.busy, c.loose = end, false
	r.held = r.held.Max(end)
	r.rows++
	r.keep(c, d)
	c.last = len(r.chords) - 1
	return nil
}

// keep adds a chord and joins the curves that begin or end on it.
func (r *reader) keep(c *column, d *draft) {
	c.track.notes += len(d.Notes)
	if d.forced() && !r.leveled {
		r.addMark(c.track, d.Measure, d.Onset, score.Mark{Kind: score.Dynamics, Text: "sf"})
	}
	r.chords = append(r.chords, d)
	r.curve(c, d)
}

// forced reports whether a note of a chord is marked as louder than the others
// ("z").
func (d *draft) forced() bool {
	return slices.ContainsFunc(d.written, func(n note) bool { return n.sforzando != "" })
}

// dress gives a chord what its notes say.
func (r *reader) dress(d *draft, notes []note) {
	for k := range notes {
		n := &notes[k]
		d.Fermata = d.Fermata || n.fermata
		if n.arpeggio {
			d.Arpeggio = score.ArpeggioUp
		}
		if d.Stem == score.StemAuto {
			d.Stem = n.stem
		}
		for _, a := range n.artic {
			has := false
			for _, b := range d.Artic {
				has = has || a == b
			}
			if !has {
				d.Artic = append(d.Artic, a)
			}
		}
		d.marks.begins += n.beams.begins
		d.marks.ends += n.beams.ends
		d.marks.forward += n.beams.forward
		d.marks.backward += n.beams.backward
		if n.rest {
			if len(notes) == 1 {
				d.Hidden = n.hidden
				if n.hasPitch {
					q := n.pitch.WithAlter(0)
					d.RestPos = &q
				}
			}
			continue
		}
		if key := n.pitch.MIDI(); key < 0 || key > 127 {
			r.warnings.Add(told.Place{Line: d.line, Spine: d.spine}, "a note lies outside every keyboard and was left out")
			continue
		}
		d.Notes = append(d.Notes, score.Note{Pitch: n.pitch, TieStart: n.begins, TieStop: n.ends})
	}
	if d.IsRest() {
		d.Arpeggio, d.Artic, d.Stem = "", nil, score.StemAuto
		return
	}
	if len(d.Notes) < 2 {
		d.Arpeggio = ""
	}
	hidden := true
	for k := range notes {
		hidden = hidden && (notes[k].hidden || notes[k].rest)
	}
	d.Hidden = hidden
}
