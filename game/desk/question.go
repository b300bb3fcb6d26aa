package desk

// Answer settles a question of the reading with one of its options; it is
// kept, and can be undone, as every decision.
func (d *Desk) Answer(question, option int) {
	d.Taste = d.Reading.Answer(d.Taste, question, option)
	d.read()
}
