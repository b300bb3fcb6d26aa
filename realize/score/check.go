package score

import "fmt"

// Check returns the first broken promise of a passage, or nil: measures
// joined without gap or overlap, chords sorted and inside their measure,
// notes sorted from low to high, ids unique, indexes in range. Decoders call
// it on what they built.
func (p *Passage) Check() error {
	for i := range p.Measures {
		m := &p.Measures[i]
		if m.Length.Sign() < 0 {
			return fmt.Errorf("score: measure %s has negative length", m.Number)
		}
		if i > 0 && p.Measures[i-1].End() != m.Onset {
			return fmt.Errorf("score: measure %s does not start where the one before ends", m.Number)
		}
	}
	ids := make(map[ID]bool, len(p.Chords))
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Measure < 0 || c.Measure >= len(p.Measures) {
			return fmt.Errorf("score: chord %d lies in no measure", i)
		}
		m := &p.Measures[c.Measure]
		if c.Onset.Less(m.Onset) || m.End().Less(c.End()) {
			return fmt.Errorf("score: measure %s: a note at %v leaves the measure", m.Number, c.Onset)
		}
		if i > 0 && c.Onset.Less(p.Chords[i-1].Onset) {
			return fmt.Errorf("score: measure %s: notes out of order at %v", m.Number, c.Onset)
		}
		if c.Grace == nil && c.Dur.Sign() <= 0 {
			return fmt.Errorf("score: measure %s: a note at %v has no length", m.Number, c.Onset)
		}
		for j := range c.Notes {
			n := &c.Notes[j]
			if n.ID == "" || ids[n.ID] {
				return fmt.Errorf("score: measure %s: note id %q is missing or used twice", m.Number, n.ID)
			}
			ids[n.ID] = true
			if j > 0 && n.Pitch.MIDI() < c.Notes[j-1].Pitch.MIDI() {
				return fmt.Errorf("score: measure %s: chord notes out of order at %v", m.Number, c.Onset)
			}
		}
		for _, s := range c.Signs {
			if s.Note < 0 || s.Note >= max(1, len(c.Notes)) {
				return fmt.Errorf("score: measure %s: a sign stands on no note", m.Number)
			}
		}
	}
	for _, s := range p.Slurs {
		if s.From < 0 || s.To >= len(p.Chords) || s.From > s.To {
			return fmt.Errorf("score: a slur runs from chord %d to %d", s.From, s.To)
		}
	}
	for _, t := range p.Tuplets {
		if t.From < 0 || t.To >= len(p.Chords) || t.From > t.To {
			return fmt.Errorf("score: a tuplet runs from chord %d to %d", t.From, t.To)
		}
	}
	return nil
}
