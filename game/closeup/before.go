package closeup

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"agremens/game/week"
	"agremens/realize/words"
)

// Row is how an ornament was tapped on one day: a round against oneself.
type Row struct {
	// Teacher says that the taps are the teacher's, sent with the task.
	Teacher                bool
	Who, Passage, Ornament string
	Day                    int       // since 1 January 1970
	Tempo                  float64   // felt beats a minute
	Offs                   []float64 // how late each note was, ms; NaN not tapped
}

// Memory is what is kept of earlier days, the oldest first. It stays on the
// device.
type Memory []Row

// Limits of a memory: rows at all, days of one ornament, and how long ago last
// week's taps are at most.
const (
	mostRows = 480
	mostDays = 8
	aWeek    = 7
)

// RowOf is the row of a figure.
func RowOf(f Figure, who, passage string, day int, tempo float64) Row {
	r := Row{Who: who, Passage: passage, Ornament: f.Ornament, Day: day, Tempo: tempo}
	for _, n := range f.Notes {
		off := math.NaN()
		if n.Tapped {
			off = math.Round(n.Off)
		}
		r.Offs = append(r.Offs, off)
	}
	return r
}

// same reports whether two rows can be laid side by side.
func (r *Row) same(o *Row) bool {
	return r.Who == o.Who && r.Passage == o.Passage && r.Ornament == o.Ornament && len(r.Offs) == len(o.Offs)
}

// Before returns the row that today's is compared with: the oldest of the last
// seven days, else the latest before them; nil for none.
func (m Memory) Before(now Row) *Row {
	var found *Row
	for i := range m {
		r := &m[i]
		if !r.same(&now) || r.Day >= now.Day {
			continue
		}
		if found == nil || now.Day-found.Day > aWeek {
			found = r
		}
	}
	return found
}

// Latest returns the last row of each ornament of a passage that one player
// tapped.
func (m Memory) Latest(who, passage string) map[string]Row {
	all := map[string]Row{}
	for _, r := range m {
		if r.Who == who && r.Passage == passage {
			all[r.Ornament] = r
		}
	}
	return all
}

// Add returns the memory with a row, which takes the place of the same day's;
// the oldest make room.
func (m Memory) Add(now Row) Memory {
	days := 0
	for i := len(m) - 1; i >= 0; i-- {
		if !m[i].same(&now) {
			continue
		}
		if days++; m[i].Day == now.Day || days >= mostDays {
			m = slices.Delete(m, i, i+1)
		}
	}
	m = append(m, now)
	return m[max(0, len(m)-mostRows):]
}

// Without returns the memory without what is one player's.
func (m Memory) Without(who string) Memory {
	return slices.DeleteFunc(m, func(r Row) bool { return r.Who == who })
}

// String is the memory as a text for [Remember], a line each.
func (m Memory) String() string {
	var b strings.Builder
	for _, r := range m {
		for _, field := range []string{r.Who, r.Passage, r.Ornament, strconv.Itoa(r.Day), strconv.Itoa(int(math.Round(r.Tempo)))} {
			b.WriteString(strings.NewReplacer("\t", " ", "\n", " ").Replace(field) + "\t")
		}
		b.WriteString(r.Lateness())
		b.WriteByte('\n')
	}
	return b.String()
}

// Lateness is how late each note was as a text for [ParseLateness], "12 - -7".
func (r *Row) Lateness() string {
	words := make([]string, len(r.Offs))
	for i, off := range r.Offs {
		words[i] = "-"
		if !math.IsNaN(off) {
			words[i] = strconv.Itoa(int(off))
		}
	}
	return strings.Join(words, " ")
}

// ParseLateness reads it; what is no number within limits was not tapped. ok is
// false for no notes or too many.
func ParseLateness(s string) (offs []float64, ok bool) {
	for _, word := range strings.Fields(s) {
		off, err := strconv.Atoi(word)
		if err != nil || off < -mostOff || off > mostOff {
			offs = append(offs, math.NaN())
			continue
		}
		offs = append(offs, float64(off))
	}
	return offs, len(offs) > 0 && len(offs) <= most
}

// Remember reads a memory; lines it cannot read are left out.
func Remember(text string) (m Memory) {
	for _, line := range strings.Split(text, "\n") {
		fields := strings.Split(line, "\t")
		if len(fields) != 6 {
			continue
		}
		day, err := strconv.Atoi(fields[3])
		tempo, err2 := strconv.Atoi(fields[4])
		if err != nil || err2 != nil {
			continue
		}
		if offs, ok := ParseLateness(fields[5]); ok {
			m = append(m, Row{Who: fields[0], Passage: fields[1], Ornament: fields[2], Day: day, Tempo: float64(tempo), Offs: offs})
		}
	}
	return m[max(0, len(m)-mostRows):]
}

// mostOff is how late a tap can be, ms: what is more was none.
const mostOff = 100_000

// label says when the row was tapped, or that it is the teacher's.
func (r *Row) label(c *words.Catalogue) string {
	tempo := strconv.Itoa(int(math.Round(r.Tempo)))
	if r.Teacher {
		return c.Say("pale: your teacher, at {tempo}", "{tempo}", tempo)
	}
	return c.Say("pale: {day}, at {tempo}", "{day}", c.Say(week.Weekdays[(r.Day%week.Length+week.Length+3)%week.Length]), "{tempo}", tempo)
}
