package tap

// Target and Source are the aligner's view of onsets and strokes.
type Target struct{ At, Early, Late, Miss float64 }
type Source struct{ At, Extra float64 }

// Align opens the aligner to tests, at a beat of so many ms.
func Align(ts []Target, ss []Source, beat float64) ([]int, float64) {
	targets, sources := make([]target, len(ts)), make([]source, len(ss))
	for i, t := range ts {
		targets[i] = target{t.At, t.Early, t.Late, t.Miss}
	}
	for i, s := range ss {
		sources[i] = source{s.At, s.Extra}
	}
	return newAligner(beat).align(targets, sources)
}
