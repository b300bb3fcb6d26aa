package ear

import "math"

// Level is what is wrong with the sound, as [Ear.Feed] gives it beside notes.
type Level int8

// Levels. The numbers are those in a row of what was heard.
const (
	LevelFine    Level = 0
	LevelClipped Level = -2 // cut at its peaks
	LevelFaint   Level = -3 // nothing comes, or from too far away
	LevelNoisy   Level = -4 // what plays does not stand out from the rest
	LevelBeat    Level = -5 // nothing is wrong: what the page sounds is heard too
)

// The sound is judged by its first seconds, in parts of partS. Playing stands
// out by leastDB at least; faintPeak is the largest sample of what is too far
// away. The same limits as where a round is refused, from our own recordings,
// no source.
const (
	levelS    = 5.0
	partS     = 0.1
	leastDB   = 9.0
	faintPeak = 0.01
	fullScale = 0.99
	mostFull  = 5 // samples at full scale that are no accident
)

// level looks at the beginning of a sound.
type level struct {
	rate        float64
	n, inPart   int
	sum         float64 // of squares, of the part under way
	least, most float64 // mean squares of the parts so far
	peak        float64
	full        int
	told        bool
}

// feed takes samples and says, once, what is wrong with them.
func (l *level) feed(samples []float32) Level {
	if l.told {
		return LevelFine
	}
	for _, x := range samples {
		v := math.Abs(float64(x))
		if !(v <= 4) {
			continue
		}
		l.peak = max(l.peak, v)
		if v >= fullScale {
			l.full++
		}
		l.sum += v * v
		l.n++
		if l.inPart++; float64(l.inPart) >= partS*l.rate {
			mean := l.sum / float64(l.inPart)
			if l.most == 0 || mean < l.least {
				l.least = mean
			}
			l.most = max(l.most, mean)
			l.sum, l.inPart = 0, 0
		}
	}
	if l.full >= mostFull {
		l.told = true
		return LevelClipped
	}
	if float64(l.n) < levelS*l.rate {
		return LevelFine
	}
	l.told = true
	switch {
	case l.peak < faintPeak:
		return LevelFaint
	case 10*math.Log10(l.most/max(l.least, 1e-12)) < leastDB:
		return LevelNoisy
	}
	return LevelFine
}
