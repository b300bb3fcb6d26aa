package conduct_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/conduct"
	"agremens/game/desk"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/tap"
	"agremens/synth"
	"agremens/synth/clock"
	"agremens/synth/tuning"
)

// hall is a conductor with a sound device, a page and a host that remember
// what they were told. The device's frame 0 is heard at 0 ms.
type hall struct {
	*conduct.Conductor
	t                 testing.TB
	now               float64
	clock             *clock.Clock
	silent            bool
	broken            bool
	playing, replaced bool

	said     []string
	awake    bool
	records  []round.Record
	with     string
	listened float64
	chosen   []string
	struck   []tap.Tap
}

func newHall(t testing.TB, passage string) *hall {
	t.Helper()
	h := &hall{t: t, now: 1000, clock: clock.New(conduct.Rate)}
	h.Conductor = conduct.New(device{h}, screen{h}, h, h, nil)
	for _, e := range assets.Passages() {
		if e.ID == passage {
			s, err := codec.Open([]byte(e.ABC), "", nil)
			require.NoError(t, err)
			h.Desk = desk.New(e.ID, s.Passage, realize.Taste{})
		}
	}
	require.NotNil(t, h.Desk)
	require.NoError(t, h.Desk.SetBars("1-2"))
	h.Ready()
	return h
}

// wait lets ms pass in ticks of 20 ms, or until done says so.
func (h *hall) wait(ms float64, done func() bool) {
	for end := h.now + ms; h.now < end && !(done != nil && done()); {
		h.now += 20
		h.Tick()
	}
}

// play taps every onset of the round that sounds so many ms late, to its end.
func (h *hall) play(late float64) {
	h.t.Helper()
	h.wait(10_000, func() bool { return h.Round != nil })
	require.NotNil(h.t, h.Round, "nothing began: %q", h.said)
	p, start := h.Round.Plan(), h.now
	for i, frame := range p.Frames {
		at := start + lag + float64(frame)*1000/conduct.Rate + late
		h.wait(at-h.now, nil)
		h.Strike(true, tap.Tap{At: at, Hand: p.Wants[i].Hand}, "f", conduct.OnKeys)
		h.Strike(false, tap.Tap{At: at + 30}, "f", conduct.OnKeys)
	}
	h.wait(20_000, func() bool { return h.Round == nil })
}

// lag is how far the engine is ahead of what is heard, in ms.
const lag = 100

func (h *hall) Now() float64 { return h.now }

func (h *hall) Open() error {
	if h.broken {
		return errors.New("no device")
	}
	return nil
}

func (h *hall) Poll() {
	if !h.silent {
		at := h.now * conduct.Rate / 1000
		h.clock.Mark(clock.Mark{Context: at, Played: at, Left: 8000}, h.now)
		h.clock.Sample(clock.Sample{Now: h.now, Current: h.now / 1000, OutContext: h.now / 1000, OutPerformance: h.now})
	}
}

func (h *hall) Clock() *clock.Clock { return h.clock }
func (h *hall) Held() bool          { return false }
func (h *hall) Failure() string     { return "" }
func (h *hall) Lead() *float64      { zero := 0.0; return &zero }
func (h *hall) Measured() bool      { return true }
func (h *hall) PictureMS() float64  { return 0 }
func (h *hall) Rendered() int64     { return int64((h.now + lag) * conduct.Rate / 1000) }

func (h *hall) Play(synth.Sequence) int64 {
	h.playing = true
	return h.Rendered()
}

func (h *hall) ReplaceFrom(_ synth.Sequence, at, from int64) int64 {
	h.replaced = true
	return at - from
}

func (h *hall) SetInstrument(synth.Instrument) error          { return nil }
func (h *hall) SetInstrumentAt(synth.Instrument, int64) error { return nil }
func (h *hall) SetTuning(tuning.Tuning)                       {}
func (h *hall) SetTuningAt(tuning.Tuning, int64)              {}

// device and screen have methods that the conductor has too.
type (
	device struct{ *hall }
	screen struct{ *hall }
)

func (d device) Stop()                   { d.hall.playing = false }
func (s screen) State(round.State, bool) {}

func (h *hall) Say(text string) { h.said = append(h.said, text) }
func (h *hall) Hush()           { h.said = nil }
func (h *hall) Status(string)   {}
func (h *hall) Show()           {}
func (h *hall) Refresh()        {}
func (h *hall) Marked()         {}
func (h *hall) Waiting(bool)    { h.awake = true }
func (h *hall) Began()          {}
func (h *hall) Ended()          { h.awake = false }
func (h *hall) Finished()       {}
func (h *hall) Asked()          {}
func (h *hall) Struck(down bool, t tap.Tap) {
	if down {
		h.struck = append(h.struck, t)
	}
}
func (h *hall) Still()               {}
func (h *hall) Big(bool)             {}
func (h *hall) Changed()             {}
func (h *hall) Keep()                {}
func (h *hall) Chosen(kind string)   { h.chosen = append(h.chosen, kind) }
func (h *hall) Listened(sec float64) { h.listened += sec }

func (h *hall) Record(records []round.Record, with string) {
	h.records, h.with = append(h.records, records...), with
}
