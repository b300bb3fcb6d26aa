package studio_test

import (
	"agremens/game/class"
	"errors"
	"strings"

	"agremens/game/conduct"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/game/studio"
	"agremens/realize/music"
	"agremens/realize/tap"
	"agremens/realize/words"
	"agremens/synth"
	"agremens/synth/clock"
	"agremens/synth/tuning"
)

// device is everything around a studio: a store that outlasts it, a page, a
// clock and a sound device.
type device struct {
	texts    map[string]string
	full     bool // the store takes nothing
	now      float64
	fragment string
	language *words.Catalogue
	sound    *sound
	page     *page
	studio   *studio.Studio
}

func newDevice() *device {
	return &device{texts: map[string]string{}, now: 1000, language: nil}
}

// load loads the page with an address's query.
func (d *device) load(query map[string]string) {
	d.sound = &sound{device: d, clock: clock.New(conduct.Rate)}
	d.page = &page{device: d}
	d.studio = studio.New(d.sound, d.page, d, d, music.EnglishNames, d.language)
	d.studio.First(query, d.fragment, func() {})
}

// wait lets ms pass, in ticks.
func (d *device) wait(ms float64) {
	const tick = 50
	for end := d.now + ms; d.now < end; {
		d.now += tick
		d.studio.Rounds.Tick()
	}
}

func (d *device) Now() float64 { return d.now }
func (d *device) Wall() (day, minute int) {
	const minutes = 24 * 60
	at := int(d.now / 60_000)
	return 20000 + at/minutes, at % minutes
}
func (d *device) Forget(key string) error { delete(d.texts, key); return nil }
func (d *device) Keys(prefix string) (all []string) {
	for key := range d.texts {
		if strings.HasPrefix(key, prefix) {
			all = append(all, key)
		}
	}
	return all
}
func (d *device) Load(key string) (string, bool, error) {
	text, ok := d.texts[key]
	return text, ok, nil
}

func (d *device) Save(key, text string) error {
	if d.full {
		return errors.New("no room")
	}
	d.texts[key] = text
	return nil
}

// sound is a device whose frame 0 is heard at time 0.
type sound struct {
	device *device
	clock  *clock.Clock
	broken bool // does not open
	silent bool // opens, and nothing is heard
	held   bool

	playing    *synth.Sequence
	instrument synth.Instrument
	tuning     tuning.Tuning
}

func (s *sound) frame() int64 { return int64(s.device.now * conduct.Rate / 1000) }

func (s *sound) Open() error {
	if s.broken {
		return errors.New("no device")
	}
	return nil
}

func (s *sound) Poll() {
	if s.silent || s.broken {
		return
	}
	at := float64(s.frame())
	s.clock.Mark(clock.Mark{Context: at, Played: at, Left: 8000}, s.device.now)
	s.clock.Sample(clock.Sample{
		Now: s.device.now, Current: s.device.now / 1000, OutContext: s.device.now / 1000, OutPerformance: s.device.now, OutputLatency: 0.03,
	})
}

func (s *sound) Clock() *clock.Clock { return s.clock }
func (s *sound) Held() bool          { return s.held }
func (s *sound) Failure() string     { return "" }
func (s *sound) Lead() *float64      { return nil }
func (s *sound) Measured() bool      { return false }
func (s *sound) PictureMS() float64  { return 0 }
func (s *sound) Rendered() int64     { return s.frame() + 8000 }
func (s *sound) Stop()               { s.playing = nil }

func (s *sound) Play(q synth.Sequence) int64 {
	s.playing = &q
	return s.Rendered()
}

func (s *sound) ReplaceFrom(q synth.Sequence, at, from int64) int64 {
	s.playing = &q
	return at - from
}

func (s *sound) SetInstrument(i synth.Instrument) error             { s.instrument = i; return nil }
func (s *sound) SetInstrumentAt(i synth.Instrument, at int64) error { s.instrument = i; return nil }
func (s *sound) SetTuning(t tuning.Tuning)                          { s.tuning = t }
func (s *sound) SetTuningAt(t tuning.Tuning, at int64)              { s.tuning = t }

// page remembers what it was asked to show.
type page struct {
	device   *device
	state    round.State
	messages []string
	shown    string // the desk, when it was shown last
	staff    staff  // what was engraved last
	marks    int
	awake    bool // a round sounds or is about to
	big      bool
	student  bool
	kinds    []practice.Kind
	reports  int
}

// staff is what can be seen on the staff.
type staff struct {
	reading                     any
	from, to                    int
	ornaments, covered, nothing bool
}

func (p *page) seen() staff {
	s := p.device.studio
	return staff{s.Desk.Reading, s.Desk.From, s.Desk.To, s.Desk.Ornaments, s.Rounds.Covered(), false}
}

func (p *page) State(s round.State, _ bool)     { p.state = s }
func (p *page) Say(text string)                 { p.messages = append(p.messages, text) }
func (p *page) Hush()                           { p.messages = nil }
func (p *page) Status(string)                   {}
func (p *page) Show()                           { p.shown = p.device.studio.Desk.Save() }
func (p *page) Refresh()                        {}
func (p *page) Marked()                         { p.marks = len(p.device.studio.Rounds.Marks) }
func (p *page) Waiting(bool)                    { p.awake = true }
func (p *page) Began()                          {}
func (p *page) Ended()                          { p.awake = false }
func (p *page) Finished()                       {}
func (p *page) Asked()                          {}
func (p *page) Struck(bool, tap.Tap)            {}
func (p *page) Still()                          {}
func (p *page) Big(on bool)                     { p.big = on }
func (p *page) Engrave()                        { p.staff, p.marks = p.seen(), 0 }
func (p *page) Laid()                           {}
func (p *page) Reveal()                         {}
func (p *page) Student(on bool)                 { p.student = on }
func (p *page) Kinds(k []practice.Kind, _ bool) { p.kinds = k }
func (p *page) Reports([]class.Came)            { p.reports++ }
func (p *page) Who()                            {}
func (p *page) Kept()                           {}
func (p *page) Day()                            {}
func (p *page) LastPage()                       {}
func (p *page) Address(fragment string)         { p.device.fragment = fragment }
func (p *page) Turn()                           {}
func (p *page) Breathe() func()                 { return func() {} }
func (p *page) Durable()                        {}
