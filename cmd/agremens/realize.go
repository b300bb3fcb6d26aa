package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/score"
)

// request is what realize was asked for.
type request struct {
	tradition  string
	prefer     realize.Preference
	measures   string
	tempo      float64 // quarters a minute, 0 the score's
	rate       float64 // the player's, notes a second, 0 not known
	percent    float64 // of the goal tempo, for midi and wav
	repeats    bool
	instrument string
	ornaments  string // in midi and wav: performed or even
	tuning     string
	pitch      float64 // Hz of a'
	taste      realize.Taste
}

// realizeFile reads a score, realizes its ornaments and writes them.
func realizeFile(args []string, out, errs io.Writer) error {
	set, parse := flags("realize", errs)
	var q request
	set.StringVar(&q.tradition, "tradition", "", "follow this tradition: "+traditionKeys()+" (default: by composer and date)")
	set.StringVar((*string)(&q.prefer), "prefer", string(realize.Sources), "list first what the sources or the performers prefer")
	set.StringVar(&q.measures, "measures", "", "only these bars, by their printed numbers: 5-8 or 5 (default: all)")
	set.Float64Var(&q.tempo, "tempo", 0, "goal tempo in quarter notes per minute (default: the score's)")
	set.Float64Var(&q.rate, "rate", 0, fmt.Sprintf("notes a second that the player manages, which decides how many notes a trill has (default: not known, %v as for a student)", realize.StudentRate))
	set.Float64Var(&q.percent, "percent", 100, "tempo of midi and wav in percent of the goal tempo")
	set.BoolVar(&q.repeats, "repeats", false, "take repeats, da capo and dal segno in midi and wav")
	set.StringVar(&q.instrument, "instrument", "harpsichord", "instrument of wav")
	set.StringVar(&q.ornaments, "ornaments", "even", "ornaments in midi and wav: performed, as pianists time them, or plain and even")
	set.StringVar(&q.tuning, "tuning", "equal", "temperament of wav")
	set.Float64Var(&q.pitch, "pitch", 440, "pitch of a' in hertz, for wav")
	printed := set.Bool("as-printed", false, "read only the ornament signs of a .krn file, not the intervals it gives for them")
	decisions := set.String("taste", "", "apply the decisions saved in this file")
	format := set.String("format", "text", "output format: text, "+strings.Join(formatNames(), ", "))
	name := set.String("o", "", "write to this file (default: standard output)")
	set.Usage = func() {
		fmt.Fprint(set.Output(), "usage: agremens realize [flags] FILE\n\nexamples:\n"+lines(realizeExamples)+"\nflags:\n")
		set.PrintDefaults()
	}
	operands, err := parse(args)
	switch {
	case err != nil:
		return err
	case len(operands) == 0:
		return wrongUse{"realize needs a score file"}
	case len(operands) > 1:
		return wrongUse{fmt.Sprintf("realize reads one file, not %d", len(operands))}
	}
	write, err := q.check(*format)
	if err != nil {
		return err
	}
	if err := q.readTaste(*decisions); err != nil {
		return err
	}
	data, err := os.ReadFile(operands[0])
	if err != nil {
		return fmt.Errorf("%w — give the path of a .musicxml, .xml, .mxl, .krn or .abc file", err)
	}
	open := func(data []byte) (*codec.Score, error) { return codec.Open(data, "", nil) }
	if *printed {
		open = codec.OpenAsPrinted
	}
	opened, err := open(data)
	if err != nil {
		return fmt.Errorf("%s: %s", operands[0], strings.TrimSpace(codec.Words(err)))
	}
	p := opened.Passage
	if p.Title == "" { // often the only place that names the composer
		file := filepath.Base(operands[0])
		p.Title = strings.TrimSuffix(file, filepath.Ext(file))
	}
	from, to, err := measureRange(p, q.measures)
	if err != nil {
		return fmt.Errorf("%s: %w", operands[0], err)
	}
	r := realize.Read(p, q.taste)
	result, err := write(written{r, opened, from, to, q})
	if err != nil {
		return fmt.Errorf("%s: -format %s: %w", operands[0], *format, err)
	}
	if *name == "" {
		_, err = out.Write(result)
		return err
	}
	return os.WriteFile(*name, result, 0o644)
}

// readTaste takes the decisions of a file; what the command line says goes
// before them.
func (q *request) readTaste(file string) error {
	if file != "" {
		text, err := os.ReadFile(file)
		if err != nil {
			return fmt.Errorf("-taste: %w", err)
		}
		if q.taste, err = realize.ParseTaste(string(text)); err != nil {
			return fmt.Errorf("-taste %s: %w", file, err)
		}
	}
	t := &q.taste
	if q.tradition != "" {
		t.Tradition = q.tradition
	}
	if q.tempo != 0 {
		t.Tempo = q.tempo
	}
	if q.rate != 0 {
		t.Rate = q.rate
	}
	if t.Prefer == "" || q.prefer != realize.Sources {
		t.Prefer = q.prefer
	}
	return nil
}

// check refuses what cannot be done before any file is read, and returns the
// writer of the format.
func (q request) check(format string) (writer, error) {
	write := formats[format]
	switch {
	case write == nil:
		return nil, wrongUse{fmt.Sprintf("-format %s is not one of text, %s", format, strings.Join(formatNames(), ", "))}
	case q.prefer != realize.Sources && q.prefer != realize.Performers:
		return nil, wrongUse{fmt.Sprintf("-prefer %s is neither sources nor performers", q.prefer)}
	case q.tempo != 0 && !(q.tempo >= 5 && q.tempo <= 1000): // NaN is in no range
		return nil, wrongUse{fmt.Sprintf("-tempo %v is not between 5 and 1000 quarter notes per minute", q.tempo)}
	case q.rate != 0 && !(q.rate >= realize.SlowestRate && q.rate <= realize.FastestRate):
		return nil, wrongUse{fmt.Sprintf("-rate %v is not between %v and %v notes a second", q.rate, realize.SlowestRate, realize.FastestRate)}
	case !(q.percent >= 5 && q.percent <= 400):
		return nil, wrongUse{fmt.Sprintf("-percent %v is not between 5 and 400", q.percent)}
	case !(q.pitch >= 300 && q.pitch <= 600):
		return nil, wrongUse{fmt.Sprintf("-pitch %v is not between 300 and 600 hertz", q.pitch)}
	case q.ornaments != "performed" && q.ornaments != "even":
		return nil, wrongUse{fmt.Sprintf("-ornaments %s is neither performed nor even", q.ornaments)}
	case q.tradition != "" && !slices.ContainsFunc(realize.Traditions(), func(t realize.TraditionInfo) bool { return t.Key == q.tradition }):
		return nil, wrongUse{fmt.Sprintf("-tradition %s is not one of %s", q.tradition, traditionKeys())}
	}
	return write, q.checkSound()
}

func traditionKeys() string {
	var keys []string
	for _, t := range realize.Traditions() {
		keys = append(keys, t.Key)
	}
	return strings.Join(keys, ", ")
}

// measureRange returns the indexes [from, to) of the measures in a range of
// printed numbers; "" is all of them.
func measureRange(p *score.Passage, measures string) (from, to int, err error) {
	if measures == "" {
		return 0, len(p.Measures), nil
	}
	first, last, isRange := strings.Cut(measures, "-")
	if !isRange {
		last = first
	}
	from = slices.IndexFunc(p.Measures, func(m score.Measure) bool { return m.Number == strings.TrimSpace(first) })
	for i, m := range p.Measures {
		if m.Number == strings.TrimSpace(last) {
			to = i + 1
		}
	}
	if from < 0 || to <= from {
		return 0, 0, fmt.Errorf("-measures %s matches no bars of this score, which has %s", measures, numbers(p))
	}
	return from, to, nil
}

func numbers(p *score.Passage) string {
	if len(p.Measures) == 0 {
		return "none"
	}
	return strconv.Itoa(len(p.Measures)) + ", numbered " + p.Measures[0].Number + " to " + p.Measures[len(p.Measures)-1].Number
}
