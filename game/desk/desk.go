// Package desk is what lies on the teacher's desk: one passage, how its
// ornaments are read, which bars, which hands and what tempo, and what the
// page says about it all. It is pure; the browser program shows its [View]
// and feeds it commands.
package desk

import (
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Desk is one passage at work. Make one with [New]; commands change it in
// place and bring the reading up to date.
type Desk struct {
	// ID names the passage: a built-in one's id, or "file" for an opened one.
	ID      string
	Passage *score.Passage
	Reading *realize.Reading

	Taste    realize.Taste
	From, To int     // measures at work, half-open
	Percent  float64 // of the goal tempo
	Tap      round.Hands
	// Hear is the hands that sound where the player chose them (HearSet); else
	// both sound while listening, and the other hand while one taps.
	Hear    round.Hands
	HearSet bool
	// Instrument is the one the tradition was written for until the player
	// chooses one (InstrumentSet).
	Instrument    string
	InstrumentSet bool
	// Temperament is a key of tuning.All, "" for equal; Pitch is a' in Hz, 0
	// for 440.
	Temperament string
	Pitch       float64
	Beat        bool
	CountIn     int
	Repeat      bool
	// Follow says which repeats and jumps of the chosen bars are played.
	Follow    score.RoadOptions
	Ornaments bool // sounding; else the plain notes
	Even      bool // listening, they are plain and even; else as pianists play them
	// Voice says to whom results speak: "child", or "" the teacher.
	Voice    string
	Selected int // index into Reading.Ornaments, -1 for none
	// Note is the selected written note, the ornament's principal or one
	// without an ornament; "" for none.
	Note score.ID
	// Closed holds the notes whose ornament has no line as played above it.
	Closed map[score.ID]bool
	// Naming is how words call the notes; it is the player's and stays out of
	// the decisions.
	Naming music.Naming
	// Words is the language of all words; it too is the player's.
	Words *words.Catalogue
	// Taught says that what is decided is a teacher's, and the words speak to
	// her student.
	Taught bool

	sounding *perf.Performance // nil until it is asked for
	heard    *perf.Performance // the same, listening
	past     history
}

// New lays a passage on the desk with the settings a first visit expects.
func New(id string, p *score.Passage, taste realize.Taste) *Desk { return Open(id, p, taste, nil) }

// Open is [New] that calls yield while it reads a long score; yield may be nil.
func Open(id string, p *score.Passage, taste realize.Taste, yield func()) *Desk {
	taste = taste.WithinLimits()
	d := &Desk{
		ID: id, Passage: p, Taste: taste,
		To: len(p.Measures), Percent: 100,
		Tap:     round.RightHand,
		CountIn: 1, Ornaments: true,
		Naming: taste.Naming, Words: taste.Words, Taught: taste.Taught,
	}
	d.Taste.Naming, d.Taste.Words, d.Taste.Taught = music.EnglishNames, nil, false
	d.past.origin = p
	// A long score opens on its first ornaments, not on the whole of it.
	d.readYielding(yield)
	if len(p.Measures) > firstBars {
		d.To = firstBars
		if len(d.Reading.Ornaments) > 0 {
			m := d.Reading.Ornaments[0].Measure
			d.From = max(0, m-1)
			d.To = min(len(p.Measures), d.From+4)
		}
	}
	d.selectInside()
	d.begin()
	return d
}

// firstBars is how many measures a passage may have to open whole.
const firstBars = 16

// read brings the reading up to date with the taste.
func (d *Desk) read() { d.readYielding(nil) }

func (d *Desk) readYielding(yield func()) {
	d.Reading = realize.ReadYielding(d.Passage, d.named(), yield)
	d.sounding, d.heard = nil, nil
	if !d.InstrumentSet {
		d.Instrument = instrumentOf(d.Reading.Tradition)
	}
	if yield != nil {
		yield()
		d.perform(yield)
	}
	d.follow()
	d.remember()
}

// Sounding returns the passage as it sounds. In a long one that takes as long
// as reading does, so it is made when it is asked for: a change and what comes
// of it are two steps for whoever waits.
func (d *Desk) Sounding() *perf.Performance {
	if d.sounding == nil {
		d.perform(nil)
	}
	return d.sounding
}

func (d *Desk) perform(yield func()) {
	d.sounding = realize.Perform(d.Reading, realize.PerformOptions{Plain: !d.Ornaments, Yield: yield})
}

// SetTradition reads the passage in another tradition; "" follows composer
// and date.
func (d *Desk) SetTradition(key string) {
	d.Taste.Tradition = key
	d.read()
}

// SetGoal sets the goal tempo in felt beats a minute of the first metre; 0,
// and what no one could play, goes back to what the score says.
func (d *Desk) SetGoal(beats float64) {
	d.Taste.Tempo = beats * d.beat().Float()
	d.Taste = d.Taste.WithinLimits()
	d.read()
}

// SetPrefer orders the choices by what the sources say or by what performers
// do.
func (d *Desk) SetPrefer(prefer realize.Preference) {
	d.Taste.Prefer = prefer
	d.read()
}

// SetRate sets the notes a second the player can manage and reports whether
// it lies within the limits; else it stays as it was.
func (d *Desk) SetRate(rate float64) bool {
	if !(rate >= realize.SlowestRate && rate <= realize.FastestRate) {
		return false
	}
	d.Taste.Rate = rate
	d.read()
	return true
}

// Rate returns the notes a second the reading counts with.
func (d *Desk) Rate() float64 {
	if d.Taste.Rate == 0 {
		return realize.StudentRate
	}
	return d.Taste.Rate
}

// Heard returns the passage as it sounds where one only listens: as pianists play
// it, unless it is to be even. What is tapped is always even.
func (d *Desk) Heard() *perf.Performance {
	if d.Even || !d.Ornaments {
		return d.Sounding()
	}
	if d.heard == nil {
		d.heard = realize.Perform(d.Reading, realize.PerformOptions{Shaped: true})
	}
	return d.heard
}

// SetOrnaments lets the ornaments sound or leaves them out.
func (d *Desk) SetOrnaments(on bool) {
	d.Ornaments = on
	d.read()
}

// Ornament returns the selected ornament.
func (d *Desk) Ornament() (*realize.Ornament, bool) {
	if d.Selected < 0 || d.Selected >= len(d.Reading.Ornaments) {
		return nil, false
	}
	return &d.Reading.Ornaments[d.Selected], true
}

// Select selects an ornament by its index; others leave the selection as it is.
func (d *Desk) Select(i int) {
	if i >= 0 && i < len(d.Reading.Ornaments) {
		d.Selected = i
		d.noteOfOrnament()
	}
}

// SelectID selects an ornament by its id.
func (d *Desk) SelectID(id string) {
	for i := range d.Reading.Ornaments {
		if d.Reading.Ornaments[i].ID == id {
			d.Select(i)
		}
	}
}

// Step moves the selection by n ornaments within the chosen measures, around
// the end.
func (d *Desk) Step(n int) {
	inside := d.Inside()
	if len(inside) == 0 {
		return
	}
	at := d.placeAmong(inside, n)
	for k, i := range inside {
		if i == d.Selected {
			at = k
		}
	}
	d.Select(inside[((at+n)%len(inside)+len(inside))%len(inside)])
}

// placeAmong is where a step of n starts from a note without an ornament: at
// the ornament before it for a step on, at the one after it for a step back.
func (d *Desk) placeAmong(inside []int, n int) int {
	r, ok := d.Passage.Find(d.Note)
	if !ok {
		return 0
	}
	before := 0
	for _, i := range inside {
		if d.Reading.Ornaments[i].Onset.Less(d.Passage.Chords[r.Chord].Onset) {
			before++
		}
	}
	if n > 0 {
		return before - 1
	}
	return before
}

// Inside returns the indexes of the ornaments in the chosen measures.
func (d *Desk) Inside() []int {
	var inside []int
	for i := range d.Reading.Ornaments {
		if m := d.Reading.Ornaments[i].Measure; m >= d.From && m < d.To {
			inside = append(inside, i)
		}
	}
	return inside
}

// selectInside keeps the selection in the chosen measures.
func (d *Desk) selectInside() {
	inside := d.Inside()
	for _, i := range inside {
		if i == d.Selected {
			return
		}
	}
	if r, ok := d.Passage.Find(d.Note); ok && d.Selected < 0 {
		if m := d.Passage.Chords[r.Chord].Measure; m >= d.From && m < d.To {
			return // a note without an ornament, still in sight
		}
	}
	d.Selected = -1
	if len(inside) > 0 {
		d.Selected = inside[0]
	}
	d.noteOfOrnament()
}

// Round returns the settings of a round on this desk: tapping or listening.
func (d *Desk) Round(tapping bool) round.Settings {
	s := round.Settings{
		From: d.From, To: d.To, Percent: d.Percent, Play: round.BothHands,
		Beat: d.Beat, CountIn: d.CountIn, Repeat: d.Repeat, Voice: d.Voice,
		Along: true, Follow: d.Follow, Words: d.Words,
	}
	if tapping {
		s.Tap, s.Play = d.Tap, d.Tap.Other()
	}
	// Listening to neither hand would be no listening.
	if d.HearSet && (tapping || d.Hear != round.NoHand) {
		s.Play = d.Hear
	}
	return s
}

// Plan lays out a round on this desk; rate is in frames a second.
func (d *Desk) Plan(tapping bool, rate int) (*round.Plan, error) {
	return d.plan(d.Round(tapping), rate)
}

// PlanSign lays out the selected ornament alone, to be heard with both hands
// at so many per cent of the goal tempo, and the note it lands on.
func (d *Desk) PlanSign(percent float64, rate int) (*round.Plan, error) {
	o, ok := d.Ornament()
	if !ok {
		return nil, round.ErrNoMeasures
	}
	return d.plan(round.Settings{
		From: o.Measure, To: o.Measure + 1, First: o.Onset, Until: o.Onset.Add(o.Notated),
		Percent: percent, Play: round.BothHands, Words: d.Words,
	}, rate)
}

// PlanAs is PlanSign with the ornament played as own has it, in exactly its
// times; the desk stays as it is.
func (d *Desk) PlanAs(own realize.Own, percent float64, rate int) (*round.Plan, error) {
	o, ok := d.Ornament()
	if !ok {
		return nil, round.ErrNoMeasures
	}
	other := *d
	other.Taste = d.Taste.WithOwn(o.Note, own)
	other.Reading = realize.Read(other.Passage, other.named())
	other.sounding, other.heard, other.Even = nil, nil, true
	return other.PlanSign(percent, rate)
}

func (d *Desk) plan(s round.Settings, rate int) (*round.Plan, error) {
	names := map[string]string{}
	for i := range d.Reading.Ornaments {
		o := &d.Reading.Ornaments[i]
		names[o.ID] = o.Choices[o.Chosen].Name
	}
	sounding, listening := d.Sounding(), s.Tap == round.NoHand
	if listening {
		sounding = d.Heard()
	}
	if road := s.Road(d.Passage); road != nil {
		sounding = realize.PerformAlong(d.Reading, realize.PerformOptions{Plain: !d.Ornaments, Shaped: listening && !d.Even}, road)
	}
	return round.Build(d.Passage, sounding, names, s, rate)
}

// beat returns the felt beat of the first chosen measure.
func (d *Desk) beat() music.Frac { return d.metre().Beat() }

func (d *Desk) metre() music.Metre {
	if d.From < len(d.Passage.Measures) {
		return d.Passage.Measures[d.From].Metre
	}
	return music.Metre{Beats: 4, Unit: 4}
}
