package round

import (
	"slices"

	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/tap"
)

// want adds an onset to tap; notes struck together by one hand are one.
func (b *builder) want(n *perf.Note, frame int64, lands bool) {
	p := b.plan
	for i := len(p.Wants) - 1; i >= 0 && p.Frames[i] == frame; i-- {
		if w := &p.Wants[i]; w.Hand == n.Hand {
			b.also(frame, w, n)
			if w.Ornament == "" && n.Ornament != "" {
				w.Ornament, w.Index, w.Note = n.Ornament, n.Index, n.From
			}
			w.Until = max(w.Until, b.release(n))
			return
		}
	}
	if b.rolls(n) {
		return
	}
	p.Wants = append(p.Wants, tap.Want{
		At: p.ms(frame), Until: b.release(n), Hand: n.Hand, Onset: n.Onset, Written: b.standsAt(n), Note: n.From,
		Ornament: n.Ornament, Name: b.names[n.Ornament], Index: n.Index, Count: b.counts[turn{n.Ornament, n.Leg}], Measured: n.Measured, Degree: n.Degree,
		Landing: lands, Key: n.Pitch.MIDI(), Fermata: b.fermata(n.From),
	})
	p.Frames = append(p.Frames, frame)
}

// also keeps a further key of a chord.
func (b *builder) also(frame int64, w *tap.Want, n *perf.Note) {
	key, at := n.Pitch.MIDI(), Struck{frame, n.Hand}
	if w.Ornament == "" && n.Ornament != "" {
		key, w.Key = w.Key, key
	}
	if b.plan.Also == nil {
		b.plan.Also = map[Struck][]int{}
	}
	if key != w.Key && !slices.Contains(b.plan.Also[at], key) {
		b.plan.Also[at] = append(b.plan.Also[at], key)
	}
}

// rolls reports whether a note belongs to the stroke before it: a hand that
// only taps cannot roll a chord, so its first note stands for all. Every note
// struck just before it in the same ornament is still held then.
func (b *builder) rolls(n *perf.Note) bool {
	if n.Ornament == "" || b.plan.Settings.Keys {
		return false
	}
	key := heldKey{n.Ornament, n.Hand}
	h := b.held[key]
	rolled := h.until.Sign() > 0 && h.onset.Less(n.Onset) && n.Onset.Less(h.until)
	if h.onset != n.Onset || h.until.Sign() == 0 || n.End().Less(h.until) {
		b.held[key] = heldNote{n.Onset, n.End()}
	}
	return rolled
}

// heldKey is one hand's part of an ornament; heldNote is the note struck last
// in it, of several together the one that is let go first.
type heldKey struct {
	ornament string
	hand     perf.Hand
}

type heldNote struct{ onset, until music.Frac }

// leanSeconds is the least length of an appoggiatura whose release is judged.
const leanSeconds = 0.25

// release returns when the key of a long appoggiatura comes up, ms: when its
// main note sounds. It is 0 for other notes, whose release is the player's.
func (b *builder) release(n *perf.Note) float64 {
	m := b.moments[turn{n.Ornament, n.Leg}]
	if n.Ornament == "" || m.n != 2 || n.Onset != m.first || n.Degree == 0 || !n.Measured ||
		b.plan.tempo.Seconds(n.End())-b.plan.tempo.Seconds(n.Onset) < leanSeconds {
		return 0
	}
	return b.plan.ms(b.plan.frame(n.End()))
}

// moments is when an ornament begins, and how many onsets it has.
type moments struct {
	first, last music.Frac
	n           int
}

func ornamentMoments(p *perf.Performance) map[turn]moments {
	all := map[turn]moments{}
	for _, n := range p.Notes {
		if n.Ornament == "" {
			continue
		}
		switch key, m := (turn{n.Ornament, n.Leg}), all[turn{n.Ornament, n.Leg}]; {
		case m.n == 0:
			all[key] = moments{n.Onset, n.Onset, 1}
		case m.last != n.Onset:
			all[key] = moments{m.first, n.Onset, m.n + 1}
		}
	}
	return all
}

func (b *builder) fermata(id score.ID) bool {
	c := b.written[id]
	return c != nil && c.Fermata
}

// landings marks the first note of a hand after each ornament.
func (b *builder) landings() {
	last := map[perf.Hand]string{}
	for i := range b.plan.Wants {
		w := &b.plan.Wants[i]
		if before := last[w.Hand]; before != "" && before != w.Ornament {
			w.Landing = true
		}
		last[w.Hand] = w.Ornament
	}
}

// wanted reports whether the chosen measures hold anything to tap; a landing
// alone is nothing.
func (b *builder) wanted() bool {
	for i := range b.plan.Wants {
		if !b.plan.Wants[i].Landing {
			return true
		}
	}
	return false
}
