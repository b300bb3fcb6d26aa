package desk

import (
	"fmt"
	"math"

	"agremens/game/round"
	"agremens/realize"
)

// Check returns the first number on the desk that is none or lies outside its
// limits, or nil. Whatever an address, a link or a kept desk holds, it must
// not find anything.
func (d *Desk) Check() error {
	if err := d.Passage.Check(); err != nil {
		return err
	}
	if d.From < 0 || d.From >= d.To || d.To > len(d.Passage.Measures) {
		return fmt.Errorf("desk: measures %d to %d of %d are chosen", d.From, d.To, len(d.Passage.Measures))
	}
	if d.Selected < -1 || d.Selected >= len(d.Reading.Ornaments) {
		return fmt.Errorf("desk: ornament %d of %d is selected", d.Selected, len(d.Reading.Ornaments))
	}
	beat := d.beat().Float()
	for _, x := range []struct {
		name           string
		v, least, most float64
		zero           bool // may be 0, its default
	}{
		{"goal as decided", d.Taste.Tempo, realize.SlowestTempo, realize.FastestTempo, true},
		{"tempo as read", d.Reading.Tempo, realize.SlowestTempo, realize.FastestTempo, false},
		{"goal", d.Goal() * beat, realize.SlowestTempo, realize.FastestTempo, false},
		{"per cent of the goal", d.Percent, round.SlowestPercent, round.FastestPercent, false},
		{"notes a second", d.Rate(), realize.SlowestRate, realize.FastestRate, false},
		{"pitch", d.Pitch, LowestPitch, HighestPitch, true},
		{"measures counted in", float64(d.CountIn), 0, 2, false},
	} {
		// Felt beats and back again leave a rounding error.
		const ulp = 1e-9
		if in := x.v >= x.least*(1-ulp) && x.v <= x.most*(1+ulp); !in && !(x.zero && x.v == 0) || math.IsNaN(x.v) {
			return fmt.Errorf("desk: %s: %v is not between %v and %v", x.name, x.v, x.least, x.most)
		}
	}
	return nil
}
