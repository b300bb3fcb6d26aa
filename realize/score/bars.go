package score

import (
	"strings"

	"agremens/realize/words"
)

// Bars reads "3", "1-4" or "" (all) as measure indexes of a passage, half-open.
// Numbers are those printed; a pickup is 0 unless numbered otherwise. A pickup
// before the first counted measure comes along with it, and so does the rest
// of a measure that a repeat or a change of metre splits, whatever number the
// file gives to it.
func (p *Passage) Bars(text string) (from, to int, err error) {
	text = strings.NewReplacer("–", "-", " ", "").Replace(text)
	if text == "" {
		return 0, len(p.Measures), nil
	}
	first, last, ranged := strings.Cut(text, "-")
	if !ranged {
		last = first
	}
	from, to = p.measureNumbered(first), p.measureNumbered(last)
	if from < 0 || to < 0 {
		missing := first
		if from >= 0 {
			missing = last
		}
		return 0, 0, words.Errorf(nil, "there is no bar “{bar}”: this passage has bars {bars}", "{bar}", missing, "{bars}", p.AllBars())
	}
	if to < from {
		return 0, 0, words.Errorf(nil, "bars {bars} run backwards: write the earlier bar first", "{bars}", text)
	}
	for from > 0 && p.Measures[from].Implicit && p.splits(from) {
		from--
	}
	if from == 1 && p.Measures[0].Implicit {
		from = 0
	}
	for to+1 < len(p.Measures) && p.splits(to+1) {
		to++
	}
	return from, to + 1, nil
}

// splits reports whether measure i goes on with the one before it: it is not
// counted, and has its number or fills it up.
func (p *Passage) splits(i int) bool {
	if i < 1 || !p.Measures[i].Implicit {
		return false
	}
	m, b := &p.Measures[i], &p.Measures[i-1]
	if m.Number != "" && m.Number == b.Number {
		return true
	}
	return !b.Implicit && b.Metre.Unit > 0 && b.Length.Less(b.Metre.Bar()) && b.Length.Add(m.Length).Cmp(b.Metre.Bar()) <= 0
}

// AllBars names the first and the last measure, "1-8".
func (p *Passage) AllBars() string {
	if len(p.Measures) == 0 {
		return "none"
	}
	return p.Measures[0].Number + "-" + p.Measures[len(p.Measures)-1].Number
}

// measureNumbered returns the index of the first measure of that number, -1
// if there is none.
func (p *Passage) measureNumbered(number string) int {
	for i := range p.Measures {
		if p.Measures[i].Number == number {
			return i
		}
	}
	return -1
}
