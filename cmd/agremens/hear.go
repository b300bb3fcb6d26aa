package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/codec/smf"
	"agremens/realize/codec/wav"
	"agremens/realize/hear"
	"agremens/realize/heard"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

var hearExamples = []example{
	{"agremens hear -score in.mxl -bars 5-8 take.wav", "what was played in the recording, note by note"},
	{"agremens hear -score in.mxl -bars 5 -format text take.mid", "the same of a MIDI file, for people"},
}

// listening is what hear was asked for.
type listening struct {
	score, bars, expect, speaker, sounded string
	tempo                                 float64
	beat                                  bool
}

// hearFile listens to a recording and writes what was played.
func hearFile(args []string, out, errs io.Writer) error {
	set, parse := flags("hear", errs)
	var q listening
	set.StringVar(&q.score, "score", "", "the score that was played from")
	set.StringVar(&q.bars, "bars", "", "the bars that were played, by their printed numbers: 5-8 or 5 (default: all)")
	set.Float64Var(&q.tempo, "tempo", 0, "quarter notes per minute that the player was asked for (default: the player's own)")
	set.BoolVar(&q.beat, "beat", false, "the beat sounded from the loudspeaker: hold errors against it")
	set.StringVar(&q.speaker, "speaker", "", "WAV file of what the loudspeaker was sent, on the recording's time scale")
	set.StringVar(&q.sounded, "sounded", "", "this hand sounded from the loudspeaker and is not judged: left or right")
	set.StringVar(&q.expect, "expect", "", "JSON file of the notes to expect, in place of the program's own")
	format := set.String("format", "json", "output format: json or text")
	set.Usage = func() {
		fmt.Fprint(set.Output(), "usage: agremens hear [flags] AUDIO\n\nAUDIO is a WAV or a MIDI file.\n\nexamples:\n"+lines(hearExamples)+"\nflags:\n")
		set.PrintDefaults()
	}
	operands, err := parse(args)
	switch {
	case err != nil:
		return err
	case len(operands) != 1:
		return wrongUse{fmt.Sprintf("hear listens to one file, not %d", len(operands))}
	case q.score == "" && q.expect == "":
		return wrongUse{"hear needs -score or -expect, to know what may be played"}
	case q.tempo != 0 && !(q.tempo >= 5 && q.tempo <= 1000):
		return wrongUse{fmt.Sprintf("-tempo %v is not between 5 and 1000 quarter notes per minute", q.tempo)}
	case q.sounded != "" && q.sounded != "left" && q.sounded != "right":
		return wrongUse{fmt.Sprintf("-sounded %s is neither left nor right", q.sounded)}
	case *format != "json" && *format != "text":
		return wrongUse{fmt.Sprintf("-format %s is neither json nor text", *format)}
	}
	task, err := q.task()
	if err != nil {
		return err
	}
	h, err := q.listen(operands[0], task, errs)
	if err != nil {
		return err
	}
	if *format == "text" {
		_, err = out.Write(h.text())
		return err
	}
	body, err := h.json()
	if err != nil {
		return err
	}
	_, err = out.Write(body)
	return err
}

// task is what may be played, in one or more ways.
type task struct {
	ways   []way
	places map[string]string // of each note, as exact fractions
	clicks *clicksJSON
	beat   beatOf
}

// way is one way to play, and its choice at each ornament.
type way struct {
	expected hear.Expected
	about    []tap.Want          // what the score says of each note, nil where there is none
	choices  map[string]choiceOf // by ornament
}

type choiceOf struct {
	note   string // id of the principal
	choice int
	place  string // for people
}

// expectJSON is the file of -expect, schema 1.
type expectJSON struct {
	Schema int     `json:"schema"`
	Tempo  float64 `json:"tempo"`
	About  float64 `json:"quarters_per_minute_about"`
	Notes  []struct {
		ID       string  `json:"id"`
		MIDI     int     `json:"midi"`
		Q        float64 `json:"q"`
		Hand     string  `json:"hand"`
		Ornament bool    `json:"orn"`
	} `json:"notes"`
	Ornament struct {
		Note        string   `json:"note"`
		Quarter     float64  `json:"quarter"`
		Landing     string   `json:"landing"`
		Refs        []string `json:"refs"`
		LandingRefs []string `json:"landing_refs"`
	} `json:"ornament"`
	Clicks  *clicksJSON `json:"clicks"`
	Program []struct {
		ID   string  `json:"id"`
		MIDI int     `json:"midi"`
		Sent float64 `json:"sent_s"`
	} `json:"program_notes"`
}

type clicksJSON struct {
	First float64 `json:"first_s"`
	Every float64 `json:"every_s"`
	Count int     `json:"count"`
	Bar   float64 `json:"bar1_s"`
}

func (q listening) task() (*task, error) {
	if q.expect != "" {
		return q.taskFromFile()
	}
	data, err := os.ReadFile(q.score)
	if err != nil {
		return nil, fmt.Errorf("%w — give the path of a .musicxml, .xml, .mxl, .krn or .abc file", err)
	}
	opened, err := codec.Open(data, "", nil)
	if err != nil {
		return nil, fmt.Errorf("%s: %s", q.score, strings.TrimSpace(codec.Words(err)))
	}
	from, to, err := measureRange(opened.Passage, q.bars)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", q.score, err)
	}
	r := realize.Read(opened.Passage, realize.Taste{})
	t := &task{places: map[string]string{}, beat: beatIn(opened.Passage, from, q)}
	t.add(r, from, to, q)
	// The other good ways, one ornament at a time.
	for i := range r.Ornaments {
		o := r.Ornaments[i]
		if o.Measure < from || o.Measure >= to {
			continue
		}
		for c := range o.Choices {
			if c != o.Chosen {
				other := *r
				other.Ornaments = append([]realize.Ornament(nil), r.Ornaments...)
				other.Ornaments[i].Chosen = c
				t.add(&other, from, to, q)
			}
		}
	}
	return t, nil
}

// mostWays bounds how many ways to play are compared.
const mostWays = 40

func (t *task) add(r *realize.Reading, from, to int, q listening) {
	if len(t.ways) >= mostWays {
		return
	}
	p := r.Passage
	begin, end := p.Measures[from].Onset, p.Measures[to-1].Onset.Add(p.Measures[to-1].Length)
	w := way{choices: map[string]choiceOf{}}
	w.expected.Tempo, w.expected.About = q.tempo, r.Tempo
	inside, names := map[string]bool{}, map[string]string{}
	for _, o := range r.Ornaments {
		if o.Chosen >= 0 && o.Chosen < len(o.Choices) {
			names[o.ID] = o.Choices[o.Chosen].Name
		}
		if o.Measure >= from && o.Measure < to {
			inside[o.ID] = true
			w.choices[o.ID] = choiceOf{string(o.Note), o.Chosen, fmt.Sprintf("Bar %s, %s hand, %s", p.Measures[o.Measure].Number, handName(handOf(o.Staff)), o.Principal)}
		}
	}
	for _, n := range realize.Perform(r, realize.PerformOptions{}).Notes {
		own := n.Ornament != "" && inside[n.Ornament]
		if !own && (n.Onset.Less(begin) || end.Less(n.Onset)) {
			continue
		}
		id := string(n.From)
		if n.Ornament != "" {
			id += "." + strconv.Itoa(n.Index+1)
		}
		at := n.Onset.Sub(begin)
		t.places[id] = at.String()
		note := hear.Note{ID: id, Key: n.Pitch.MIDI(), At: at.Float(), Hand: n.Hand, Ornament: n.Ornament}
		if !own {
			note.Ornament = "" // it lands there, and what follows is not asked for
		}
		if q.sounded == handName(n.Hand) {
			note.Program, note.Sent = true, math.NaN()
		}
		w.expected.Notes = append(w.expected.Notes, note)
		w.about = append(w.about, tap.Want{Onset: n.Onset, Written: n.Onset, Note: n.From, Name: names[n.Ornament], Degree: n.Degree, Measured: n.Measured})
	}
	t.ways = append(t.ways, w)
}

func handOf(staff int) perf.Hand {
	if staff == 2 {
		return perf.Left
	}
	return perf.Right
}

func handName(h perf.Hand) string {
	if h == perf.Left {
		return "left"
	}
	return "right"
}

func (q listening) taskFromFile() (*task, error) {
	data, err := os.ReadFile(q.expect)
	if err != nil {
		return nil, fmt.Errorf("-expect: %w", err)
	}
	var e expectJSON
	if err := json.Unmarshal(data, &e); err != nil {
		return nil, fmt.Errorf("-expect %s: %w", q.expect, err)
	}
	if e.Schema != 1 {
		return nil, fmt.Errorf("-expect %s: its schema is %d, not 1", q.expect, e.Schema)
	}
	w := way{choices: map[string]choiceOf{"o": {note: e.Ornament.Note}}}
	w.expected.Tempo, w.expected.About = q.tempo, e.About
	if q.tempo == 0 {
		w.expected.Tempo = e.Tempo
	}
	t := &task{places: map[string]string{}, clicks: e.Clicks, beat: beatOf{every: 1, quarter: 60 / w.expected.Tempo}}
	for _, n := range e.Notes {
		note := hear.Note{ID: n.ID, Key: n.MIDI, At: n.Q}
		if n.Hand == "left" {
			note.Hand = perf.Left
		}
		if n.Ornament {
			note.Ornament = "o"
		}
		t.places[n.ID] = fraction(n.Q)
		if q.sounded == n.Hand {
			note.Program, note.Sent = true, math.NaN()
		}
		w.expected.Notes = append(w.expected.Notes, note)
	}
	w.programNotes(e)
	t.ways = []way{w}
	return t, nil
}

// programNotes adds the notes that the loudspeaker sounded. The file says of
// those alone where they stand against which the ornament is held.
func (w *way) programNotes(e expectJSON) {
	known := map[string]int{}
	for i, n := range w.expected.Notes {
		known[n.ID] = i
	}
	for _, p := range e.Program {
		if i, ok := known[p.ID]; ok && p.ID != "" {
			w.expected.Notes[i].Program, w.expected.Notes[i].Sent = true, p.Sent
			continue
		}
		n := hear.Note{ID: p.ID, Key: p.MIDI, At: math.NaN(), Program: true, Sent: p.Sent}
		if i, ok := known[e.Ornament.Landing]; ok {
			n.Hand = 1 - w.expected.Notes[i].Hand
			if slices.Contains(e.Ornament.LandingRefs, p.ID) {
				n.At = w.expected.Notes[i].At
			}
		}
		if slices.Contains(e.Ornament.Refs, p.ID) {
			n.At = e.Ornament.Quarter
		}
		w.expected.Notes = append(w.expected.Notes, n)
	}
}

// fraction is the simplest fraction of a quarter near x.
func fraction(x float64) string {
	for _, den := range []int64{1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96} {
		if n := math.Round(x * float64(den)); math.Abs(n-x*float64(den)) < 0.002*float64(den) {
			return music.F(int64(n), den).String()
		}
	}
	return strconv.FormatFloat(x, 'f', 4, 64)
}

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
	if h.report.Reason == "" && !h.lacking() {
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

func handNamed(name string) perf.Hand {
	if name == "left" {
		return perf.Left
	}
	return perf.Right
}

// oneHand is what may be played where the other hand rests: its notes keep
// their places below the keyboard. some is false where one hand is all there is.
func (w *way) oneHand(hand perf.Hand) (e hear.Expected, some bool) {
	e = w.expected
	e.Notes = append([]hear.Note(nil), e.Notes...)
	both := [2]bool{}
	for i := range e.Notes {
		if n := &e.Notes[i]; !n.Program {
			both[n.Hand] = true
			if n.Hand != hand {
				n.Key = -1
			}
		}
	}
	return e, both[0] && both[1]
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

type hearJSON struct {
	Schema    int            `json:"schema"`
	Offset    *float64       `json:"offset_s"`
	Tempo     *float64       `json:"tempo"`
	Cents     float64        `json:"tuning_cents"`
	Delay     *float64       `json:"speaker_delay_s"`
	Passes    int            `json:"passes"`
	Alone     string         `json:"alone,omitempty"` // the one hand that was played
	Stopped   *string        `json:"stopped"`
	Notes     []heardJSON    `json:"notes"`
	Extra     []extraJSON    `json:"extra"`
	Ornaments []ornateJSON   `json:"ornaments"`
	Summary   string         `json:"summary,omitempty"`
	Next      string         `json:"next,omitempty"`
	Findings  []findingJSON  `json:"findings"`
	Heard     conditionsJSON `json:"heard"`
}

type heardJSON struct {
	ID         string   `json:"id"`
	MIDI       int      `json:"midi"`
	Expected   string   `json:"expected"`
	Onset      *float64 `json:"onset_s"`
	Error      *float64 `json:"error_ms"`
	Confidence float64  `json:"confidence"`
	Unsure     bool     `json:"unsure"`
	NotReached bool     `json:"not_reached,omitempty"`
	By         string   `json:"by,omitempty"`
}

type extraJSON struct {
	Onset      float64 `json:"onset_s"`
	MIDI       int     `json:"midi"`
	InsteadOf  *string `json:"instead_of"`
	Confidence float64 `json:"confidence"`
}

type ornateJSON struct {
	Note      string      `json:"note"`
	Choice    int         `json:"choice"`
	Start     *float64    `json:"start_ms"`
	Evenness  *float64    `json:"evenness"`
	Landing   *float64    `json:"landing_ms"`
	PerSecond *float64    `json:"notes_per_second"`
	Softest   string      `json:"softest,omitempty"`
	Loudest   string      `json:"loudest,omitempty"`
	Together  string      `json:"together,omitempty"` // struck at once with the note before it
	Faults    []faultJSON `json:"faults"`
}

type faultJSON struct {
	Kind string   `json:"kind"`
	MS   *float64 `json:"ms,omitempty"`
	Note string   `json:"note,omitempty"`
}

// findingJSON is one thing that the judge of taps says.
type findingJSON struct {
	Code  string `json:"code"`
	Note  string `json:"note,omitempty"` // the ornament's; "" where it holds for all
	Fault bool   `json:"fault"`
	Says  string `json:"says"`
}

type conditionsJSON struct {
	SNR     *float64 `json:"snr_db"`
	Clipped bool     `json:"clipped"`
	Reason  *string  `json:"reason"`
}

// rounded returns x to so many places, as JSON has it.
func rounded(x float64, places int) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	p := math.Pow(10, float64(places))
	v := math.Round(x*p) / p
	return &v
}

func amountJSON(a hear.Amount, places int) *float64 {
	if !a.Known {
		return nil
	}
	return rounded(a.V, places)
}

func (h *heardFile) json() ([]byte, error) {
	r := h.report
	notes := h.way.expected.Notes
	d := hearJSON{Schema: 1, Cents: *rounded(r.Cents, 1), Passes: r.Passes, Notes: []heardJSON{}, Extra: []extraJSON{}, Ornaments: []ornateJSON{}, Findings: []findingJSON{},
		Heard: conditionsJSON{SNR: rounded(r.Signal.SNR, 0), Clipped: r.Signal.Clipped}}
	if h.delay != nil {
		d.Delay = rounded(*h.delay, 5)
	}
	if r.Reason != "" {
		d.Heard.Reason = &r.Reason
	} else {
		d.Offset, d.Tempo = rounded(r.Offset, 4), rounded(r.Tempo, 1)
	}
	if at := r.Stopped; !math.IsInf(at, 1) && r.Reason == "" {
		text := fraction(at)
		d.Stopped = &text
	}
	for i, n := range r.Notes {
		j := heardJSON{ID: notes[i].ID, MIDI: notes[i].Key, Expected: h.task.place(notes[i]), Confidence: *rounded(n.Confidence, 2), Unsure: n.Unsure, NotReached: !n.Reached}
		if n.Played || n.Unsure {
			j.Onset = rounded(n.At, 5)
		}
		if n.Judged {
			j.Error = rounded(n.Error, 1)
		}
		if notes[i].Program {
			j.By = "program"
		}
		d.Notes = append(d.Notes, j)
	}
	for _, x := range r.Extra {
		j := extraJSON{*rounded(x.At, 5), x.Key, nil, *rounded(x.Confidence, 2)}
		if x.InsteadOf >= 0 {
			j.InsteadOf = &notes[x.InsteadOf].ID
		}
		d.Extra = append(d.Extra, j)
	}
	for _, o := range r.Ornaments {
		c := h.way.choices[o.Name]
		j := ornateJSON{Note: c.note, Choice: c.choice, Start: amountJSON(o.Start, 1), Evenness: amountJSON(o.Uneven, 3),
			Landing: amountJSON(o.After, 1), PerSecond: amountJSON(o.PerSecond, 1), Faults: []faultJSON{}}
		if o.Softest >= 0 {
			j.Softest, j.Loudest = notes[o.Softest].ID, notes[o.Loudest].ID
		}
		if o.Together >= 0 {
			j.Together = notes[o.Together].ID
		}
		for _, f := range h.judged.Findings {
			if k := heard.Kind(f); k != "" && (f.Ornament == o.Name || f.Ornament == "") {
				g := faultJSON{Kind: k}
				if f.MS != 0 {
					g.MS = rounded(f.MS, 1)
				}
				j.Faults = append(j.Faults, g)
			}
		}
		for _, f := range o.Faults {
			g := faultJSON{Kind: f.Kind}
			if f.Note >= 0 {
				g.Note = notes[f.Note].ID
			}
			j.Faults = append(j.Faults, g)
		}
		d.Ornaments = append(d.Ornaments, j)
	}
	d.Alone = h.alone
	d.Summary, d.Next = h.judged.Summary, h.judged.Next
	for _, f := range h.judged.Findings {
		d.Findings = append(d.Findings, findingJSON{f.Code, h.way.choices[f.Ornament].note, f.Fault, f.Teacher})
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	err := enc.Encode(d)
	return b.Bytes(), err
}

// place is where a note stands, in quarters from the first bar.
func (t *task) place(n hear.Note) string {
	if text, ok := t.places[n.ID]; ok {
		return text
	}
	if math.IsNaN(n.At) {
		return ""
	}
	return fraction(n.At)
}
