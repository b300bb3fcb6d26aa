package version

import (
	"math"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/takedown"
)

// Sizes of the picture, pixels: of a quarter, of a key, and around.
const (
	quarterWide = 220.0
	keyHigh     = 7.0
	margin      = 8.0
)

// Picture draws what was heard, as bars from each note to the next, higher for
// higher keys, and under them where each note is written: an upright for it,
// and long ones for the beat. Both stand on one scale, so that it is seen how
// far apart they are. It is SVG in the colour of the text around.
func Picture(v takedown.Version, length float64) string {
	low, high, from, until := 128, 0, 0.0, length
	for _, n := range v.Notes {
		low, high = min(low, n.Key), max(high, n.Key)
		if !n.HeldOver {
			from, until = math.Min(from, n.Heard), math.Max(until, n.Heard+0.1)
		}
		from = math.Min(from, n.Onset.Float())
	}
	wide := quarterWide
	if most := 640.0; (until-from)*wide > most {
		wide = most / (until - from)
	}
	x := func(q float64) float64 { return margin + (q-from)*wide }
	bars := margin + float64(high-low+1)*keyHigh
	high2 := bars + 26
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ` + px(x(until)+margin) + ` ` + px(high2) + `" width="` + px(x(until)+margin) + `" height="` + px(high2) + `" fill="currentColor">`)
	rect := func(left, top, w, h float64, more string) {
		b.WriteString(`<rect x="` + px(left) + `" y="` + px(top) + `" width="` + px(w) + `" height="` + px(h) + `"` + more + `/>`)
	}
	for q := math.Ceil(from); q <= until; q++ {
		rect(x(q)-0.5, margin/2, 1, high2-margin, ` opacity=".35"`)
	}
	for i, n := range v.Notes {
		if n.HeldOver {
			continue
		}
		// What is struck with another note and let go first is as long as it is
		// written: no strike after it ends it.
		end := math.Min(until, n.Heard+n.Dur.Float())
		for _, m := range v.Notes[i+1:] {
			if m.Heard > n.Heard && n.Onset.Less(m.Onset) {
				end = m.Heard
				break
			}
		}
		rect(x(n.Heard), bars-float64(n.Key-low+1)*keyHigh, math.Max(3, (end-n.Heard)*wide-1.5), keyHigh-1.5, ` rx="1.5"`)
	}
	for _, n := range v.Notes {
		dash := ""
		if n.HeldOver {
			dash = ` opacity=".4"`
		}
		rect(x(n.Onset.Float())-1, bars+5, 2, 14, dash)
	}
	b.WriteString(`</svg>`)
	return b.String()
}

func px(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }

// AsPlayed is a version with every note at the time at which it truly came, to
// be heard beside what is written.
func AsPlayed(v takedown.Version) takedown.Version {
	const fine = 384 // parts of a quarter: 2 ms at a quick beat
	notes := make([]takedown.Note, len(v.Notes))
	copy(notes, v.Notes)
	for i := range notes {
		if !notes[i].HeldOver {
			notes[i].Onset = music.F(int64(math.Round(notes[i].Heard*fine)), fine)
		}
	}
	for i := range notes {
		end := v.Notes[len(v.Notes)-1].Onset.Add(v.Notes[len(v.Notes)-1].Dur)
		if i+1 < len(notes) && v.Notes[i].Onset.Add(v.Notes[i].Dur) == v.Notes[i+1].Onset {
			end = notes[i+1].Onset
		}
		if notes[i].Dur = end.Sub(notes[i].Onset); notes[i].Dur.Sign() <= 0 {
			notes[i].Dur = music.F(1, fine)
		}
	}
	v.Notes = notes
	return v
}
