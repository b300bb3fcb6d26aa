package realize

import (
	"slices"

	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// PerformOptions says what of a reading is to sound.
type PerformOptions struct {
	// Plain leaves all ornaments out: the printed notes alone, small notes
	// and rolls left away.
	Plain bool
	// Shaped gives the notes within an ornament the time pianists give them;
	// else they are even, as they are tapped.
	Shaped bool
	// Yield, which may be nil, is called now and then while a long passage is
	// performed, so that a single-threaded caller can do other things.
	Yield func()
}

// breathe yields at every so many of the things counted by i.
func (o PerformOptions) breathe(i int) {
	if o.Yield != nil && i%1024 == 0 {
		o.Yield()
	}
}

// Perform returns the passage as it sounds: every written note with its ties
// merged, the chosen choices in place of their principals, time that an
// ornament borrows taken from its neighbours. Repeats are not unfolded.
// Onsets are quarters from the start of the passage; a small note before the
// first beat has a negative one.
func Perform(r *Reading, o PerformOptions) *perf.Performance {
	p := r.Passage
	out := &perf.Performance{Start: start(p), End: p.End(), Tempo: performTempo(r), Beats: beats(p)}
	replaced := map[score.ID]bool{}
	early, later := map[score.ID]music.Frac{}, map[score.ID]music.Frac{}
	cutAt := map[score.ID]music.Frac{}
	cues := p.CuesSounding()
	silent := func(chord int) bool { return p.Chords[chord].Cue && !cues[chord] }
	if !o.Plain {
		for i := range r.Ornaments {
			orn := &r.Ornaments[i]
			if len(orn.Choices) == 0 || silent(orn.Ref.Chord) {
				continue
			}
			for _, id := range orn.Covers {
				replaced[id] = true
			}
			if p.At(orn.Ref).TieStop {
				cutAt[orn.Note] = orn.Onset
			}
			for _, b := range orn.Choices[orn.Chosen].Borrows {
				switch {
				case b.Note == "":
				case b.After:
					later[b.Note] = later[b.Note].Add(b.Amount)
				default:
					early[b.Note] = early[b.Note].Max(b.Amount)
				}
			}
		}
	}
	for i := range p.Chords {
		o.breathe(i)
		c := &p.Chords[i]
		if c.Grace != nil || silent(i) {
			continue
		}
		for j := range c.Notes {
			n := &c.Notes[j]
			if replaced[n.ID] || n.TieStop && continuesTie(p, score.Ref{Chord: i, Note: j}) {
				continue
			}
			note := perf.Note{Onset: c.Onset, Dur: soundLength(p, score.Ref{Chord: i, Note: j}, cutAt), Pitch: n.Pitch,
				Strength: strength(c), Hand: handOf(n.Staff, c.Staff), From: n.ID, Measured: true}
			out.Notes = append(out.Notes, shift(note, early[n.ID], later[n.ID]))
		}
	}
	if !o.Plain {
		of := periodOf(p, r.Tradition)
		ends := map[ending]int{}
		for i := range out.Notes {
			o.breathe(i)
			ends[endingOf(&out.Notes[i])] = i
		}
		for i := range r.Ornaments {
			o.breathe(i)
			if silent(r.Ornaments[i].Ref.Chord) {
				continue
			}
			notes, held := ornamentNotes(p, &r.Ornaments[i], early, later)
			if o.Shaped {
				moved(notes[held:], figure(slices.Index(figureKeys[:], r.Ornaments[i].Figure)), of)
			}
			out.Notes = joinTied(out.Notes, notes, held, ends)
			for _, n := range notes[held:] {
				ends[endingOf(&n)] = len(out.Notes)
				out.Notes = append(out.Notes, n)
			}
		}
	}
	o.breathe(0)
	sortPerformance(out.Notes)
	o.breathe(0)
	release(out)
	o.breathe(0)
	return out
}

// shift takes away what neighbours borrow, never all of a note.
func shift(n perf.Note, early, later music.Frac) perf.Note {
	if later.Sign() != 0 && later.Less(n.Dur) {
		n.Onset, n.Dur = n.Onset.Add(later), n.Dur.Sub(later)
	}
	if early.Sign() > 0 && early.Less(n.Dur) {
		n.Dur = n.Dur.Sub(early)
	}
	return n
}

func ornamentNotes(p *score.Passage, o *Ornament, early, later map[score.ID]music.Frac) (notes []perf.Note, held int) {
	if len(o.Choices) == 0 {
		return nil, 0
	}
	c := &o.Choices[o.Chosen]
	chord := &p.Chords[o.Ref.Chord]
	base := strength(chord)
	for k, n := range c.Notes {
		notes = append(notes, perf.Note{
			Onset: o.Onset.Add(n.Onset), Dur: n.Dur, Pitch: n.Pitch, Strength: min(1, base*n.Strength),
			Hand: handOf(p.At(o.Ref).Staff, chord.Staff), From: o.Note, Ornament: o.ID, Index: k,
			Degree: n.Degree, Measured: n.Measured,
		})
	}
	if len(notes) == 0 {
		return nil, 0
	}
	if c.Notes[0].Tied {
		held = 1
	}
	if late := later[o.Note]; late.Sign() != 0 {
		notes[0] = shift(notes[0], music.Frac{}, late)
	}
	if take := early[o.Note]; take.Sign() > 0 {
		// The next ornament's small notes end this one earlier.
		end := o.Onset.Add(o.Notated).Sub(take)
		kept := notes[:0]
		for _, n := range notes {
			if n.Onset.Cmp(end) >= 0 {
				continue
			}
			if end.Less(n.End()) {
				n.Dur = end.Sub(n.Onset)
			}
			kept = append(kept, n)
		}
		notes = kept
	}
	return notes, min(held, len(notes))
}

// ending is where a key of a hand is let go.
type ending struct {
	pitch music.Pitch
	hand  perf.Hand
	at    music.Frac
}

func endingOf(n *perf.Note) ending { return ending{n.Pitch, n.Hand, n.End()} }

// joinTied lengthens the note before by the first note of a joined ornament,
// which is held over and not struck. Where the note before does not sound
// that key, the held note is struck after all.
func joinTied(sounding, notes []perf.Note, held int, ends map[ending]int) []perf.Note {
	if held == 0 {
		return sounding
	}
	n := notes[0]
	k, found := ends[ending{n.Pitch, n.Hand, n.Onset}]
	if !found {
		ends[endingOf(&n)] = len(sounding)
		return append(sounding, n)
	}
	sounding[k].Dur = sounding[k].Dur.Add(n.Dur)
	ends[endingOf(&sounding[k])] = k
	return sounding
}

// continuesTie reports whether a note is really held over from the one before.
func continuesTie(p *score.Passage, r score.Ref) bool {
	c := &p.Chords[r.Chord]
	m := p.Measures[c.Measure].Onset
	for i := p.FirstAt(m.Sub(music.Int(16))); i < r.Chord; i++ {
		d := &p.Chords[i]
		if d.End() != c.Onset || d.Grace != nil && c.Grace == nil {
			continue
		}
		for j := range d.Notes {
			if d.Notes[j].TieStart && d.Notes[j].Pitch == p.At(r).Pitch {
				return true
			}
		}
	}
	return false
}

// soundLength sums a note's ties, up to a tied note that is ornamented.
func soundLength(p *score.Passage, r score.Ref, cutAt map[score.ID]music.Frac) music.Frac {
	length := music.Frac{}
	for k, t := range p.TiedOn(r) {
		if _, cut := cutAt[p.At(t).ID]; cut && k > 0 {
			break
		}
		length = length.Add(p.Chords[t.Chord].Dur)
	}
	return length
}

func strength(c *score.Chord) float32 {
	for _, a := range c.Artic {
		if a == "accent" || a == "strong-accent" {
			return .75
		}
	}
	return .6
}

func handOf(staff, chordStaff int) perf.Hand {
	if staff == 0 {
		staff = chordStaff
	}
	if staff > 1 {
		return perf.Left
	}
	return perf.Right
}

func sortPerformance(notes []perf.Note) {
	sorting.Stable(notes, func(a, b perf.Note) int {
		if c := a.Onset.Cmp(b.Onset); c != 0 {
			return c
		}
		if a.Hand != b.Hand {
			return int(a.Hand) - int(b.Hand)
		}
		return a.Pitch.MIDI() - b.Pitch.MIDI()
	})
}

// release marks notes whose key is struck again as they end, and ends a note
// where its own key is struck again while it still sounds. Two strikes of one
// key at once are one, as long as the longer.
func release(out *perf.Performance) {
	last := map[int]int{} // by key: the note that holds it
	kept := out.Notes[:0]
	for _, n := range out.Notes {
		key := n.Pitch.MIDI()
		if k, sounded := last[key]; sounded {
			before := &kept[k]
			switch {
			case before.Onset == n.Onset:
				if before.End().Less(n.End()) {
					before.Dur = n.Dur
				}
				continue
			case n.Onset.Cmp(before.End()) <= 0:
				before.Dur = n.Onset.Sub(before.Onset)
				before.Release = true
			}
		}
		last[key] = len(kept)
		kept = append(kept, n)
	}
	out.Notes = kept
}

// performTempo keeps the score's tempo changes, at the goal's speed.
func performTempo(r *Reading) perf.TempoMap {
	var out Reading
	t := goalTempo(r.Passage, Taste{}, &out)
	first := t.At(start(r.Passage))
	if r.Tempo > 0 && first > 0 && r.Tempo != first {
		t = t.Scaled(r.Tempo / first)
	}
	return t
}

// beats lists the felt beats; an upbeat counts back from the bar line.
func beats(p *score.Passage) []perf.Beat {
	var out []perf.Beat
	for i := range p.Measures {
		m := &p.Measures[i]
		beat := m.Metre.Beat()
		at := m.Onset
		strong := true
		if m.Length.Less(m.Metre.Bar()) && (i == 0 || m.Implicit) {
			// The notes of a short measure belong to its end.
			missing := m.Metre.Bar().Sub(m.Length)
			if rest := missing.Mod(beat); !rest.IsZero() {
				at = at.Add(beat.Sub(rest))
			}
			strong = false
			if i > 0 && p.Measures[i-1].Length.Add(m.Length) != m.Metre.Bar() {
				strong = true
				at = m.Onset
			}
		}
		for ; at.Less(m.End()); at = at.Add(beat) {
			out = append(out, perf.Beat{Onset: at, Strong: strong, Measure: i})
			strong = false
		}
	}
	return out
}
