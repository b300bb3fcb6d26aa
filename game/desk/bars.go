package desk

import (
	"fmt"
	"strings"

	"agremens/realize/score"
)

// ParseBars reads "3", "1-4" or "" (all) as measure indexes of a passage,
// half-open. Numbers are those printed; a pickup is 0 unless numbered
// otherwise. A pickup before the first counted measure comes along with it.
func ParseBars(p *score.Passage, text string) (from, to int, err error) {
	text = strings.NewReplacer("–", "-", " ", "").Replace(text)
	if text == "" {
		return 0, len(p.Measures), nil
	}
	first, last, ranged := strings.Cut(text, "-")
	if !ranged {
		last = first
	}
	from = measureNumbered(p, first)
	to = measureNumbered(p, last)
	if from < 0 || to < 0 {
		missing := first
		if from >= 0 {
			missing = last
		}
		return 0, 0, fmt.Errorf("desk: there is no bar %q: this passage has bars %s", missing, AllBars(p))
	}
	if to < from {
		return 0, 0, fmt.Errorf("desk: bars %s run backwards: write the earlier bar first", text)
	}
	if from == 1 && p.Measures[0].Implicit {
		from = 0
	}
	// The second half of a split bar belongs to its number.
	for to+1 < len(p.Measures) && p.Measures[to+1].Implicit && p.Measures[to+1].Number == p.Measures[to].Number {
		to++
	}
	return from, to + 1, nil
}

// AllBars names the first and the last bar, "1-8".
func AllBars(p *score.Passage) string {
	if len(p.Measures) == 0 {
		return "none"
	}
	return p.Measures[0].Number + "-" + p.Measures[len(p.Measures)-1].Number
}

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

func measureNumbered(p *score.Passage, number string) int {
	for i := range p.Measures {
		if p.Measures[i].Number == number {
			return i
		}
	}
	return -1
}
