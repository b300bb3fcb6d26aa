package studio

import (
	"math"

	"agremens/game/closeup"
	"agremens/realize/codec/packet"
)

// OwnTaps are how whoever is at the desk last tapped its ornaments, by their
// ids: a teacher may send them with a task.
func (k *Tasks) OwnTaps() map[string]packet.Taps {
	all := map[string]packet.Taps{}
	for ornament, r := range k.studio.Log.own() {
		if ornament != "" { // plain notes have no place in a task
			all[ornament] = packet.Taps{Tempo: int(math.Round(r.Tempo)), Late: r.Lateness()}
		}
	}
	return all
}

// teachers returns the taps of the teacher that came with the open task for the
// ornament of a figure, nil for none that fit.
func (k *Tasks) teachers(f closeup.Figure) *closeup.Row {
	h := k.studio.Homework
	if h == nil {
		return nil
	}
	all := h.Desk.Reading.Ornaments
	for _, p := range h.Task.Taps {
		if p.Ornament >= len(all) || all[p.Ornament].ID != f.Ornament {
			continue
		}
		if offs, ok := closeup.ParseLateness(p.Late); ok && len(offs) == len(f.Notes) {
			return &closeup.Row{Teacher: true, Ornament: f.Ornament, Tempo: float64(p.Tempo), Offs: offs}
		}
	}
	return nil
}
