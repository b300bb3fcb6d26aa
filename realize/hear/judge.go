package hear

import "math"

// Ornament is what only the instrument tells of one ornament. Whether it is in
// time and even is judged elsewhere, as taps are (realize/heard, realize/tap);
// the figures here are those that a recording is compared by.
type Ornament struct {
	Name string // as in [Note.Ornament]
	// First and Landing are indexes in Expected.Notes of its first note and of
	// the hand's next note after it, -1 where there is none.
	First, Landing int
	// Start is how far the hands stood apart at its first note, ms, late
	// positive: against the other hand's notes written at the same place, else
	// against the beat; After the same of the landing.
	Start, After Amount
	// Uneven is the standard deviation of the intervals between its notes over
	// their mean.
	Uneven Amount
	// PerSecond is how fast it was.
	PerSecond Amount
	// Softest and Loudest are indexes of its notes, -1 unknown.
	Softest, Loudest int
	// Together is the index of its first note that was struck at once with the
	// one before it, where an order is written; -1 none.
	Together int
	Faults   []Fault // none where in doubt
}

// Amount is a number that may be unknown.
type Amount struct {
	V     float64
	Known bool
}

// Fault is a note that was not the one written.
type Fault struct {
	Kind string // "missing", "extra", "wrong"
	Note int    // the note it is about, -1 where it is about all
}

// atOnce is how close two notes are struck that a player struck together, s:
// the quickest trills have 60 ms from note to note.
const atOnce = 0.02

// ornaments says of each ornament what the instrument tells.
func (p *plan) ornaments(r *Report) []Ornament {
	var all []Ornament
	seen := map[string]bool{}
	for _, i := range p.own {
		name := p.notes[i].Ornament
		if name == "" || seen[name] {
			continue
		}
		seen[name] = true
		all = append(all, p.ornament(r, name))
	}
	return all
}

func (p *plan) ornament(r *Report, name string) Ornament {
	notes := p.notesOf(name)
	o := Ornament{Name: name, First: notes[0], Landing: p.after(notes[len(notes)-1]), Softest: -1, Loudest: -1, Together: -1}
	whole := true
	var times []float64
	last := -1
	for _, i := range notes {
		h := r.Notes[i]
		whole = whole && h.Reached
		if !h.Played {
			continue
		}
		if last >= 0 && o.Together < 0 && p.notes[i].At > p.notes[last].At+samePlace && math.Abs(h.At-r.Notes[last].At) < atOnce {
			o.Together = i
		}
		last = i
		times = append(times, h.At)
		if o.Softest < 0 || h.Level < r.Notes[o.Softest].Level {
			o.Softest = i
		}
		if o.Loudest < 0 || h.Level > r.Notes[o.Loudest].Level {
			o.Loudest = i
		}
	}
	o.Start = p.against(r, o.First)
	if o.Landing >= 0 {
		o.After = p.against(r, o.Landing)
	}
	if len(times) >= 4 {
		sum, square := 0.0, 0.0
		for k := 1; k < len(times); k++ {
			d := times[k] - times[k-1]
			sum += d
			square += d * d
		}
		n := float64(len(times) - 1)
		if m := sum / n; m > 0 {
			o.Uneven = Amount{math.Sqrt(max(0, square/n-m*m)) / m, true}
		}
	}
	if n := len(times); n >= 2 && times[n-1] > times[0] {
		o.PerSecond = Amount{float64(n-1) / (times[n-1] - times[0]), true}
	}
	if whole {
		o.Faults = p.faults(r, o, notes)
	}
	return o
}

func (p *plan) faults(r *Report, o Ornament, notes []int) []Fault {
	var all []Fault
	for _, i := range notes {
		if h := r.Notes[i]; h.Reached && !h.Played && !h.Unsure {
			kind := "missing"
			if taken(r, i) {
				kind = "wrong"
			}
			all = append(all, Fault{kind, i})
		}
	}
	begin, end := r.Notes[notes[0]].At-0.1, r.Notes[notes[len(notes)-1]].At+0.1
	if o.Landing >= 0 && r.Notes[o.Landing].Played {
		end = r.Notes[o.Landing].At
	}
	for _, x := range r.Extra {
		if x.InsteadOf < 0 && x.At > begin && x.At < end && p.inOrnament(r, Strike{At: x.At, Key: x.Key}) {
			all = append(all, Fault{"extra", -1})
			break
		}
	}
	return all
}

// after returns the hand's next note after one, -1 where none follows.
func (p *plan) after(note int) int {
	n := p.notes[note]
	best := -1
	for _, i := range p.own {
		m := p.notes[i]
		if m.Hand == n.Hand && m.At > n.At+samePlace && m.Ornament != n.Ornament && (best < 0 || m.At < p.notes[best].At || m.At == p.notes[best].At && m.Key > p.notes[best].Key) {
			best = i
		}
	}
	return best
}

// against is how late a note came against the other hand's notes of the same
// place, or against the beat where there are none.
func (p *plan) against(r *Report, note int) Amount {
	if !r.Notes[note].Played {
		return Amount{}
	}
	n := p.notes[note]
	var theirs []float64
	for i, m := range p.notes {
		if m.Hand == other(n.Hand) && math.Abs(m.At-n.At) < samePlace && r.Notes[i].Played {
			theirs = append(theirs, r.Notes[i].At)
		}
	}
	switch {
	case len(theirs) > 0:
		return Amount{1000 * (r.Notes[note].At - median(theirs)), true}
	case r.Notes[note].Judged:
		return Amount{r.Notes[note].Error, true}
	}
	return Amount{}
}
