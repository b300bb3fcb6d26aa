package look

import "agremens/game/engrave"

// glideSeconds is how long the staff takes to come to another place when a
// repeat or a jump goes there.
const glideSeconds = 0.5

// Glide returns how far from the fixed line the sounding place stands, in staff
// spaces, to the right positive, so many seconds after the way has leapt by so
// many spaces: the staff glides from where it was, and from no farther than the
// sounding place stays in sight on a stage so wide.
func Glide(since, leap float64, l *engrave.Layout, width float64) float64 {
	if since < 0 || since >= glideSeconds {
		return 0
	}
	line := Line(l, width)
	leap = max(l.HeadWidth+Margin-line, min(width-Margin-line, leap))
	left := 1 - since/glideSeconds
	return leap * left * left * left
}
