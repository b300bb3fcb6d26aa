package calibration

import (
	"math"
	"strconv"
	"strings"

	"agremens/realize/words"
	"agremens/synth/clock"
)

// Output is what tells one output of sound from another.
type Output struct {
	// Listen is what the player says to listen with: a key of [Listening].
	Listen string
	// Device is the device's own name, where the browser tells one.
	Device string
	// Channels it has, and how late the browser says it is, in ms; 0 unknown.
	Channels  int
	LatencyMS float64
}

// Listening lists what one may listen with: key and name.
func Listening(c *words.Catalogue) [][2]string {
	return [][2]string{
		{"speaker", c.Say("this device's loudspeaker")},
		{"wired", c.Say("headphones or loudspeaker, with a wire")},
		{"wireless", c.Say("wireless headphones or loudspeaker")},
	}
}

// longMS parts outputs that the browser knows to be slow from others. The
// told latency itself wanders by some milliseconds.
const longMS = 100

// Key names the output.
func (o Output) Key() string {
	listen := "speaker"
	for _, l := range Listening(nil) {
		if l[0] == o.Listen {
			listen = o.Listen
		}
	}
	device := strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, o.Device)
	if device == "" {
		device = strconv.Itoa(o.Channels) + " channels"
		if o.LatencyMS >= longMS {
			device += ", slow"
		}
	}
	return listen + "/" + device
}

// Kept is what is kept of one output.
type Kept struct {
	Output    string // its key
	OffsetMS  float64
	ErrorMS   float64
	Trust     clock.Trust
	PictureMS float64 // 0 unknown
	// ToldMS is the latency that the browser told then, 0 for none; the offset
	// comes on top of it.
	ToldMS float64
}

// Keep returns what to keep of a result; ok is false where it is too unsure.
func Keep(output string, toldMS float64, r Result) (k Kept, ok bool) {
	if r.Sound.Trust == clock.Unknown {
		return Kept{}, false
	}
	k = Kept{
		Output: output, ToldMS: toldMS,
		OffsetMS: r.Sound.OffsetMS, ErrorMS: r.Sound.ErrorMS, Trust: r.Sound.Trust,
	}
	if r.Picture.Trust != clock.Unknown {
		// What an eye and a finger need comes on top of the screen's delay;
		// taps with flashes lie near them, a little early (from memory).
		k.PictureMS = min(max(r.Picture.OffsetMS, 0), mostPictureMS)
	}
	return k, true
}

// mostPictureMS bounds the picture's delay: screens are 10 to 120 ms late.
const mostPictureMS = 150

// Untrained tappers come 20 to 50 ms before the click (Repp 2005, from
// memory). A sum of delay and lead within these bounds is taken for the lead
// alone where the browser tells the delay itself.
const (
	earliestLead = -70.0
	latestLead   = 20.0
	usualLead    = -35.0
)

// ExtraMS is how much later than the browser tells the sound is heard.
func (k Kept) ExtraMS() float64 {
	if k.Trust == clock.Unknown || k.ToldMS > 0 && k.OffsetMS <= latestLead {
		return 0
	}
	return max(0, k.OffsetMS-usualLead)
}

// LeadMS is the player's own mean error, once the delay is taken out; ok is
// false where it is not sure enough to judge by. Delay and lead always add up
// to the offset.
func (k Kept) LeadMS() (lead float64, ok bool) {
	return k.OffsetMS - k.ExtraMS(), k.Trust == clock.Sure && k.OffsetMS >= earliestLead
}

// Book holds what is kept, the latest first.
type Book []Kept

// mostKept is how many outputs are remembered.
const mostKept = 12

// Find returns what is kept of an output.
func (b Book) Find(output string) (Kept, bool) {
	for _, k := range b {
		if k.Output == output {
			return k, true
		}
	}
	return Kept{}, false
}

// With returns the book with k in place of what was kept of its output.
func (b Book) With(k Kept) Book {
	out := Book{k}
	for _, other := range b {
		if other.Output != k.Output && len(out) < mostKept {
			out = append(out, other)
		}
	}
	return out
}

// Without returns the book without an output.
func (b Book) Without(output string) Book {
	var out Book
	for _, k := range b {
		if k.Output != output {
			out = append(out, k)
		}
	}
	return out
}

// String writes the book, a line an output.
func (b Book) String() string {
	var s strings.Builder
	for _, k := range b {
		for _, x := range []float64{k.OffsetMS, k.ErrorMS, float64(k.Trust), k.PictureMS, k.ToldMS} {
			s.WriteString(strconv.FormatFloat(x, 'f', 1, 64) + " ")
		}
		s.WriteString(k.Output + "\n")
	}
	return s.String()
}

// ParseBook reads what String wrote; lines it does not understand it leaves
// out.
func ParseBook(text string) Book {
	var b Book
	for line := range strings.Lines(text) {
		f := strings.SplitN(strings.TrimRight(line, "\r\n"), " ", 6)
		if len(f) != 6 || f[5] == "" {
			continue
		}
		var x [5]float64
		good := true
		for i := range x {
			v, err := strconv.ParseFloat(f[i], 64)
			x[i] = v
			good = good && err == nil && math.Abs(v) <= 2000
		}
		trust := clock.Trust(x[2])
		if !good || trust < clock.Unknown || trust > clock.Sure || len(b) == mostKept {
			continue
		}
		b = append(b, Kept{OffsetMS: x[0], ErrorMS: x[1], Trust: trust, PictureMS: x[3], ToldMS: x[4], Output: f[5]})
	}
	return b
}
