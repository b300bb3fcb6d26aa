package diary

import (
	"math"
	"strconv"
	"strings"
)

// heading is the first line of a diary's text; the number is the form's.
const heading = "agremens-diary 1"

// Encode writes a diary as text: a heading, then a line for each player,
// round, set of marks and time at the piano, its fields parted by tabs. A
// round is about a hundred characters. Times are kept to a tenth of a
// millisecond, shares to a thousandth.
func (d *Diary) Encode() string {
	var b strings.Builder
	b.WriteString(heading + "\n")
	for _, p := range d.Players {
		line(&b, "player", p.Name, decimal(p.Rate, 2), p.With, flag(p.Young))
	}
	for i := range d.Rounds {
		r := &d.Rounds[i]
		fields := []string{"round", strconv.Itoa(r.Day), strconv.Itoa(r.Minute), r.Player, r.Passage, r.Title, r.Bars, r.Kind, r.With, r.Hand,
			decimal(r.Beats, 2), decimal(r.Goal, 2), strconv.Itoa(r.Seconds),
			strconv.Itoa(r.Wanted), strconv.Itoa(r.Hit), strconv.Itoa(r.Missed), strconv.Itoa(r.Extra),
			decimal(r.MeanMS, 1), decimal(r.SpreadMS, 1), list(r.Starts, 1), list(r.Uneven, 3), r.flags(), r.Fault}
		if r.Where != "" {
			fields = append(fields, r.Where)
		}
		line(&b, fields...)
	}
	for _, e := range d.Ears {
		line(&b, "ear", strconv.Itoa(e.Day), strconv.Itoa(e.Minute), e.Player, e.Passage, e.Title,
			strconv.Itoa(e.OnBeat), strconv.Itoa(e.Even), strconv.Itoa(e.Lands), strconv.Itoa(e.Steady))
	}
	for _, p := range d.Pianos {
		line(&b, "piano", strconv.Itoa(p.Day), strconv.Itoa(p.Minute), p.Player, p.Passage, p.Title, strconv.Itoa(p.Minutes))
	}
	for _, s := range d.strange {
		b.WriteString(s + "\n")
	}
	return b.String()
}

// Letters of a round's flags.
const flagLetters = "ctupv" // clean, certain, unaided, plain, void

func (r *Round) flags() string {
	out := ""
	for i, on := range []bool{r.Clean, r.Certain, r.Unaided, r.Plain, r.Void} {
		if on {
			out += flagLetters[i : i+1]
		}
	}
	return out
}

// line writes fields, which hold neither tabs nor line ends (see clip).
func line(b *strings.Builder, fields ...string) {
	b.WriteString(strings.Join(fields, "\t"))
	b.WriteByte('\n')
}

func flag(on bool) string {
	if on {
		return "1"
	}
	return ""
}

// decimal writes a number with at most so many places; none for 0.
func decimal(x float64, places int) string {
	scale := math.Pow(10, float64(places))
	x = math.Round(x*scale) / scale
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

func list(x []float64, places int) string {
	parts := make([]string, len(x))
	for i, v := range x {
		parts[i] = decimal(v, places)
	}
	if len(parts) == 1 && parts[0] == "" {
		return "0" // one zero, and not none
	}
	return strings.Join(parts, ",")
}
