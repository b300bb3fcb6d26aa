package diary

import (
	"errors"
	"strconv"
	"strings"
)

// maxSize bounds a diary's text, in bytes.
const maxSize = 4 << 20

// maxStrange is how many lines of a later version are kept.
const maxStrange = 1000

// Errors of [Decode].
var (
	ErrNotDiary = errors.New("diary: this is no log of practice")
	ErrTooLong  = errors.New("diary: the log is longer than 4 MB")
)

// Decode reads a diary's text. A line that is damaged is left out and
// counted; one that a later version wrote is kept as it is.
func Decode(text string) (d *Diary, damaged int, err error) {
	if len(text) > maxSize {
		return nil, 0, ErrTooLong
	}
	first, rest, _ := strings.Cut(text, "\n")
	if !strings.HasPrefix(first, "agremens-diary ") {
		return nil, 0, ErrNotDiary
	}
	d = &Diary{}
	for row := range strings.SplitSeq(rest, "\n") {
		if strings.TrimSpace(row) == "" {
			continue
		}
		f := fields{all: strings.Split(row, "\t")}
		switch f.text() {
		case "player":
			p := Player{Name: f.text(), Rate: f.number(), With: f.text(), Young: f.text() != ""}
			if f.bad || !d.SetPlayer(p) {
				damaged++
			}
		case "round":
			if r := f.round(); f.bad {
				damaged++
			} else {
				d.Rounds = append(d.Rounds, r.tidy())
			}
		case "ear":
			e := Ear{When: f.when(), Player: f.text(), Passage: f.text(), Title: f.text(),
				OnBeat: f.whole(), Even: f.whole(), Lands: f.whole(), Steady: f.whole()}
			if f.bad {
				damaged++
			} else {
				d.Ears = append(d.Ears, e.tidy())
			}
		case "piano":
			p := Piano{When: f.when(), Player: f.text(), Passage: f.text(), Title: f.text(), Minutes: f.whole()}
			if f.bad {
				damaged++
			} else {
				d.Pianos = append(d.Pianos, p.tidy())
			}
		default:
			if len(d.strange) < maxStrange {
				d.strange = append(d.strange, row)
			}
		}
	}
	d.Rounds, d.Ears, d.Pianos = bounded(d.Rounds, MaxRounds), bounded(d.Ears, MaxEars), bounded(d.Pianos, MaxPianos)
	return d, damaged, nil
}

// fields reads the fields of a line one after the other; bad says that one
// was missing or no number.
type fields struct {
	all []string
	at  int
	bad bool
}

func (f *fields) text() string {
	if f.at >= len(f.all) {
		f.bad = true
		return ""
	}
	f.at++
	return f.all[f.at-1]
}

func (f *fields) number() float64 {
	s := f.text()
	if s == "" {
		return 0
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		f.bad = true
	}
	return x
}

func (f *fields) whole() int {
	n, err := strconv.Atoi(f.text())
	if err != nil {
		f.bad = true
	}
	return n
}

func (f *fields) when() When { return When{Day: f.whole(), Minute: f.whole()} }

func (f *fields) list() []float64 {
	s := f.text()
	if s == "" {
		return nil
	}
	parts := fields{all: strings.Split(s, ",")}
	var out []float64
	for range min(len(parts.all), maxStarts) {
		out = append(out, parts.number())
	}
	f.bad = f.bad || parts.bad
	return out
}

func (f *fields) round() Round {
	r := Round{
		When: f.when(), Player: f.text(), Passage: f.text(), Title: f.text(), Bars: f.text(), Kind: f.text(), With: f.text(), Hand: f.text(),
		Beats: f.number(), Goal: f.number(), Seconds: f.whole(),
		Wanted: f.whole(), Hit: f.whole(), Missed: f.whole(), Extra: f.whole(),
		MeanMS: f.number(), SpreadMS: f.number(), Starts: f.list(), Uneven: f.list(),
	}
	for _, letter := range f.text() {
		switch letter {
		case 'c':
			r.Clean = true
		case 't':
			r.Certain = true
		case 'u':
			r.Unaided = true
		case 'p':
			r.Plain = true
		case 'v':
			r.Void = true
		}
	}
	r.Fault = f.text()
	if f.at < len(f.all) { // earlier versions wrote none
		r.Where = f.text()
	}
	return r
}
