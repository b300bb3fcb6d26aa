package hear

import "math"

// Strike is one string struck, as far as sound or MIDI tell.
type Strike struct {
	At   float64 // seconds from the first sample
	Key  int     // MIDI
	Odds float64 // logarithm of the odds that it was struck
	// Level is how loud, in dB below the loudest of the last seconds; 0 is the
	// loudest.
	Level float64
}

// ear finds strikes of the pitches it is asked about.
type ear struct {
	cut      bool // see Options
	spectrum *spectrum
	keys     *keyboard
	cents    float64
	asked    []int // MIDI pitches
	tracks   []track
	found    func(Strike)
	tuner    tuner
	fixed    bool // the tuning is given
	in       [features]float32
	net      *network
	hidden   [hiddenUnits]float32
}

// track is what was said of one pitch at the last frames.
type track struct {
	odds [trackLength]float32
	when [trackLength]float32 // frames
}

// A strike is a frame whose odds no frame within apart of it exceeds.
const (
	apart       = 4 // frames: 21 ms
	trackLength = 2*apart + 1
	hardly      = -7.0 // odds below which nothing is reported
	deaf        = -99.0
	stir        = -8.0 // odds that make the frames beside one worth a look
	quiet       = 0.03 // rise below which no string was struck
)

func newEar(rate, cents float64, fixed bool, asked []int, found func(Strike)) *ear {
	e := &ear{spectrum: newSpectrum(rate), found: found, fixed: fixed, net: trained()}
	for _, k := range asked {
		if k >= lowestKey && k <= highestKey {
			e.asked = append(e.asked, k)
		}
	}
	e.tracks = make([]track, len(e.asked))
	for i := range e.tracks {
		for j := range e.tracks[i].odds {
			e.tracks[i].odds[j] = deaf
		}
	}
	e.tune(cents)
	return e
}

func (e *ear) tune(cents float64) { e.cents, e.keys = cents, newKeyboard(cents) }

// feed takes samples. A recording that was cut just before its first note has
// nothing that note could rise from: silence is put before it.
func (e *ear) feed(x []float32) {
	if s := e.spectrum; e.cut && s.frames == 0 && s.lead == 0 && sounding(x[:min(len(x), int(s.rate/100))]) {
		s.lead = 0.3
		s.feed(make([]float32, int(s.lead*s.rate)), e.frame)
	}
	e.spectrum.feed(x, e.frame)
}

// sounding says whether samples are louder than a microphone's own noise, 50 dB
// below full scale.
func sounding(x []float32) bool {
	sum := 0.
	for _, v := range x {
		sum += float64(v) * float64(v)
	}
	return sum > 1e-5*float64(len(x))
}

// frame judges the frame whose last look has just come.
func (e *ear) frame() {
	s := e.spectrum
	newest := s.frames - 1
	e.tuner.see(s, newest)
	if !e.fixed && newest%96 == 95 {
		if c, ok := e.tuner.cents(); ok && math.Abs(c-e.cents) > 2 {
			e.tune(c)
		}
	}
	now := newest - lookAhead
	if now < 0 {
		return
	}
	place := now % trackLength
	for i, midi := range e.asked {
		t := &e.tracks[i]
		t.odds[place], t.when[place] = deaf, 0
		before := (now + trackLength - 1) % trackLength
		if now%2 == 0 || t.odds[before] > stir {
			e.look(t, midi, now)
			// Every second frame is passed over where nothing stirs.
			if now%2 == 0 && now > 0 && t.odds[place] > stir && t.odds[before] == deaf {
				e.look(t, midi, now-1)
			}
		}
		e.peak(midi, t, now)
	}
}

// look judges one pitch at one frame.
func (e *ear) look(t *track, midi, frame int) {
	s := e.spectrum
	if s.rise(&e.keys[midi-lowestKey], frame) < quiet {
		return
	}
	s.features(e.keys, midi, frame, &e.in)
	place := frame % trackLength
	t.odds[place], t.when[place] = e.net.judge(&e.in, &e.hidden)
}

// peak reports the frame in the middle of the track where it is the highest.
func (e *ear) peak(midi int, t *track, now int) {
	middle := now - apart
	if middle < 0 {
		return
	}
	m := middle % trackLength
	if t.odds[m] < hardly {
		return
	}
	for d := -apart; d <= apart; d++ {
		o := t.odds[(middle+d+trackLength)%trackLength]
		if o > t.odds[m] || o == t.odds[m] && d < 0 {
			return
		}
	}
	// The instant, from the frames around by their odds.
	sum, weight := 0.0, 0.0
	for d := -2; d <= 2; d++ {
		i := (middle + d + trackLength) % trackLength
		if t.odds[i] <= deaf {
			continue
		}
		w := 1 / (1 + math.Exp(-float64(t.odds[i])))
		sum += w * (float64(d) + float64(t.when[i]))
		weight += w
	}
	at := float64(middle)
	if weight > 0 {
		at += sum / weight
	}
	e.found(Strike{At: e.spectrum.seconds(at) - lateness(midi), Key: midi, Odds: float64(t.odds[m]), Level: e.loud(midi, middle)})
}

// How late the network is on the average in a room, s: a low string's blow is
// covered by the strings that sound, and what is heard of it is its rise. Over
// 9800 onsets of four sampled pianos the median was 0.8 ms above the middle and
// 3.5 ms in the bass, there 0 in a dry room: between the two is what is taken.
const (
	lateTreble, lateBass = 0.0008, 0.0022
	bassTo, trebleFrom   = 45, 52 // keys
)

// lateness is that of a key.
func lateness(key int) float64 {
	low := min(1, max(0, float64(trebleFrom-key)/(trebleFrom-bassTo)))
	return lateTreble + low*(lateBass-lateTreble)
}

// loud is the level of a pitch's partials just after a frame.
func (e *ear) loud(midi, frame int) float64 {
	row := e.spectrum.row(frame + 5)
	own := e.keys[midi-lowestKey].partials
	return 20 * (float64(meanAt(row, e.spectrum.base, own, 0, 4)) - depth)
}
