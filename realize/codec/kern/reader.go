package kern

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/codec/told"
	"agremens/realize/music"
	"agremens/realize/score"
)

// reader goes through a file line by line. Onsets are relative to their
// measure until the passage is assembled.
type reader struct {
	options  Options
	warnings told.Warnings
	left     told.Tally
	records  records
	letters  letters

	lineNumber int
	columns    []*column
	tracks     []*track
	started    bool // an exclusive interpretation was seen
	ended      bool // a column was closed with *-
	over       bool // all of them were

	measures []measure
	now      music.Frac // of the last row with notes, from the bar line
	held     music.Frac // where the last note of the measure ends
	rows     int        // rows with notes in the measure
	common   music.Common
	leveled  bool // a column of dynamics says in this row how loud it is

	key     music.Key
	metre   music.Metre
	sign    metreSign
	chords  []*draft
	notes   int
	marks   []*markPlace
	tempos  []at[score.Tempo]
	labels  []label
	orders  []order
	pending []func()
	curves  []openCurve
	slurs   []drawn
	wedges  map[*track]*markPlace
}

// measure is a measure while it is read.
type measure struct {
	score.Measure
	line int
	open bool // no bar line has closed it yet
}

// at is something that stands in a measure, at an onset relative to it.
type at[T any] struct {
	measure int
	onset   music.Frac
	item    T
}

// draft is a chord while it is read.
type draft struct {
	score.Chord
	track   *track
	slot    int
	line    int
	spine   int
	marks   beamMarks
	written []note
	hints   []hint
	unshown bool // its tuplet has no number
	bare    bool // and no bracket
	index   int  // in the passage, -1 where it does not reach it
}

func newReader(o Options) *reader {
	return &reader{options: o, wedges: map[*track]*markPlace{}}
}

func number(n int) string { return strconv.Itoa(n) }

// spot is the place of field i of the line that is read; -1 is all of it.
func (r *reader) spot(i int) told.Place {
	s := told.Place{Line: r.lineNumber, Spine: i + 1}
	if n := len(r.measures); n > 0 {
		s.Measure = r.measures[n-1].Number
	}
	return s
}

func (r *reader) warn(i int, what string, fill ...string) {
	r.warnings.Add(r.spot(i), what, fill...)
}

// line reads one line.
func (r *reader) line(n int, text string) error {
	r.lineNumber = n
	switch {
	case strings.TrimSpace(text) == "":
		return nil
	case strings.HasPrefix(text, "!!!"):
		r.record(text)
		return nil
	case strings.HasPrefix(text, "!!"):
		r.globalHint(text[2:])
		return nil
	}
	fields := strings.Split(text, "\t")
	if !r.started {
		return r.open(fields)
	}
	if len(fields) != len(r.columns) {
		fields = slices.DeleteFunc(fields, func(f string) bool { return f == "" })
	}
	if len(fields) != len(r.columns) {
		return r.uneven(fields)
	}
	switch {
	case fields[0] != "" && fields[0][0] == '!':
		r.localHints(fields)
	case fields[0] != "" && fields[0][0] == '*':
		r.interpret(fields)
		if path(fields) {
			return r.move(fields)
		}
	case fields[0] != "" && fields[0][0] == '=':
		return r.barline(fields)
	default:
		return r.row(fields)
	}
	return nil
}

// open reads the line that says what the columns hold.
func (r *reader) open(fields []string) error {
	if !strings.HasPrefix(fields[0], "**") {
		if strings.HasPrefix(fields[0], "!") {
			return nil
		}
		return fail(r.spot(-1), mendFetch, "the columns are used before a line says what they hold (**kern)")
	}
	if len(fields) == 1 && len(strings.Fields(fields[0])) > 1 {
		return fail(r.spot(-1), mendFetch, "the columns stand apart with spaces, not with tabulators")
	}
	if len(fields) > maxColumns {
		return fail(r.spot(-1), mendSplit, "the file has more than {n} columns", "{n}", number(maxColumns))
	}
	kern := false
	for _, f := range fields {
		c := &column{}
		r.begin(c, strings.TrimSpace(strings.TrimPrefix(f, "**")))
		r.columns = append(r.columns, c)
		kern = kern || c.isNotes()
	}
	if !kern {
		return fail(r.spot(-1), "open a file with **kern columns", "the file holds no notes: none of its columns is **kern")
	}
	r.started = true
	return nil
}

// uneven deals with a line of too many or too few columns.
func (r *reader) uneven(fields []string) error {
	if strings.HasPrefix(fields[0], "!") {
		return nil
	}
	have, want := number(len(fields)), number(len(r.columns))
	if path(fields) {
		return fail(r.spot(-1), mendLine, "the number of columns in this line, {n}, is not that of the open ones, {m}, and the line changes them: what comes after it cannot be read", "{n}", have, "{m}", want)
	}
	if strings.HasPrefix(fields[0], "=") {
		full := make([]string, len(r.columns))
		for i := range full {
			full[i] = fields[0]
		}
		r.warn(-1, "the number of columns in this line, {n}, is not that of the open ones, {m}; it was left out", "{n}", have, "{m}", want)
		return r.barline(full)
	}
	r.warn(-1, "the number of columns in this line, {n}, is not that of the open ones, {m}; it was left out", "{n}", have, "{m}", want)
	return nil
}

// current returns the index of the measure that is read, beginning one if
// none is open.
func (r *reader) current() int {
	if n := len(r.measures); n > 0 && r.measures[n-1].open {
		return n - 1
	}
	r.measures = append(r.measures, measure{
		Measure: score.Measure{Number: "0", Key: r.key, Metre: r.metre, Implicit: true},
		line:    r.lineNumber, open: true,
	})
	return len(r.measures) - 1
}

// finish closes what the end of the file leaves open.
func (r *reader) finish() error {
	if !r.started {
		return fail(told.Place{}, "open a file with **kern columns", "the file holds no columns of notes")
	}
	if !r.over {
		r.warn(-1, "the file ends before its columns do (*-): its end may be missing")
	}
	r.settle()
	r.closeMeasure()
	return nil
}

// settle does what is due.
func (r *reader) settle() {
	for _, do := range r.pending {
		do()
	}
	r.pending = nil
}
