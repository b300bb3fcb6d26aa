// Package hear listens to a keyboard instrument. It is told which notes may
// sound and is given samples, or the notes of a MIDI file; it says onset by
// onset what was played, and what that means at each ornament.
//
// It is pure: no device, no clock, no goroutine. A [Listener] takes samples
// as they come and answers with what it is sure of; [Listener.Finish] looks at
// all of it once more and reports. Work grows with the length of the sound,
// memory does not beyond the last minutes.
//
//	l := hear.New(hear.Expected{Notes: notes, Tempo: 72}, hear.Options{Rate: 48000})
//	for block := range microphone {
//		for _, onset := range l.Feed(block) { … light up onset.Note … }
//	}
//	report := l.Finish()
//
// All times are seconds of the sound given, 0 at its first sample, unless a
// name says ms.
package hear

import (
	"cmp"
	"math"

	"agremens/realize/perf"
	"agremens/realize/sorting"
)

// Note is one note that may be played.
type Note struct {
	ID  string
	Key int     // MIDI pitch
	At  float64 // quarters from the beginning of what is played
	// Hand tells which hand plays it: hands are aligned apart.
	Hand perf.Hand
	// Ornament names the ornament it belongs to, "" for a plain note. Notes of
	// one ornament carry the same name and stand in the order of playing.
	Ornament string
	// Program marks a note that the program itself sounds from the loudspeaker:
	// it is not judged, but others are held against it. Sent is when it was
	// sent, in seconds of what the loudspeaker was given; where it is not a
	// number, the note is looked for in what is heard.
	Program bool
	Sent    float64
}

// Beat is a steady beat sent to the loudspeaker.
type Beat struct {
	// Bar is when place 0 of the notes was due, and Quarter the length of a
	// quarter, both in seconds of what the loudspeaker was given.
	Bar, Quarter float64
	// Every is how many quarters lie between two clicks that are still in the
	// sound, 0 where they were taken out: what is faint just there is no note.
	Every float64
}

// Expected is what may be played.
type Expected struct {
	Notes []Note // in any order
	// Tempo is what the player was asked for, in quarters a minute; 0 where
	// the tempo is the player's own. About is a guess then; 0 is no guess.
	Tempo, About float64
	// Beat is set where a beat sounded from the loudspeaker, at Delay seconds
	// after it was sent; errors are held against it.
	Beat  *Beat
	Delay float64
}

// Options is what the listener has to know about the sound.
type Options struct {
	Rate float64 // samples a second, 8000 to 192000
	// Cents is the tuning against equal temperament at 440 Hz, if it is known
	// from before; the listener finds it where Tuned is false.
	Cents float64
	Tuned bool
	// Cut is set for a recording that may begin with its first note, as a
	// microphone's sound does not.
	Cut bool
	// Also are pitches to listen for beside those expected: of other ways to
	// play, for [Listener.Against].
	Also []int
}

// Onset is an onset of which the listener is sure while the sound goes on.
type Onset struct {
	At         float64 // at most 150 ms before the samples fed last
	Key        int     // MIDI pitch
	Confidence float64 // 0 to 1
	Level      float64 // dB, 0 the loudest of late
	// Note is the index in Expected.Notes of the note it is taken for, -1
	// where none is near; Finish may see it otherwise.
	Note int
}

// Listener hears one round. Make one with [New].
type Listener struct {
	expected Expected
	options  Options
	plan     *plan
	ear      *ear
	gauge    gauge
	resample *resampler
	beside   *canceller // nil until something is fed beside the sound
	strikes  []Strike
	faintest float64 // odds below which strikes are not kept
	fresh    []Onset
	rate     float64 // of the ear
	seconds  float64 // fed
	follower follower
	finished bool
	aligned  []alignment // of what was judged last
}

// New returns a listener. Notes out of the range of a piano, and places that
// are not finite, are left out of what is expected; a rate out of range is
// taken for 48000.
func New(e Expected, o Options) *Listener {
	if !(o.Rate >= 8000 && o.Rate <= 192000) {
		o.Rate = 48000
	}
	l := &Listener{expected: e, options: o, plan: newPlan(e), rate: o.Rate, faintest: deaf}
	if o.Rate != 48000 && o.Rate != 44100 {
		l.rate = 48000
		l.resample = newResampler(o.Rate, l.rate)
	}
	l.ear = newEar(l.rate, o.Cents, o.Tuned, l.plan.asked(o.Also), l.take)
	l.ear.cut = o.Cut
	l.follower.plan = l.plan
	return l
}

// Judged is how much of the past a report looks at, s: longer rounds are judged
// by their last minutes.
const Judged = 240.0

// Seconds returns how much has been heard.
func (l *Listener) Seconds() float64 { return l.seconds }

// Feed takes the next samples, mono, ±1, in blocks of any length, and returns
// the onsets that have become sure. The slice is written anew at the next call.
func (l *Listener) Feed(samples []float32) []Onset { return l.FeedBeside(samples, nil) }

// FeedBeside is [Listener.Feed] while a loudspeaker may sound: sent is what it
// was given during these samples, by the same clock, at the same rate; what is
// shorter than samples ends in silence. What the microphone hears of it is
// taken out once its delay, 0 to 0.35 s, has been found: about 1.5 s after the
// first of it, so that a beat counted in is enough. The delay is then that of
// what is expected, and stands in [Report.Delay]. Onsets come 22 ms later.
func (l *Listener) FeedBeside(samples, sent []float32) []Onset {
	l.fresh = l.fresh[:0]
	l.seconds += float64(len(samples)) / l.options.Rate
	if sent != nil && l.beside == nil {
		l.beside = newCanceller(l.options.Rate)
	}
	const block = 8192
	for len(samples) > 0 {
		n := min(block, len(samples))
		x := l.gauge.take(samples[:n])
		if l.beside != nil {
			k := min(n, len(sent))
			x = l.beside.feed(x, sent[:k])
			sent = sent[k:]
		}
		if l.resample != nil {
			x = l.resample.feed(x)
		}
		l.ear.feed(x)
		samples = samples[n:]
	}
	return l.fresh
}

// Delay is the loudspeaker's delay in seconds, from when it was found on.
func (l *Listener) Delay() Amount { return l.delayFound() }

// delayFound is the loudspeaker's delay in seconds, where it was found.
func (l *Listener) delayFound() Amount {
	if l.beside == nil || !l.beside.found {
		return Amount{}
	}
	return Amount{l.beside.lag / l.options.Rate, true}
}

// Strike takes an onset that is certain, of a MIDI keyboard or file, in place
// of samples. They come in order of time.
func (l *Listener) Strike(s Strike) {
	l.seconds = max(l.seconds, s.At)
	l.gauge.silentInput = true
	l.take(s)
}

// mostStrikes bounds what is kept: noise strikes at nothing all the time. Where
// there are more, the faintest are forgotten. Playing of four minutes has a
// quarter of it.
const mostStrikes = 150_000

// take receives every strike the ear hears of.
func (l *Listener) take(s Strike) {
	if s.Odds < l.faintest {
		return
	}
	if n := len(l.strikes); n > 0 && (s.At-l.strikes[0].At > 2*Judged || n >= mostStrikes) {
		l.prune(s.At - Judged)
		for len(l.strikes) > mostStrikes/2 && l.faintest < 0 {
			l.faintest = max(l.faintest, hardly) + 1
			l.prune(s.At - Judged)
		}
		if n := len(l.strikes) - mostStrikes/2; n > 0 { // strong ones, no music's
			l.strikes = append(l.strikes[:0], l.strikes[n:]...)
		}
	}
	l.strikes = append(l.strikes, s)
	if s.Odds > 0 {
		l.fresh = append(l.fresh, Onset{s.At, s.Key, confidence(s.Odds), s.Level, l.follower.guess(s)})
	}
}

// prune forgets the strikes from before a time, and those that are too faint.
func (l *Listener) prune(from float64) {
	kept := l.strikes[:0]
	for _, s := range l.strikes {
		if s.At >= from && s.Odds >= l.faintest {
			kept = append(kept, s)
		}
	}
	l.strikes = kept
}

func confidence(odds float64) float64 { return 1 / (1 + math.Exp(-odds)) }

// Finish hears the end and reports. Nothing is to be fed after it.
func (l *Listener) Finish() Report {
	if !l.gauge.silentInput && !l.finished {
		l.finished = true
		l.Feed(make([]float32, int(0.2*l.options.Rate)))
	}
	return l.Against(l.expected)
}

// Whole hears a sound that is all there: twice, where the instrument turns out
// to be tuned otherwise than thought, so that its first notes are heard as
// well as its last.
func Whole(samples []float32, e Expected, o Options) Report {
	l := New(e, o)
	l.Feed(samples)
	r := l.Finish()
	if again, needed := o.Retuned(r); needed {
		l = New(e, again)
		l.Feed(samples)
		r = l.Finish()
	}
	return r
}

// Retuned returns the options with which to hear a sound again, and whether
// that is worth it: where the tuning found is another than the one assumed.
func (o Options) Retuned(r Report) (Options, bool) {
	if o.Tuned || math.Abs(r.Cents-o.Cents) < 8 {
		return o, false
	}
	o.Cents, o.Tuned = r.Cents, true
	return o, true
}

// Against judges what was heard until Finish against other notes.
func (l *Listener) Against(e Expected) Report {
	if d := l.delayFound(); d.Known {
		e.Delay = d.V
	}
	return l.report(newPlan(e), e, e.Beat.beneath(l.sorted(), e.Delay))
}

// Strikes returns everything that was heard in the last minutes in order of
// time, whatever was expected: also what is hardly there (odds below 0).
func (l *Listener) Strikes() []Strike { return l.sorted() }

// sorted returns the strikes of the last minutes in order of time.
func (l *Listener) sorted() []Strike {
	strikes := append([]Strike(nil), l.strikes...)
	sorting.Stable(strikes, func(a, b Strike) int { return cmp.Compare(a.At, b.At) })
	if n := len(strikes); n > 0 {
		keep := 0
		for strikes[keep].At < strikes[n-1].At-Judged {
			keep++
		}
		strikes = strikes[keep:]
	}
	return strikes
}
