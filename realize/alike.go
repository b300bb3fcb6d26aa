package realize

import (
	"slices"

	"agremens/realize/score"
)

// Alike lists the other ornaments that stand like one: the same signs and
// small notes on the same value, coming from and going to the same scale
// steps, at the same pitch or transposed. What is decided for one may be
// taken along to these.
func (r *Reading) Alike(ornamentID string) []string {
	l := link(r.Passage)
	var of *Ornament
	for i := range r.Ornaments {
		if r.Ornaments[i].ID == ornamentID {
			of = &r.Ornaments[i]
		}
	}
	if of == nil {
		return nil
	}
	want := figureOf(r.Passage, l, of)
	var out []string
	for i := range r.Ornaments {
		o := &r.Ornaments[i]
		if o.ID != ornamentID && o.Notated == of.Notated && slices.Equal(o.Signs, of.Signs) &&
			slices.Equal(figureOf(r.Passage, l, o), want) {
			out = append(out, o.ID)
		}
	}
	return out
}

// figureOf is the melodic figure round a principal: steps from the note
// before, to the note after, and of the small notes.
func figureOf(p *score.Passage, l *links, o *Ornament) []int {
	const none = 1000
	step := func(i int) int {
		if i < 0 || p.Chords[i].IsRest() {
			return none
		}
		return p.Chords[i].Top().Pitch.Diatonic() - o.Principal.Diatonic()
	}
	out := []int{step(l.prev[o.Ref.Chord]), step(l.next[o.Ref.Chord])}
	for _, g := range o.Graces {
		out = append(out, step(g))
	}
	return out
}
