package desk

import (
	"math"

	"agremens/game/round"
)

// Goal returns the goal tempo of the chosen measures in felt beats a minute.
func (d *Desk) Goal() float64 {
	at := d.Passage.Measures[d.From].Onset
	return d.Sounding().Tempo.At(at) / d.beat().Float()
}

// Beats returns the practice tempo in felt beats a minute.
func (d *Desk) Beats() float64 { return d.Goal() * d.Percent / 100 }

// SetPercent sets the practice tempo in per cent of the goal; it is kept
// within 20 and 200.
func (d *Desk) SetPercent(percent float64) {
	if math.IsNaN(percent) {
		return
	}
	d.Percent = min(round.FastestPercent, max(round.SlowestPercent, percent))
}

// SetBeats sets the practice tempo in felt beats a minute and reports
// whether it could be taken as it is.
func (d *Desk) SetBeats(beats float64) bool {
	percent := beats / d.Goal() * 100
	d.SetPercent(percent)
	return percent >= round.SlowestPercent-0.5 && percent <= round.FastestPercent+0.5
}
