package kern

import (
	"slices"
	"strings"

	"agremens/realize/music"
)

// track is a column as it begins under its exclusive interpretation; the
// columns it splits into belong to it.
type track struct {
	kind       string // "kern", "dynam" …
	part, name string
	staff      string // "1", "1/2" as written, "" where it is not
	instrument string
	notes      int
	clef       byte // of the first clef
	clefs      []at[clefChange]
	slots      int // most columns at once
	cue        bool
	silent     bool // tuplets carry no number
	unbracket  bool
	transposed bool       // printed in another key than it sounds
	shift      *markPlace // an octave line that is open
}

// column is a spine between two changes of the number of columns.
type column struct {
	track *track
	kind  string
	// slot is the voice within the track, from 1.
	slot int
	busy music.Frac // where its last note ends, in quarters from the bar line
	// loose columns may go on anywhere: they have just begun, or what came
	// last could not be read.
	loose bool
	last  int // the chord that was read last, -1 none in this bar
	hints []hint
}

func (c *column) isNotes() bool { return c.kind == "kern" }

// path reports whether a line moves columns.
func path(fields []string) bool {
	return slices.ContainsFunc(fields, func(f string) bool {
		return f == "*^" || f == "*v" || f == "*x" || f == "*+" || f == "*-" || strings.HasPrefix(f, "**")
	})
}

// move follows the columns through a line of spine paths.
func (r *reader) move(fields []string) error {
	var out []*column
	for i := 0; i < len(fields); i++ {
		c := r.columns[i]
		switch f := fields[i]; {
		case f == "*-":
			r.ended = r.ended || c.isNotes()
		case f == "*^":
			right := *c
			right.hints = nil
			right.loose, right.last = true, -1
			right.slot = r.freeSlot(c.track, out)
			c.track.slots = max(c.track.slots, right.slot)
			out = append(out, c, &right)
		case f == "*+":
			out = append(out, c, &column{kind: "", last: -1, loose: true})
		case f == "*x" && i+1 < len(fields) && fields[i+1] == "*x":
			out = append(out, r.columns[i+1], c)
			i++
		case f == "*v":
			k := i
			for k+1 < len(fields) && fields[k+1] == "*v" && r.columns[k+1].track == c.track {
				k++
			}
			if k == i && i+1 < len(fields) && fields[i+1] == "*v" {
				k++ // columns of two tracks become one
			}
			if k == i {
				r.warn(i, "a column joins with no other")
			}
			for _, d := range r.columns[i+1 : k+1] {
				c.busy = c.busy.Max(d.busy)
				c.loose = c.loose && d.loose
			}
			out = append(out, c)
			i = k
		case strings.HasPrefix(f, "**"):
			r.begin(c, f[2:])
			out = append(out, c)
		default:
			out = append(out, c)
		}
	}
	if len(out) > maxColumns {
		return fail(r.spot(-1), mendSplit, "the file has more than {n} columns", "{n}", number(maxColumns))
	}
	r.columns = out
	r.over = len(out) == 0
	return nil
}

// freeSlot is the lowest voice of a track that no column has.
func (r *reader) freeSlot(t *track, out []*column) int {
	used := map[int]bool{}
	for _, list := range [2][]*column{r.columns, out} {
		for _, c := range list {
			if c.track == t {
				used[c.slot] = true
			}
		}
	}
	slot := 1
	for used[slot] {
		slot++
	}
	return slot
}

// begin gives a column its kind.
func (r *reader) begin(c *column, kind string) {
	c.track = &track{kind: kind, slots: 1}
	c.kind, c.slot, c.last, c.loose = kind, 1, -1, true
	r.tracks = append(r.tracks, c.track)
}

// align gives the columns of every track their voices from left to right.
func (r *reader) align() {
	next := map[*track]int{}
	for _, c := range r.columns {
		if c.track != nil {
			next[c.track]++
			c.slot = next[c.track]
		}
		c.busy, c.loose, c.last = music.Frac{}, true, -1
	}
}
