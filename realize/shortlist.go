package realize

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/sorting"
)

// MostChoices is how many choices a list has at most. More are reached by
// editing one of them.
const MostChoices = 6

// option is a realized candidate.
type option struct {
	Choice
	candidate
}

// asked is the weight from which a tradition asks for a shape at this place.
// Up to allowed it is good taste's own offer, up to unlikely another sign's.
const asked, allowed, unlikely = 60, 25, 3

// shortlist keeps the choices that differ in what is heard, the same ones
// whichever order is asked for: the plain note and one appoggiatura, what the
// sources and the performers put first, then each side's next in turn. The
// options come in the sources' order and stay in it.
func (pl *place) shortlist(options []option) []option {
	most := pl.most()
	if len(options) <= most {
		return options
	}
	kept := map[int]bool{}
	heard := map[string]bool{}
	sounds := make([]string, len(options))
	for i := range options {
		sounds[i] = pl.heard(&options[i].Choice)
	}
	keep := func(i int, repeat bool) {
		if i < 0 || kept[i] || len(kept) >= most || heard[sounds[i]] && !repeat {
			return
		}
		kept[i], heard[sounds[i]] = true, true
	}
	first := func(is func(o *option) bool) int {
		return slices.IndexFunc(options, func(o option) bool { return is(&o) })
	}
	played := byHabit(options)
	for _, taken := range pl.r.taste.taken(pl.note.ID, signNames(pl)) {
		keep(first(func(o *option) bool { return o.Key == taken }), true)
	}
	keep(first(func(o *option) bool { return o.Key == "plain" }), true)
	keep(0, true)
	if len(played) > 0 {
		keep(played[0], true)
	}
	keep(first(leans), true)
	for _, i := range pl.measuredTrills(options) {
		keep(i, true)
	}
	if pl.figure.turned() {
		pl.variety(options, keep)
	}
	for k := 1; k < len(options); k++ {
		if options[k].weight > allowed {
			keep(k, options[k].weight >= asked)
		}
		if k < len(played) {
			keep(played[k], false)
		}
	}
	for k := range options {
		if !leans(&options[k]) || pl.figure == graceFigure {
			keep(k, false)
		}
	}
	for k := range options {
		keep(k, true)
	}
	out := options[:0:0]
	for i := range options {
		if kept[i] {
			out = append(out, options[i])
		}
	}
	return out
}

// byHabit lists what performers do, the most usual first.
func byHabit(options []option) []int {
	var played []int
	for i := range options {
		if options[i].habit >= 0 {
			played = append(played, i)
		}
	}
	sorting.Stable(played, func(i, j int) int { return options[i].habit - options[j].habit })
	return played
}

// leans reports whether a choice is one appoggiatura and its principal.
func leans(o *option) bool {
	return len(o.Notes) == 2 && (strings.HasPrefix(o.Key, "lean") || strings.HasPrefix(o.Key, "crushed"))
}

// measuredTrills are the trills in step with the other hand on a long note
// over even notes: all where the sources put one first, else the quickest that
// the player can manage.
func (pl *place) measuredTrills(options []option) []int {
	if !pl.has(evenBelow) || !pl.has(aSecond) {
		return nil
	}
	var all, best []int
	for i := range options {
		o := &options[i]
		if shapes[o.candidate.key].grid == 0 {
			continue
		}
		all = append(all, i)
		if o.NotesPerSecond <= pl.r.rate*1.05 && (best == nil || options[best[0]].NotesPerSecond < o.NotesPerSecond) {
			best = []int{i}
		}
	}
	if len(all) > 0 && all[0] == 0 {
		return all
	}
	return best
}

// variety keeps the turn with the other lower neighbour and one of each
// sequence of notes, before the same notes in another rhythm.
func (pl *place) variety(options []option, keep func(int, bool)) {
	for i := range options {
		if options[i].other {
			keep(i, true)
		}
	}
	seen := map[string]bool{}
	for i := range options {
		if s := sequence(&options[i].Choice); !seen[s] && options[i].weight > unlikely {
			seen[s] = true
			keep(i, false)
		}
	}
}

// sequence tells choices apart by what is struck: degrees with repeated
// alternations counted once, and the lower neighbour's colour.
func sequence(c *Choice) string {
	var b strings.Builder
	lower := int8(0)
	for i := range c.Notes {
		if c.Notes[i].Degree == -1 {
			lower = c.Notes[i].Pitch.Alter
		}
	}
	for _, d := range collapsed(struck(c)) {
		b.WriteString(strconv.Itoa(d))
		b.WriteByte(' ')
	}
	b.WriteString(strconv.Itoa(int(lower)))
	b.WriteByte(' ')
	return b.String()
}

// heard tells choices apart by ear: what is struck, and how the time is shared.
func (pl *place) heard(c *Choice) string {
	var b strings.Builder
	b.WriteString(sequence(c))
	first, last := c.Notes[0], c.Notes[len(c.Notes)-1]
	eighths := func(f music.Frac) string { return strconv.FormatInt(f.Mul(music.Int(8)).Div(pl.room).Floor(), 10) }
	switch {
	case len(c.Notes) == 2 && first.Onset.Sign() < 0 && last.Onset.Sign() > 0:
		b.WriteString("astride")
	case last.Onset.Sign() < 0:
		b.WriteString("ahead")
	case len(c.Notes) == 2 || pl.figure == graceGroupFigure:
		b.WriteString(eighths(entry(c)))
	case first.Onset.Sign() < 0:
		b.WriteString("early")
	case first.Dur.Mul(music.Int(4)).Cmp(pl.room) > 0:
		b.WriteString("late " + eighths(first.Dur))
	case last.Dur.Mul(music.Int(2)).Cmp(pl.room) >= 0:
		b.WriteString("held")
	}
	return b.String()
}

// entry is the onset of the last note of the principal's own pitch.
func entry(c *Choice) music.Frac {
	at := music.Frac{}
	for i := range c.Notes {
		if c.Notes[i].Degree == 0 {
			at = c.Notes[i].Onset
		}
	}
	return at
}

// collapsed counts an alternation between two degrees once, however often it
// is repeated: 1 0 1 0 1 0 -1 0 becomes 1 0 -1 0.
func collapsed(degrees []int) []int {
	var out []int
	for i := 0; i < len(degrees); {
		out = append(out, degrees[i])
		if i+3 >= len(degrees) || degrees[i] == degrees[i+1] || degrees[i] != degrees[i+2] || degrees[i+1] != degrees[i+3] {
			i++
			continue
		}
		out = append(out, degrees[i+1])
		for i+3 < len(degrees) && degrees[i] == degrees[i+2] && degrees[i+1] == degrees[i+3] {
			i += 2
		}
		i += 2
	}
	return out
}

// most is how many choices of ours are offered: the user's own leads the list.
func (pl *place) most() int {
	if _, _, sound := pl.r.taste.own(pl.note.ID); sound {
		return MostChoices - 1
	}
	return MostChoices
}
