package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"

	"agremens/realize/codec/smf"
	"agremens/realize/codec/wav"
	"agremens/realize/hear"
	"agremens/realize/heard"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

var errNothingHeard = errors.New("nothing was heard in it: the recording is silent")

// listen hears the file and chooses the way that was played. What could not be
// done is said in errs.
func (q listening) listen(name string, t *task, errs io.Writer) (*heardFile, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	h := &heardFile{task: t}
	var start [4]byte
	if _, err := io.ReadFull(file, start[:]); err != nil {
		return nil, fmt.Errorf("%s: it is empty", name)
	}
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	var l *hear.Listener
	if string(start[:]) == "MThd" {
		data, err := io.ReadAll(file)
		if err != nil {
			return nil, err
		}
		struck, err := smf.Decode(data)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		l = hear.New(t.ways[0].expected, hear.Options{})
		for _, s := range struck {
			l.Strike(hear.Strike{At: s.At, Key: s.Key, Odds: certain, Level: 40 * math.Log10(float64(max(1, s.Strength))/127)})
		}
		if q.beat {
			fmt.Fprintln(errs, "-beat is left out: a MIDI file holds no beat that was heard")
		}
	} else if l, err = q.listenToSound(name, file, t, h, errs); err != nil {
		return nil, err
	}
	if s := l.Seconds(); s > hear.Judged {
		fmt.Fprintf(errs, "%s lasts %.0f minutes; its last %.0f are judged\n", name, s/60, hear.Judged/60)
	}
	h.choose(l)
	if h.report.Reason == hear.Silent {
		return nil, fmt.Errorf("%s: %w", name, errNothingHeard)
	}
	h.judge()
	return h, nil
}

// choose judges what was heard by the way, and the hands, that explain it best.
func (h *heardFile) choose(l *hear.Listener) {
	h.way, h.alone = nil, ""
	try := func(w *way, e hear.Expected, alone string, by float64) {
		if r := l.Against(e); h.way == nil || r.Reason == "" && (h.report.Reason != "" || r.Fit > h.report.Fit+by) {
			h.report, h.way, h.alone = r, w, alone
		}
	}
	for i := range h.task.ways {
		try(&h.task.ways[i], h.task.ways[i].expected, "", clearer)
	}
	// Whoever plays one hand leaves out the other's notes.
	if h.report.Reason == "" && !h.lacking() || h.report.Strayed {
		return
	}
	for _, hand := range [2]perf.Hand{perf.Right, perf.Left} {
		if one, some := h.task.ways[0].oneHand(hand); some {
			try(&h.task.ways[0], one, handName(hand), clearer)
		}
	}
	for i := range h.task.ways {
		w := &h.task.ways[i]
		if h.alone != "" && i > 0 {
			one, _ := w.oneHand(handNamed(h.alone))
			try(w, one, h.alone, clearer)
		}
	}
}

// clearer is by how much another way must explain the sound better.
const clearer = 0.5

// lacking reports whether much of a hand is missing.
func (h *heardFile) lacking() bool {
	var due, gone [2]int
	for i, n := range h.report.Notes {
		if hand := h.way.expected.Notes[i].Hand; n.Reached && !h.way.expected.Notes[i].Program {
			due[hand]++
			if !n.Played && !n.Unsure {
				gone[hand]++
			}
		}
	}
	return 2*gone[0] > due[0] || 2*gone[1] > due[1]
}

const certain = 8.0 // logarithm of the odds that a key of a MIDI file was struck

const hearBlock = 1 << 15

func (q listening) listenToSound(name string, file io.ReadSeeker, t *task, h *heardFile, errs io.Writer) (*hear.Listener, error) {
	var also []int
	for _, w := range t.ways {
		for _, n := range w.expected.Notes {
			also = append(also, n.Key)
		}
	}
	sound, err := wav.New(file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	s := &speaker{beat: t.beat.pulse(q, float64(sound.Rate))}
	if q.speaker != "" {
		if s, err = q.openSpeaker(sound, t, errs); err != nil {
			return nil, err
		}
	}
	options := hear.Options{Rate: float64(sound.Rate), Also: also, Cut: true}
	l := hear.New(t.ways[0].expected, options)
	s.feed(l, sound)
	report := l.Finish()
	if again, needed := options.Retuned(report); needed {
		if _, err := file.Seek(0, io.SeekStart); err != nil {
			return nil, err
		}
		if sound, err = wav.New(file); err != nil {
			return nil, err
		}
		l = hear.New(t.ways[0].expected, again)
		s.feed(l, sound)
		l.Finish()
	}
	s.tell(q, t, h, l, errs)
	return l, nil
}

// heardFile is what was heard of a file.
type heardFile struct {
	task   *task
	way    *way
	report hear.Report
	judged tap.Result
	alone  string // the one hand that was played, "" both
	delay  *float64
}

// judge has what was heard judged as taps are.
func (h *heardFile) judge() {
	if h.report.Reason == "" {
		o := tap.Options{}
		if q := 60_000 / h.report.Tempo; q > 0 && !math.IsInf(q, 0) {
			o.BeatMS = q * h.task.beat.every
		}
		e := h.way.expected
		if h.alone != "" {
			e, _ = h.way.oneHand(handNamed(h.alone))
			o.Alone = true
		}
		h.judged = heard.Judge(e, h.report, h.way.about, o)
	}
}
