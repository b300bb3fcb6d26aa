package ear

import (
	"math"
	"strconv"

	"agremens/realize/codec/smf"
	"agremens/realize/hear"
	"agremens/realize/perf"
)

// Ear hears one round. Make one with [New].
type Ear struct {
	task     Task
	listener *hear.Listener
	both     bool // notes of both hands may be played
	last     float64
	ended    bool
	level    level
}

// New returns an ear for a task as [Task.Pack] writes it; rate is in samples
// a second.
func New(rate float64, task []float64) *Ear {
	e := &Ear{task: unpackTask(task)}
	var hands [2]bool
	for _, n := range e.task.Notes {
		hands[n.Hand] = true
		e.last = max(e.last, n.At)
	}
	e.both = hands[0] && hands[1]
	e.listener, e.level = hear.New(e.expected(BothHands), hear.Options{Rate: rate}), level{rate: rate}
	return e
}

// has reports whether a hand's notes are expected where so much is played.
func (h Hands) has(hand perf.Hand) bool {
	return h == BothHands || (h == RightHand) == (hand == perf.Right)
}

// expected leaves out the notes of a hand that is not played: they keep their
// places, and stand below the keyboard.
func (e *Ear) expected(hands Hands) hear.Expected {
	x := hear.Expected{About: e.task.About}
	for i, n := range e.task.Notes {
		note := hear.Note{ID: strconv.Itoa(i), Key: n.Key, At: n.At, Hand: n.Hand}
		if n.Ornament >= 0 {
			note.Ornament = strconv.Itoa(n.Ornament)
		}
		if !hands.has(n.Hand) {
			note.Key = -1
		}
		x.Notes = append(x.Notes, note)
	}
	return x
}

// Feed takes the next samples, ±1. It returns the indexes of the task's notes
// that have just been heard, the last note's once as -1 more: after it nothing
// is to come. Once, some seconds after the beginning, it adds a [Level] where
// the sound will not do.
func (e *Ear) Feed(samples []float32) []float64 {
	var heard []float64
	if l := e.level.feed(samples); l != LevelFine {
		heard = append(heard, float64(l))
	}
	for _, o := range e.listener.Feed(samples) {
		if o.Note < 0 {
			continue
		}
		heard = append(heard, float64(o.Note))
		if !e.ended && e.task.Notes[o.Note].At >= e.last {
			e.ended = true
			heard = append(heard, -1)
		}
	}
	return heard
}

// certain are the odds of a key that a MIDI file holds, as a logarithm.
const certain = 20.0

// Struck takes what a MIDI file holds in place of samples. It reports false
// where that is no MIDI file.
func (e *Ear) Struck(file []byte) bool {
	struck, err := smf.Decode(file)
	for _, s := range struck {
		e.listener.Strike(hear.Strike{At: s.At, Key: s.Key, Odds: certain, Level: 40 * math.Log10(float64(max(1, s.Strength))/127)})
	}
	return err == nil
}

// clearly is by how much one hand alone must explain the sound better.
const clearly = 0.5

// Finish reports, as [Unpack] reads it. Nothing is to be fed after it.
func (e *Ear) Finish() []float64 {
	best, hands := e.listener.Finish(), BothHands
	if e.both {
		for _, h := range [2]Hands{RightHand, LeftHand} {
			r := e.listener.Against(e.expected(h))
			if r.Reason == "" && (best.Reason != "" || r.Fit > best.Fit+clearly) {
				best, hands = r, h
			}
		}
	}
	return e.report(best, hands).pack()
}

var reasons = map[string]Reason{
	"": Judged, hear.Silent: Silent, hear.NotMusic: NoNotes, hear.OtherMusic: OtherMusic,
	hear.TooNoisy: TooNoisy, hear.TooShort: TooShort, hear.NothingDue: NoNotes,
}

// unsureMost is how many of the notes may be in doubt before the whole is.
const unsureMost = 0.25

// extraLeast is how sure an extra or another note must be before a student
// hears of it: on clean takes of our own instruments those that were heard and
// not played had up to 0.77. In doubt nobody is blamed.
const extraLeast = 0.85

func (e *Ear) report(from hear.Report, hands Hands) Report {
	r := Report{
		Reason: reasons[from.Reason], Hands: hands, Passes: from.Passes,
		SNR: from.Signal.SNR, Peak: from.Signal.Peak, Clipped: from.Signal.Clipped,
	}
	if r.Reason != Judged {
		return r
	}
	reached, unsure := 0, 0
	for i, h := range from.Notes {
		n := Heard{At: 1000 * h.At, Due: 1000 * h.At}
		switch {
		case !h.Reached || !hands.has(e.task.Notes[i].Hand):
			n = Heard{}
		case h.Unsure:
			n.State = Unsure
			unsure++
		case h.Played:
			n.State = Played
			n.Due = 1000 * (from.Offset + e.task.Notes[i].At*60/max(1, from.Tempo))
			if h.Judged {
				n.Due = n.At - h.Error
			}
		default:
			n.State = Missing
		}
		if n.State != NotDue {
			reached++
		}
		r.Notes = append(r.Notes, n)
	}
	if float64(unsure) > unsureMost*float64(reached) {
		return Report{Reason: TooNoisy, Hands: hands, Passes: r.Passes, SNR: r.SNR, Peak: r.Peak, Clipped: r.Clipped}
	}
	for _, x := range from.Extra {
		if !math.IsNaN(x.At) && x.Confidence >= extraLeast {
			r.Extra = append(r.Extra, Extra{1000 * x.At, x.Key})
		}
	}
	return r
}
