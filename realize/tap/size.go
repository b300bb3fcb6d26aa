package tap

import "math"

// valueName is a length in quarters with its key in [Words.Values].
type valueName struct {
	quarters float64
	key      string
}

// valueNames are the sizes a teacher would say. Nothing smaller than half a
// thirty-second has a name; it is left to the milliseconds.
var valueNames = []valueName{
	{1. / 16, "1/16"}, {1. / 12, "1/12"}, {1. / 8, "1/8"}, {1. / 6, "1/6"}, {1. / 4, "1/4"},
	{3. / 8, "3/8"}, {1. / 2, "1/2"}, {3. / 4, "3/4"}, {1, "1"},
}

// valueOf returns the key of the note value nearest to a time, by ratio, and
// whether one is near enough to be said.
func valueOf(ms, quarter float64) (string, bool) {
	if !(quarter > 0) {
		return "", false
	}
	q, best, far := math.Abs(ms)/quarter, "", math.Inf(1)
	for _, v := range valueNames {
		if d := math.Abs(math.Log(q / v.quarters)); d < far {
			best, far = v.key, d
		}
	}
	return best, far <= math.Log(1.25)
}

// round10 rounds a time to the ten milliseconds that words use.
func round10(ms float64) int { return int(math.Round(math.Abs(ms)/10)) * 10 }
