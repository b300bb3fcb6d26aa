package musicxml

import (
	"strconv"
	"strings"

	"agremens/realize/music"
)

// parseDecimal reads "12", "-3" or "0.125": up to twelve digits before and
// three after the point, so that it fits a fraction.
func parseDecimal(s string) (music.Frac, bool) {
	whole, part, _ := strings.Cut(strings.TrimSpace(s), ".")
	negative := strings.HasPrefix(whole, "-")
	whole = strings.TrimLeft(strings.TrimPrefix(strings.TrimPrefix(whole, "-"), "+"), "0")
	part = strings.TrimRight(part, "0")
	if whole == "" && part == "" && !strings.ContainsAny(s, "0") {
		return music.Frac{}, false
	}
	if len(whole) > 12 || len(part) > 3 || !digits(whole) || !digits(part) {
		return music.Frac{}, false
	}
	n, den := int64(0), int64(1)
	for _, c := range whole + part {
		n = n*10 + int64(c-'0')
	}
	for range part {
		den *= 10
	}
	if negative {
		n = -n
	}
	return music.F(n, den), true
}

// parseRounded is [parseDecimal] for numbers with more than three places,
// which it rounds.
func parseRounded(s string) (music.Frac, bool) {
	whole, part, _ := strings.Cut(strings.TrimSpace(s), ".")
	if len(part) <= 3 || !digits(part) {
		return parseDecimal(s)
	}
	n, ok := parseDecimal(whole + "." + part[:3])
	if !ok || part[3] < '5' {
		return n, ok
	}
	step := music.F(1, 1000)
	if strings.HasPrefix(whole, "-") {
		step = step.Neg()
	}
	return n.Add(step), true
}

func digits(s string) bool {
	for _, c := range s {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}

// atoi reads an integer between low and high.
func atoi(s string, low, high int) (int, bool) {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil || n < low || n > high {
		return 0, false
	}
	return n, true
}

// atof reads a number between low and high; anything else is 0.
func atof(s string, low, high float64) float64 {
	x, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil || !(x >= low && x <= high) {
		return 0
	}
	return x
}
