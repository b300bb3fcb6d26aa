package main

import (
	"fmt"
	"io"
	"math"
	"os"

	"agremens/realize/codec/wav"
	"agremens/realize/hear"
	"agremens/realize/score"
)

// What sounded from the loudspeaker while the recording was made: a beat, a
// hand, or both. What it was sent may be given as a file; else the score says
// what it was, and the recording when.

// beatOf is the felt beat of the bars.
type beatOf struct {
	every   float64 // quarters
	anchor  float64 // place of a beat, quarters from the first bar
	quarter float64 // seconds; not finite where the tempo is not told
}

// beatIn is the felt beat of a measure. A pickup's beats are counted from the
// bar that follows.
func beatIn(p *score.Passage, measure int, q listening) beatOf {
	m := p.Measures[measure]
	b := beatOf{every: m.Metre.Beat().Float(), quarter: 60 / q.tempo}
	if measure == 0 && m.Length.Less(m.Metre.Bar()) {
		b.anchor = m.Length.Float()
	}
	return b
}

// pulse finds the beat in a sound, nil where none was asked for.
func (b beatOf) pulse(q listening, rate float64) *hear.Pulse {
	if !q.beat {
		return nil
	}
	return hear.NewPulse(rate, b.every*b.quarter)
}

// at returns the beat of which one click came at phase, place 0 about at offset.
func (b beatOf) at(phase, offset float64) *hear.Beat {
	bar := phase - b.anchor*b.quarter
	step := b.every * b.quarter
	return &hear.Beat{Bar: bar + step*math.Round((offset-bar)/step), Quarter: b.quarter}
}

// speaker is what the loudspeaker sounded.
type speaker struct {
	beat  *hear.Pulse // in the sound itself, or in what was sent; nil not asked for
	given bool        // the file of what was sent is there
	sent  []float32
	delay *float64
	whole []float32 // a short recording that it was taken out of
	fed   bool
}

// wholeSeconds is how long a recording may last for the loudspeaker to be
// taken out of all of it at once, which does it better than as it comes.
const wholeSeconds = 60

// openSpeaker reads what the loudspeaker was sent. Where the notes it sounded
// have no times yet they are heard in it.
func (q listening) openSpeaker(sound *wav.Reader, t *task, errs io.Writer) (*speaker, error) {
	file, err := os.Open(q.speaker)
	if err != nil {
		return nil, fmt.Errorf("-speaker: %w", err)
	}
	defer file.Close()
	r, err := wav.New(file)
	if err != nil {
		return nil, fmt.Errorf("-speaker %s: %w", q.speaker, err)
	}
	rate := float64(sound.Rate)
	s := &speaker{given: true, sent: hear.Resampled(readAll(r), float64(r.Rate), rate), beat: t.beat.pulse(q, rate)}
	if s.beat != nil {
		s.beat.Feed(s.sent)
	}
	if q.sounded != "" && t.untold() && !t.hearSent(s.sent, rate) {
		fmt.Fprintf(errs, "-speaker %s: the %s hand of these bars is not in it; it is looked for in the recording\n", q.speaker, q.sounded)
	}
	return s, nil
}

// longestSent bounds what is read of the loudspeaker's file, s: 90 MB.
const longestSent = 480

func readAll(r *wav.Reader) []float32 {
	var all []float32
	block := make([]float32, hearBlock)
	for n := r.Read(block); n > 0 && len(all) < longestSent*r.Rate; n = r.Read(block) {
		all = append(all, block[:n]...)
	}
	return all
}

// untold reports whether the loudspeaker sounds notes of which it is not known
// when.
func (t *task) untold() bool {
	for _, n := range t.ways[0].expected.Notes {
		if n.Program && math.IsNaN(n.Sent) {
			return true
		}
	}
	return false
}

// hearSent listens to what the loudspeaker was sent, to know when its notes
// came in it.
func (t *task) hearSent(sent []float32, rate float64) bool {
	e := t.ways[0].expected
	e.Notes = append([]hear.Note(nil), e.Notes...)
	for i := range e.Notes {
		n := &e.Notes[i]
		if !n.Program {
			n.Key = -1
		}
		n.Program = false
	}
	r := hear.Whole(sent, e, hear.Options{Rate: rate, Cut: true})
	if r.Reason != "" || r.Tempo <= 0 {
		return false
	}
	for _, w := range t.ways {
		for i := range w.expected.Notes {
			if n := &w.expected.Notes[i]; n.Program && math.IsNaN(n.Sent) {
				n.Sent = r.Offset + n.At*60/r.Tempo
				if h := r.Notes; i < len(h) && h[i].Played && e.Notes[i].ID == n.ID {
					n.Sent = h[i].At
				}
			}
		}
	}
	return true
}

// feed gives the sound to a listener, less what came from the loudspeaker.
func (s *speaker) feed(l *hear.Listener, sound *wav.Reader) {
	if s.whole != nil {
		l.Feed(s.whole)
		return
	}
	block := make([]float32, hearBlock)
	var all []float32
	at := 0
	stream := func(x []float32) {
		switch {
		case s.given:
			l.FeedBeside(x, s.sent[min(at, len(s.sent)):min(at+len(x), len(s.sent))])
		default:
			l.Feed(x)
			if s.beat != nil && !s.fed {
				s.beat.Feed(x)
			}
		}
		at += len(x)
	}
	for n := sound.Read(block); n > 0; n = sound.Read(block) {
		if !s.given || at > 0 {
			stream(block[:n])
			continue
		}
		all = append(all, block[:n]...)
		if len(all) > wholeSeconds*sound.Rate {
			stream(all)
			all = nil
		}
	}
	s.fed = true
	if len(all) > 0 {
		x, delay, found := hear.TakeOut(all, s.sent, float64(sound.Rate))
		s.whole = x
		if found {
			s.delay = &delay
		}
		l.Feed(x)
	}
}

// tell the task how late the loudspeaker was heard, and when its beat was.
func (s *speaker) tell(q listening, t *task, h *heardFile, l *hear.Listener, errs io.Writer) {
	if s.given {
		if r := l.Against(t.ways[0].expected); r.Delay.Known {
			s.delay = &r.Delay.V
		}
		h.delay = s.delay
	}
	delay := 0.0
	if s.delay != nil {
		delay = *s.delay
	}
	for i := range t.ways {
		t.ways[i].expected.Delay = delay
	}
	if !q.beat {
		return
	}
	if c := t.clicks; c != nil && s.delay != nil {
		t.setBeat(&hear.Beat{Bar: c.Bar, Quarter: c.Every})
		return
	}
	phase, found := s.beat.Phase()
	switch {
	case !(t.beat.quarter > 0) || math.IsInf(t.beat.quarter, 0):
		fmt.Fprintln(errs, "-beat is left out: it needs -tempo, to know how often the beat comes")
	case s.given && s.delay == nil:
		fmt.Fprintln(errs, "-beat is left out: what the loudspeaker was sent is not in the recording")
	case !found:
		fmt.Fprintln(errs, "-beat is left out: no beat at this tempo is heard")
	default:
		h.choose(l)
		if h.report.Reason == "" {
			b := t.beat.at(phase, h.report.Offset-delay)
			if !s.given {
				b.Every = t.beat.every
			}
			t.setBeat(b)
		}
	}
}

func (t *task) setBeat(b *hear.Beat) {
	for i := range t.ways {
		t.ways[i].expected.Beat = b
	}
}
