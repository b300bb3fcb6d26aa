package desk

import (
	"strconv"

	"agremens/synth/tuning"
)

// Limits of a', in Hz.
const (
	LowestPitch  = 300.0
	HighestPitch = 600.0
)

// SetTemperament chooses a temperament by its key and reports whether there is
// such a one; else it stays as it was.
func (d *Desk) SetTemperament(name string) bool {
	if _, ok := tuning.Named(name); !ok {
		return false
	}
	d.Temperament = name
	return true
}

// SetPitch sets a', in Hz, and reports whether it lies within the limits;
// else it stays as it was.
func (d *Desk) SetPitch(hz float64) bool {
	if !(hz >= LowestPitch && hz <= HighestPitch) {
		return false
	}
	d.Pitch = hz
	return true
}

// Tuning returns what the instruments are tuned to: equal temperament at 440
// where nothing was chosen.
func (d *Desk) Tuning() tuning.Tuning {
	t, _ := tuning.Named(orElse(d.Temperament, "equal"))
	if d.Pitch != 0 {
		t = t.At(d.Pitch)
	}
	return t
}

// TuneLike takes over the tuning of another desk: the instrument in the room
// stays as it is when another passage is laid on it.
func (d *Desk) TuneLike(other *Desk) {
	if other != nil {
		d.Temperament, d.Pitch = other.Temperament, other.Pitch
	}
}

// applyTuning reads tuning and pitch from an address.
func (d *Desk) applyTuning(query map[string]string, complain func(name, value, allowed string)) {
	if v, ok := query["tuning"]; ok && !d.SetTemperament(v) {
		names := ""
		for i, t := range tuning.All() {
			if i > 0 {
				names += ", "
			}
			names += d.Words.Say(t.Name)
		}
		complain("tuning", v, names)
	}
	if v, ok := query["pitch"]; ok {
		if hz, err := strconv.ParseFloat(v, 64); err != nil || !d.SetPitch(hz) {
			complain("pitch", v, d.Words.Say("a' from {from} to {to} Hz", "{from}", d.Words.Number(LowestPitch, 0), "{to}", d.Words.Number(HighestPitch, 0)))
		}
	}
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
