package hear

import "math"

// What the ear looks at to say whether a string of one pitch is struck at one
// frame: the bands at its partials over a tenth of a second, the pitches
// beside and below it that share partials with it, and the blow over all
// frequencies. All are logarithms of shares of the recent level.
var (
	// around are the frames looked at, before and after.
	around = [...]int{-10, -7, -5, -3, -2, -1, 0, 1, 2, 3, 5, 8}
	// aside are those for other pitches.
	aside = [...]int{-7, -3, 0, 2, 5, 8}
	// blow are the short looks, in half frames.
	blow = [...]int{-12, -8, -5, -3, -2, -1, 0, 1, 2, 3, 4, 5, 7, 10}
	// beside are the semitones to pitches that may be taken for this one.
	beside = [...]int{-24, -19, -12, -2, -1, 1, 2, 12}
)

const (
	lookBack  = 10
	lookAhead = 8

	ownPartials = 8
	groups      = ownPartials + 2
	features    = groups*len(around) + len(beside)*len(aside) + broad*len(blow) + 2
)

// partial is a place between bands.
type partial struct {
	band int
	part float32 // of the next band
}

// key is where the partials of a pitch stand.
type key struct {
	partials []partial // of 1 to 16, as far as there are bands
}

// stiffness is the coefficient B of f_h = h·f·√(1+B·h²) for a piano's strings:
// least near the break of the bass, doubling about every nine semitones above
// (order of magnitude from memory; instruments differ by a factor of two).
func stiffness(midi float64) float64 {
	return 1.1e-4 * math.Exp2(math.Abs(midi-46)/9.5)
}

// frequencies returns the partials of a pitch in Hz, up to a highest one.
func frequencies(midi, cents, top float64, count int) []float64 {
	f := 440 * math.Exp2((midi-69+cents/100)/12)
	b := stiffness(midi)
	var out []float64
	for h := 1.0; h <= float64(count); h++ {
		p := f * h * math.Sqrt(1+b*h*h)
		if p >= top {
			break
		}
		out = append(out, p)
	}
	return out
}

func newKey(midi, cents float64) key {
	var k key
	for _, f := range frequencies(midi, cents, bandFrequency(bandCount-2), 16) {
		b := min(max(bandOf(f), 0), bandCount-2)
		k.partials = append(k.partials, partial{int(b), float32(b - math.Floor(b))})
	}
	return k
}

// at returns the level at a partial in powers of ten above base, 0 below it.
func (p partial) at(row *[bandCount]float32, base float32) float32 {
	return max(0, row[p.band]+p.part*(row[p.band+1]-row[p.band])-base)
}

// keyboard holds a place for each pitch that may be asked about.
const (
	lowestKey, highestKey = 21, 108
	keyCount              = highestKey - lowestKey + 1
)

type keyboard [keyCount]key

func newKeyboard(cents float64) *keyboard {
	var all keyboard
	for i := range all {
		all[i] = newKey(float64(i+lowestKey), cents)
	}
	return &all
}

// row returns a frame of the spectrum; frames older than the history, or
// before the first, read as what is there.
func (s *spectrum) row(frame int) *[bandCount]float32 { return &s.log[(frame+history)%history] }

// rise is a quick judgement whether anything begins at a pitch: the mean rise
// of its lower partials over five frames.
func (s *spectrum) rise(k *key, frame int) float32 {
	after, before := s.row(frame+3), s.row(frame-2)
	n := min(len(k.partials), 6)
	sum := float32(0)
	for _, p := range k.partials[:n] {
		sum += min(max(0, p.at(after, s.base)-p.at(before, s.base)), 0.7)
	}
	return sum / float32(n)
}

// features writes what is to be seen of a pitch at a frame into out.
func (s *spectrum) features(all *keyboard, midi, frame int, out *[features]float32) {
	n := 0
	own := all[midi-lowestKey].partials
	for _, d := range around {
		row := s.row(frame + d)
		for h := range ownPartials {
			if h < len(own) {
				out[n] = own[h].at(row, s.base)
			} else {
				out[n] = 0
			}
			n++
		}
		out[n] = meanAt(row, s.base, own, 8, 11)
		out[n+1] = meanAt(row, s.base, own, 11, 16)
		n += 2
	}
	for _, b := range beside {
		other := midi + b
		if other < lowestKey || other > highestKey {
			for range aside {
				out[n] = 0
				n++
			}
			continue
		}
		partials := all[other-lowestKey].partials
		for _, d := range aside {
			out[n] = unshared(s.row(frame+d), s.base, partials, b)
			n++
		}
	}
	for _, d := range blow {
		row := &s.burst[((frame*perHop+d)+len(s.burst))%len(s.burst)]
		for i, v := range row {
			out[n] = max(0, v-s.burstBase[i])
			n++
		}
	}
	out[n] = float32(midi-60) / 24
	out[n+1] = out[n] * out[n]
}

func meanAt(row *[bandCount]float32, base float32, partials []partial, from, to int) float32 {
	to = min(to, len(partials))
	if from >= to {
		return 0
	}
	sum := float32(0)
	for _, p := range partials[from:to] {
		sum += p.at(row, base)
	}
	return sum / float32(to-from)
}

// unshared is the mean level at the partials of a pitch b semitones away that
// the pitch asked about does not have.
func unshared(row *[bandCount]float32, base float32, partials []partial, b int) float32 {
	sum, n := float32(0), float32(0)
	for h := 1; h <= min(9, len(partials)); h++ {
		switch {
		case b == -12 && h%2 == 0, b == -19 && h%3 == 0, b == -24 && h%4 == 0:
			continue
		case b == 12 && h > 4, b > -12 && b < 12 && h > 5:
			continue
		}
		sum += partials[h-1].at(row, base)
		n++
	}
	if n == 0 {
		return 0
	}
	return sum / n
}
