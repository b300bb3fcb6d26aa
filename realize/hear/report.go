package hear

import (
	"math"

	"agremens/realize/perf"
)

// Report is what was heard of one round.
type Report struct {
	// Reason says why nothing is judged, "" where something is: one of the
	// constants below. Notes are then empty.
	Reason string
	// Strayed says with [OtherMusic] that these notes were begun, and that one
	// hand then went elsewhere while the other may have gone on: neither hand
	// alone is to be judged.
	Strayed bool
	// Offset is when place 0 came, s; Tempo the mean tempo, quarters a minute.
	Offset, Tempo float64
	// Cents is how the instrument is tuned against 440 Hz.
	Cents float64
	// Notes has an entry for each of Expected.Notes, in its order.
	Notes []Heard
	Extra []Extra
	// Ornaments are in order of the places of their first notes.
	Ornaments []Ornament
	Signal    Signal
	// Delay is the loudspeaker's, s, where [Listener.FeedBeside] found it.
	Delay Amount
	// Passes is how often the notes were begun; the last time is judged.
	// Stopped is the place, in quarters, after which nothing more came, or
	// beyond all notes. Where only the last place is lacking nobody stopped: its
	// notes are missing.
	Passes  int
	Stopped float64
	// Fit is how well the notes explain what was heard; of two lists of notes
	// judged against one sound the one with the larger Fit is what was played.
	Fit float64
}

// Reasons for judging nothing.
const (
	Silent     = "silence"     // no sound, or next to none
	NotMusic   = "no notes"    // a sound, but hardly a note struck
	OtherMusic = "other music" // notes, but not these
	TooNoisy   = "noise"       // the notes may be there; too much else is
	TooShort   = "too short"   // a beginning too short to tell
	NothingDue = "nothing expected"
)

// Heard is what became of one expected note.
type Heard struct {
	// Reached is false for notes before the pass began or after the player
	// stopped: they are neither played nor missing.
	Reached bool
	Played  bool
	// Unsure: the sound does not decide. Such a note is neither played nor
	// missing; At is then where it most likely was.
	Unsure bool
	At     float64
	// Error is how late it came, ms, where Judged.
	Error      float64
	Judged     bool
	Confidence float64 // of what is said, 0 to 1
	Level      float64 // dB, 0 the loudest of late
	Odds       float64 // logarithm of the odds of the strike itself
}

// Extra is an onset that no expected note explains.
type Extra struct {
	At         float64
	Key        int
	InsteadOf  int // index in Expected.Notes of the note missing there, -1 none
	Confidence float64
	Level      float64
}

// report judges what was heard.
func (l *Listener) report(p *plan, e Expected, strikes []Strike) Report {
	r := Report{Cents: l.ear.cents, Signal: l.gauge.signal(), Stopped: math.Inf(1), Delay: l.delayFound()}
	if !r.Delay.Known && e.Delay == 0 && !l.gauge.silentInput {
		r.Delay = p.delayIn(strikes)
		e.Delay = r.Delay.V
	}
	p, e = l.placeProgram(p, e, strikes)
	p.delay = e.Delay
	if r.Reason = l.refuseSound(p, strikes); r.Reason != "" {
		return r
	}
	passes := l.follow(p, strikes, e.Tempo > 0)
	way, begun := p.lastTry(passes)
	r.Passes = begun
	if r.Reason = p.refuse(passes, way, strikes); r.Reason != "" {
		return r
	}
	claims := p.assign(way, strikes)
	due := p.timeMap(way)
	r.Tempo, r.Offset = p.tempoOf(way, due)
	r.Notes = make([]Heard, len(p.notes))
	first, last := p.stretch(way)
	if rest := p.placesAfter(last); len(rest) > 1 {
		r.Stopped = last
	} else if len(rest) == 1 {
		last = rest[0] // the landing alone was left out: nobody stops for that
	}
	for _, i := range p.own {
		at := p.notes[i].At
		if at < first-samePlace || at > last+samePlace {
			continue
		}
		h := heard(claims[i], strikes, p.notes[i].Ornament != "")
		if !h.Played && p.notes[i].Key < tooLow && !l.gauge.silentInput {
			h.Unsure, h.Confidence = true, 0.5
		}
		r.Notes[i] = h
	}
	p.rivals(&r, claims, strikes)
	p.unreached(&r, way)
	p.programNotes(&r, e)
	p.extras(&r, way, claims, strikes)
	if p.strayed(&r) {
		return Report{Reason: OtherMusic, Strayed: true, Cents: r.Cents, Signal: r.Signal, Delay: r.Delay, Passes: r.Passes, Stopped: r.Stopped}
	}
	r.Fit = fit(&r, p)
	p.errors(&r, e, due)
	r.Ornaments = p.ornaments(&r)
	return r
}

// otherKey is what another key in place of the one written costs: no more than
// one too many, or ways to play that lack the note would always win.
const otherKey = 2.0

// fit adds up what speaks for the notes and what against.
func fit(r *Report, p *plan) float64 {
	sum := 0.0
	instead := map[int]bool{}
	for _, x := range r.Extra {
		if x.InsteadOf >= 0 {
			instead[x.InsteadOf] = true
			sum -= otherKey
		} else {
			sum -= 2 * x.Confidence
		}
	}
	for _, i := range p.own {
		switch h := r.Notes[i]; {
		case h.Played:
			sum += min(h.Odds+2, worth)
		case h.Unsure: // a way that needs it is the less likely one
			sum--
		case h.Reached && !instead[i]:
			sum -= notHeard
		}
	}
	return sum
}

// What the odds of a note that is expected here must be for it to count as
// played, and under which it counts as not played; between them it is unsure.
const (
	surely    = -4.2
	surelyNot = -5.0
	// An ornament's notes stand out, or they were not played.
	ornamentally = 1.4
)

// tooLow is the lowest key of which silence is believed: a microphone has little
// of what lies below, and the ear was trained from here upwards.
const tooLow = 34

func heard(c claim, strikes []Strike, ornament bool) Heard {
	if ornament {
		c.odds -= ornamentally
	}
	h := Heard{Reached: true, Odds: c.odds, At: c.due}
	if c.strike >= 0 {
		h.At, h.Level = strikes[c.strike].At, strikes[c.strike].Level
	}
	switch {
	case c.strike >= 0 && c.odds >= surely:
		h.Played, h.Confidence = true, confidence(c.odds+4.6)
	case c.odds < surelyNot:
		h.Confidence = 1 - confidence(c.odds+4.6)
	default:
		h.Unsure, h.Confidence = true, 0.5
	}
	return h
}

// lastTry chooses the pass to judge: the last, with those before it that it
// goes on from. It returns how often the player began as well.
func (p *plan) lastTry(passes []pass) (pass, int) {
	if len(passes) == 0 {
		return pass{}, 0
	}
	begun := 1
	way := passes[0]
	for _, next := range passes[1:] {
		switch {
		case p.goesOn(way, next):
			// The places between were not heard, or left out.
			from, to := way.times[len(way.times)-1], next.times[0]
			a, b := p.groups[way.to()-1].at, p.groups[next.from].at
			for k := way.to(); k < next.from; k++ {
				way.times = append(way.times, from+(to-from)*(p.groups[k].at-a)/(b-a))
			}
			way.times = append(way.times, next.times...)
			way.score += next.score
		case len(next.times) < 3 && len(next.times)*4 < len(p.groups):
			begun++ // a stray note is no new try
		default:
			begun++
			way = next
		}
	}
	return way, begun
}

// goesOn reports whether a pass takes up where another broke off: at one of
// the next places after any halt, or further on at about the time at which
// the tempo leads there.
func (p *plan) goesOn(way, next pass) bool {
	if next.from < way.to() {
		return false
	}
	if next.from <= way.to()+3 {
		return true
	}
	quarters, seconds := 0.0, 0.0
	for _, one := range [2]pass{way, next} {
		quarters += p.groups[one.to()-1].at - p.groups[one.from].at
		seconds += one.times[len(one.times)-1] - one.times[0]
	}
	if quarters <= 0 {
		return false
	}
	want := (p.groups[next.from].at - p.groups[way.to()-1].at) * seconds / quarters
	gap := next.times[0] - way.times[len(way.times)-1]
	return gap > 0.6*want && gap < 1.6*want
}

func (p *plan) tempoOf(way pass, due func(float64) float64) (tempo, offset float64) {
	a, b := p.groups[way.from].at, p.groups[way.to()-1].at
	if b <= a {
		return 0, way.times[0]
	}
	slope := (due(b) - due(a)) / (b - a)
	return 60 / max(slope, 1e-3), due(a) - a*slope
}

// placesAfter returns the places of the player's notes that come after one, in
// quarters, in order.
func (p *plan) placesAfter(at float64) []float64 {
	var places []float64
	for _, i := range p.own {
		if p.notes[i].At > at+samePlace {
			at = p.notes[i].At
			places = append(places, at)
		}
	}
	return places
}

// unreached takes back what was not heard after the last note that was, where
// the player stopped: it is neither played nor missing.
func (p *plan) unreached(r *Report, way pass) {
	end := math.Inf(-1)
	for _, i := range p.own {
		if r.Notes[i].Played {
			end = max(end, p.notes[i].At)
		}
	}
	if len(p.placesAfter(end)) < 2 {
		return
	}
	r.Stopped = end
	for _, i := range p.own {
		if p.notes[i].At > end+samePlace {
			r.Notes[i] = Heard{}
		}
	}
}

// A note whose own odds are poor was not played where another key close by,
// which nothing else explains, has so much better ones.
const (
	poor   = 0.5
	better = 2.5
	likely = -1.0 // least odds of the other key
)

// rivals takes such notes back.
func (p *plan) rivals(r *Report, claims []claim, strikes []Strike) {
	claimed := map[int]bool{}
	for i, c := range claims {
		if c.strike >= 0 && claims[i].odds >= surely {
			claimed[c.strike] = true
		}
	}
	for _, i := range p.own {
		h, c := &r.Notes[i], claims[i]
		if !h.Reached || c.strike < 0 || c.odds > poor {
			continue
		}
		for k := firstFrom(strikes, h.At-0.045); k < len(strikes) && strikes[k].At <= h.At+0.045; k++ {
			s := strikes[k]
			d := s.Key - p.notes[i].Key
			if d == 0 || d < -2 || d > 2 || claimed[k] || s.Odds < likely || s.Odds < c.odds+better || p.dueNear(r, s) {
				continue
			}
			*h = Heard{Reached: true, At: h.At, Odds: c.odds, Confidence: confidence(s.Odds - c.odds - better)}
			break
		}
	}
}

// dueNear reports whether a note of a strike's key is expected about there.
func (p *plan) dueNear(r *Report, s Strike) bool {
	for _, i := range p.own {
		if h := r.Notes[i]; p.notes[i].Key == s.Key && h.Reached && math.Abs(h.At-s.At) < 0.06 {
			return true
		}
	}
	return false
}

// Odds from which a strike that nothing explains counts as an extra note: in
// an ornament's range and time, and elsewhere.
const (
	extraHere, extraElse = 1.8, 3.4
	beatRange            = 0.045 // s
)

func (p *plan) extras(r *Report, way pass, claims []claim, strikes []Strike) {
	claimed := map[int]int{}
	for i, c := range claims {
		if c.strike >= 0 && r.Notes[i].Played {
			claimed[c.strike] = i
		}
	}
	from, to := way.times[0]-0.1, way.times[len(way.times)-1]+0.12
	replacing := p.replacing(r, claimed, strikes)
	for k := firstFrom(strikes, from); k < len(strikes) && strikes[k].At <= to; k++ {
		s := strikes[k]
		if _, ok := claimed[k]; ok || s.Odds < likely || p.sounded(r, s) {
			continue
		}
		instead := -1
		if i, ok := replacing[k]; ok {
			instead = i
		}
		if instead < 0 && s.Odds < extraHere {
			continue
		}
		if instead < 0 && p.explained(s, claimed, strikes) {
			continue
		}
		if instead < 0 && s.Odds < extraElse && !p.inOrnament(r, s) {
			continue
		}
		if instead >= 0 && r.Notes[instead].Unsure {
			r.Notes[instead].Unsure = false
		}
		r.Extra = append(r.Extra, Extra{s.At, s.Key, instead, confidence(s.Odds - extraHere + 0.5), s.Level})
	}
}

// sounded reports whether the program itself sounded a strike.
func (p *plan) sounded(r *Report, s Strike) bool {
	for i, n := range p.notes {
		if n.Program && n.Key == s.Key && r.Notes[i].Reached && math.Abs(r.Notes[i].At-s.At) < 0.05 {
			return true
		}
	}
	return false
}

// sentNear is the same before anything is judged.
func (p *plan) sentNear(s Strike) bool {
	for _, n := range p.notes {
		if n.Program && n.Key == s.Key && math.Abs(n.Sent+p.delay-s.At) < 0.05 {
			return true
		}
	}
	return false
}

// explained reports whether a note that was found, of the same key or of one
// with common partials, may have made a strike.
func (p *plan) explained(s Strike, claimed map[int]int, strikes []Strike) bool {
	for k := firstFrom(strikes, s.At-0.06); k < len(strikes) && strikes[k].At < s.At+0.06; k++ {
		if _, ok := claimed[k]; !ok {
			continue
		}
		o := strikes[k]
		d := math.Abs(o.At - s.At)
		switch diff := s.Key - o.Key; {
		case diff == 0:
			return true
		case d < 0.04 && isPartial(diff):
			return true
		case d < 0.035 && o.Odds > s.Odds-1 && (diff == -12 || diff == -19 || diff == -24 || diff == 7 || diff == 5 || diff == -7 || diff == -5):
			return true
		case d < 0.03 && o.Odds > s.Odds+1 && diff >= -2 && diff <= 2:
			return true // the blow of one string shows at its neighbours
		case d < 0.02 && o.Odds > s.Odds+4 && diff >= -4 && diff <= 4:
			return true
		}
	}
	return false
}

// isPartial reports whether a string so many semitones lower has a partial
// there: its second to eighth.
func isPartial(semitones int) bool {
	switch semitones {
	case 12, 19, 24, 28, 31, 34, 36:
		return true
	}
	return false
}

// replacing returns for strikes that stand where an expected note within three
// semitones is missing the index of that note: the clearest strike for each.
func (p *plan) replacing(r *Report, claimed map[int]int, strikes []Strike) map[int]int {
	of := map[int]int{}
	for _, i := range p.own {
		h := &r.Notes[i]
		if !h.Reached || h.Played {
			continue
		}
		best := -1
		for k := firstFrom(strikes, h.At-0.07); k < len(strikes) && strikes[k].At < h.At+0.07; k++ {
			s := strikes[k]
			d := s.Key - p.notes[i].Key
			_, known := claimed[k]
			_, used := of[k]
			if d == 0 || d < -3 || d > 3 || known || used || s.Odds < likely {
				continue
			}
			if best < 0 || s.Odds > strikes[best].Odds {
				best = k
			}
		}
		if best >= 0 {
			of[best] = i
		}
	}
	return of
}

func taken(r *Report, note int) bool {
	for _, e := range r.Extra {
		if e.InsteadOf == note {
			return true
		}
	}
	return false
}

// inOrnament reports whether a strike lies in the time and the range of an
// ornament, or is one of its keys struck on until it lands.
func (p *plan) inOrnament(r *Report, s Strike) bool {
	for _, i := range p.own {
		n, h := p.notes[i], r.Notes[i]
		if n.Ornament == "" || !h.Reached || s.Key < n.Key-3 || s.Key > n.Key+3 {
			continue
		}
		if math.Abs(h.At-s.At) < 0.15 {
			return true
		}
		if s.Key == n.Key && s.At > h.At {
			if k := p.after(i); k >= 0 && r.Notes[k].Played && s.At < r.Notes[k].At {
				return true
			}
		}
	}
	return false
}

// errors says how late each note came.
func (p *plan) errors(r *Report, e Expected, due func(float64) float64) {
	var late func(int) (float64, bool)
	switch {
	case e.Beat != nil:
		late = func(i int) (float64, bool) {
			return r.Notes[i].At - (e.Beat.Bar + e.Delay + p.notes[i].At*e.Beat.Quarter), true
		}
	case e.Tempo > 0:
		a, b, ok := p.steady(r)
		late = func(i int) (float64, bool) { return r.Notes[i].At - (a + b*p.notes[i].At), ok }
	default:
		late = func(i int) (float64, bool) { return p.againstLocal(r, i) }
	}
	for _, i := range p.own {
		if r.Notes[i].Played {
			if d, ok := late(i); ok {
				r.Notes[i].Error, r.Notes[i].Judged = 1000*d, true
			}
		}
	}
}

// steady fits a steady beat to the plain notes.
func (p *plan) steady(r *Report) (a, b float64, ok bool) {
	var at, when []float64
	for _, i := range p.own {
		if p.notes[i].Ornament == "" && r.Notes[i].Played {
			at, when = append(at, p.notes[i].At), append(when, r.Notes[i].At)
		}
	}
	return line(at, when)
}

// line fits when = a + b·at by the median of slopes and of what is left; at is
// in order.
func line(at, when []float64) (a, b float64, ok bool) {
	if len(at) < 4 {
		return 0, 0, false
	}
	half := len(at) / 2
	var slopes []float64
	for i := range at {
		j := (i + half) % len(at)
		if d := at[j] - at[i]; d > 0.2 || d < -0.2 {
			slopes = append(slopes, (when[j]-when[i])/d)
		}
	}
	if len(slopes) == 0 {
		return 0, 0, false
	}
	b = median(slopes)
	rest := make([]float64, len(at))
	for i := range at {
		rest[i] = when[i] - b*at[i]
	}
	return median(rest), b, true
}

// againstLocal holds a note against the plain notes of both hands within a
// measure's time, itself left out.
func (p *plan) againstLocal(r *Report, note int) (float64, bool) {
	var s0, s1, s2, t0, t1 float64
	x := p.notes[note].At
	n := 0
	for _, i := range p.own {
		if i == note || p.notes[i].Ornament != "" || !r.Notes[i].Played {
			continue
		}
		d := p.notes[i].At - x
		if math.Abs(d) > 3 {
			continue
		}
		w := math.Exp(-0.5 * d * d)
		y := r.Notes[i].At - r.Notes[note].At
		s0 += w
		s1 += w * d
		s2 += w * d * d
		t0 += w * y
		t1 += w * d * y
		n++
	}
	det := s0*s2 - s1*s1
	if n < 3 || det <= 1e-6*s0*s2 {
		return 0, false
	}
	return -(t0*s2 - t1*s1) / det, true
}

func median(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	s := append([]float64(nil), x...)
	for gap := len(s) / 2; gap > 0; gap /= 2 {
		for i := gap; i < len(s); i++ {
			for j := i; j >= gap && s[j] < s[j-gap]; j -= gap {
				s[j], s[j-gap] = s[j-gap], s[j]
			}
		}
	}
	m := len(s) / 2
	if len(s)%2 == 1 {
		return s[m]
	}
	return (s[m-1] + s[m]) / 2
}

// other returns the other hand.
func other(h perf.Hand) perf.Hand { return 1 - h }
