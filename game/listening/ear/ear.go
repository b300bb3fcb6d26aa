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
	rate     float64
	fed      int     // samples
	quiet    int     // samples since anything was sent
	began    float64 // s, when the loudspeaker's first sound was sent; -1 not yet
	beatSaid bool
}

// New returns an ear for a task as [Task.Pack] writes it; rate is in samples
// a second.
func New(rate float64, task []float64) *Ear {
	e := &Ear{task: unpackTask(task), rate: rate, began: -1}
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
func (e *Ear) Feed(samples []float32) []float64 { return e.FeedBeside(samples, nil) }

// FeedBeside is Feed while the page sounds: sent is what the loudspeaker was
// given meanwhile. Once it is found in what is heard, [LevelBeat] is added.
func (e *Ear) FeedBeside(samples, sent []float32) []float64 {
	if e.task.Speaker == nil {
		sent = nil
	}
	e.begin(sent)
	var heard []float64
	if l := e.level.feed(e.due(samples)); l != LevelFine {
		heard = append(heard, float64(l))
	}
	e.fed += len(samples)
	for _, o := range e.listener.FeedBeside(samples, sent) {
		if o.Note < 0 {
			continue
		}
		heard = append(heard, float64(o.Note))
		if !e.ended && e.task.Notes[o.Note].At >= e.last {
			e.ended = true
			heard = append(heard, -1)
		}
	}
	if !e.beatSaid && e.listener.Delay().Known {
		e.beatSaid = true
		heard = append(heard, float64(LevelBeat))
	}
	return heard
}

// begin notes when the loudspeaker begins, after what may still sound from
// before.
func (e *Ear) begin(sent []float32) {
	for i := 0; i < len(sent) && e.began < 0; i++ {
		if sent[i] <= audible && sent[i] >= -audible {
			e.quiet++
			continue
		}
		if float64(e.quiet) >= pause*e.rate {
			e.began = float64(e.fed+i) / e.rate
		}
		e.quiet = 0
	}
}

const (
	audible = 1e-5
	pause   = 0.2 // s
)

// settling is how long before place 0 the level is looked at, s: while beats
// are counted in nobody plays yet.
const settling = 1.0

// due is the part of the samples that tells how loud the playing is.
func (e *Ear) due(samples []float32) []float32 {
	s := e.task.Speaker
	if s == nil {
		return samples
	}
	if e.began < 0 {
		return nil
	}
	from := int((e.began+s.Bar-settling)*e.rate) - e.fed
	return samples[max(0, min(from, len(samples))):]
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
	best := e.listener.Finish()
	beat := NoBeat
	if e.task.Speaker != nil {
		beat = UnheardBeat
		if delay := e.listener.Delay(); delay.Known && e.began >= 0 {
			beat = HeardBeat
		}
	}
	best, hands := e.best(best, beat)
	if beat == HeardBeat && !e.kept(best) {
		beat = LeftBeat
		best, hands = e.best(e.listener.Against(e.expected(BothHands)), beat)
	}
	return e.report(best, hands, beat).pack()
}

// best judges with both hands and with each alone, where both may be played.
func (e *Ear) best(best hear.Report, beat Beat) (hear.Report, Hands) {
	against := func(h Hands) hear.Report {
		x := e.expected(h)
		if beat == HeardBeat {
			e.beside(&x)
		}
		return e.listener.Against(x)
	}
	if beat == HeardBeat {
		best = against(BothHands)
	}
	hands := BothHands
	if e.both && !best.Strayed {
		for _, h := range [2]Hands{RightHand, LeftHand} {
			r := against(h)
			if r.Reason == "" && (best.Reason != "" || r.Fit > best.Fit+clearly) {
				best, hands = r, h
			}
		}
	}
	return best, hands
}

// beside adds what the loudspeaker sounded, after the player's own notes.
func (e *Ear) beside(x *hear.Expected) {
	quarter := 60 / max(1, e.task.About)
	bar := e.began + e.task.Speaker.Bar
	x.Tempo, x.Beat = e.task.About, &hear.Beat{Bar: bar, Quarter: quarter}
	hand := perf.Left
	if len(e.task.Notes) > 0 {
		hand = 1 - e.task.Notes[0].Hand
	}
	for _, n := range e.task.Speaker.Notes {
		x.Notes = append(x.Notes, hear.Note{Key: n.Key, At: n.At, Hand: hand, Program: true, Sent: bar + n.At*quarter})
	}
}

// strays is how far from the beat half of the notes lie, ms, where a player did
// not go with it. A third of a beat at 80 a minute; ours, no source.
const strays = 250.0

// kept reports whether a player went with the beat, once through.
func (e *Ear) kept(r hear.Report) bool {
	if r.Reason != "" {
		return true // there is nothing to hold against it
	}
	far, all := 0, 0
	for _, h := range r.Notes[:min(len(r.Notes), len(e.task.Notes))] {
		if h.Judged {
			all++
			if math.Abs(h.Error) > strays {
				far++
			}
		}
	}
	return r.Passes <= 1 && 2*far <= all
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

// sounds reports whether the program strikes a key about then, s: what is left
// of that once it was taken out may be heard as another.
func (e *Ear) sounds(at float64, delay hear.Amount) bool {
	s := e.task.Speaker
	if s == nil || !delay.Known {
		return false
	}
	for _, n := range s.Notes {
		if math.Abs(e.began+s.Bar+n.At*60/max(1, e.task.About)+delay.V-at) < leftOver {
			return true
		}
	}
	return false
}

const leftOver = 0.05 // s

func (e *Ear) report(from hear.Report, hands Hands, beat Beat) Report {
	r := Report{
		Reason: reasons[from.Reason], Hands: hands, Beat: beat, Passes: from.Passes,
		SNR: from.Signal.SNR, Peak: from.Signal.Peak, Clipped: from.Signal.Clipped, Cents: from.Cents,
	}
	if r.Reason != Judged {
		return r
	}
	reached, unsure := 0, 0
	for i, h := range from.Notes[:min(len(from.Notes), len(e.task.Notes))] {
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
		return Report{Reason: TooNoisy, Hands: hands, Beat: beat, Passes: r.Passes, SNR: r.SNR, Peak: r.Peak, Clipped: r.Clipped}
	}
	for _, x := range from.Extra {
		if !math.IsNaN(x.At) && x.Confidence >= extraLeast && !(x.InsteadOf < 0 && e.sounds(x.At, from.Delay)) {
			r.Extra = append(r.Extra, Extra{1000 * x.At, x.Key})
		}
	}
	return r
}
