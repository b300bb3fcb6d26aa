package desk

import "agremens/realize/score"

// ParseBars reads "3", "1-4" or "" (all); see [score.Passage.Bars].
func ParseBars(p *score.Passage, text string) (from, to int, err error) { return p.Bars(text) }

// AllBars names the first and the last bar, "1-8".
func AllBars(p *score.Passage) string { return p.AllBars() }

// Bars names the chosen measures.
func (d *Desk) Bars() string {
	if d.From >= d.To {
		return ""
	}
	first, last := d.Passage.Measures[d.From].Number, d.Passage.Measures[d.To-1].Number
	if first == last {
		return first
	}
	return first + "-" + last
}

// SetBars chooses measures by their printed numbers; the desk stays as it was
// on an error.
func (d *Desk) SetBars(text string) error {
	from, to, err := ParseBars(d.Passage, text)
	if err != nil {
		return err
	}
	d.From, d.To = from, to
	d.selectInside()
	return nil
}
