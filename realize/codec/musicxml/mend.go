package musicxml

import (
	"maps"
	"slices"

	"agremens/realize/codec/told"
	"agremens/realize/score"
)

// mendLines settles slurs and tuplets whose ends the file has the wrong way
// round: they are turned, or left out where both ends sound together.
func (d *decoder) mendLines(out *score.Passage) {
	at := func(chord int) told.Place { return told.Place{Measure: out.Measures[out.Chords[chord].Measure].Number} }
	// together reports whether two chords sound at once, so that no line can
	// lead from one to the other; small notes lead to what they stand before.
	together := func(a, b int) bool {
		x, y := &out.Chords[a], &out.Chords[b]
		return x.Onset == y.Onset && (x.Grace == nil) == (y.Grace == nil)
	}
	slurs := out.Slurs[:0]
	for _, s := range out.Slurs {
		if s.From > s.To {
			if together(s.From, s.To) {
				d.warnings.Add(at(s.To), "a slur whose two ends sound together was left out")
				d.left.Add("slur")
				continue
			}
			d.warnings.Add(at(s.To), "the ends of a slur stood in the wrong order and were exchanged")
			s.From, s.To = s.To, s.From
		}
		slurs = append(slurs, s)
	}
	out.Slurs = slurs
	tuplets := out.Tuplets[:0]
	for _, t := range out.Tuplets {
		if t.From > t.To {
			if together(t.From, t.To) {
				d.warnings.Add(at(t.To), "the bracket of a tuplet whose two ends sound together was left out")
				continue
			}
			t.From, t.To = t.To, t.From
			d.warnings.Add(at(t.To), "the ends of a tuplet stood in the wrong order and were exchanged")
		}
		tuplets = append(tuplets, t)
	}
	out.Tuplets = tuplets
}

// nameOpen warns of the lines that the part began and never ended, or ended
// and never began: they are left out.
func (p *part) nameOpen() {
	at := func(measure int) told.Place { return p.in(p.measures[measure].Number) }
	for _, k := range slices.Sorted(maps.Keys(p.open.slurs)) {
		c := &p.chords[p.open.slurs[k].from]
		c.SlurBegins = true
		p.d.warnings.Add(at(c.Measure), "a slur without an end was left out")
		p.leave("slur")
	}
	for _, k := range slices.Sorted(maps.Keys(p.open.stops)) {
		c := &p.chords[p.open.stops[k]]
		c.SlurEnds = true
		p.d.warnings.Add(at(c.Measure), "a slur without a beginning was left out")
	}
	for _, k := range slices.Sorted(maps.Keys(p.open.tuplets)) {
		p.d.warnings.Add(at(p.chords[p.tuplets[p.open.tuplets[k]].From].Measure), "the bracket of a tuplet without an end was left out")
	}
	for _, k := range slices.Sorted(maps.Keys(p.open.marks)) {
		m := &p.marks[p.open.marks[k]]
		p.d.warnings.Add(at(m.measure), unended[m.item.Kind])
		m.item.Kind = "" // left out in assembly
	}
	for _, k := range slices.Sorted(maps.Keys(p.open.ends)) {
		p.d.warnings.Add(at(p.open.ends[k].measure), "the end of a hairpin, an octave line or dashes without a beginning was passed over")
	}
}

// unended says what is done about a line without an end.
//
//words:texts
var unended = map[score.MarkKind]string{
	score.Dashes:      "dashes without an end were left out",
	score.Wedge:       "a hairpin without an end was left out",
	score.OctaveShift: "an octave line without an end was left out; the notes sound as they are stored",
}
