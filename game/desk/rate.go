package desk

import (
	"agremens/realize"
)

// AtRate says in words which signs of the passage would be played differently
// if the player managed another number of notes a second.
func (d *Desk) AtRate(rate float64) []string {
	taste := d.named()
	taste.Rate = rate
	other := realize.Read(d.Passage, taste)
	var changes []string
	for i := range min(len(d.Reading.Ornaments), len(other.Ornaments)) {
		was, would := &d.Reading.Ornaments[i], &other.Ornaments[i]
		before, after := &was.Choices[was.Chosen], &would.Choices[would.Chosen]
		if alike(before, after) {
			continue
		}
		changes = append(changes, d.Words.Say("Bar {bar}: {then}, {notes}; now {now}, {count}",
			"{bar}", d.Passage.Measures[was.Measure].Number, "{then}", after.Name, "{notes}", struckWords(after), "{now}", before.Name, "{count}", struckWords(before)))
	}
	return changes
}

// alike reports whether two choices sound the same.
func alike(a, b *realize.Choice) bool {
	if len(a.Notes) != len(b.Notes) {
		return false
	}
	for i := range a.Notes {
		if a.Notes[i].Pitch != b.Notes[i].Pitch || a.Notes[i].Onset != b.Notes[i].Onset {
			return false
		}
	}
	return true
}

func struckWords(c *realize.Choice) string {
	n := 0
	for i := range c.Notes {
		if !c.Notes[i].Tied {
			n++
		}
	}
	return c.Words.Count(n, "{n} note", "{n} notes")
}
