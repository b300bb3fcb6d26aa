package calibration_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/calibration"
	"agremens/realize/tap"
	"agremens/synth/clock"
)

const rate = 48000

// steady is a clock that hears frame 0 at 1000 ms.
type steady struct{ gaps int }

func (s steady) HeardAt(frame float64) (float64, bool) { return 1000 + frame*1000/rate, true }
func (s steady) Gaps() int                             { return s.gaps }
func (s steady) Jumps() int                            { return 0 }

// person taps so many ms after each click and flash that the page believes
// in: what the device adds and what the person does.
type person struct{ sound, picture, spread float64 }

// through goes through the whole procedure, frames drawn 60 a second.
func through(p person, c *steady, seed uint64) calibration.Result {
	random := rand.New(rand.NewPCG(seed, 3))
	start := int64(4800)
	seq := calibration.Sequence(rate)
	var taps []float64
	for _, k := range seq.Clicks {
		at, _ := c.HeardAt(float64(start + k.At))
		taps = append(taps, at+p.sound+p.spread*random.NormFloat64())
	}
	run := calibration.Start(rate, start, c)
	lit := false
	for now := 1000.0; run.Phase() != calibration.Done; now += 1000.0 / 60 {
		for len(taps) > 0 && taps[0] <= now {
			run.Tap(taps[0])
			taps = taps[1:]
		}
		run.Tick(now, c)
		is := run.Lit(now)
		if is && !lit {
			taps = append(taps, now+p.picture+p.spread*random.NormFloat64())
		}
		lit = is
	}
	return run.Result()
}

func TestHalfAMinute(t *testing.T) {
	c := &steady{}
	run := calibration.Start(rate, 0, c)
	now := 1000.0
	for ; run.Tick(now, c) != calibration.Done; now += 10 {
		run.Lit(now)
	}
	assert.InDelta(t, 30, (now-1000)/1000, 3, "seconds")
	assert.InDelta(t, 1, run.Part(), 1e-9)
	assert.Equal(t, clock.Unknown, run.Result().Sound.Trust, "nobody tapped")
}

func TestFindsBothDelays(t *testing.T) {
	// Leads of untrained tappers: Repp 2005, from memory; delays of wireless
	// headphones: around 200 ms, from memory.
	for _, p := range []person{{-35, -10, 20}, {28, 15, 20}, {180, 40, 20}, {260, 60, 15}} {
		for seed := range uint64(20) {
			r := through(p, &steady{}, seed)
			require.NotEqual(t, clock.Unknown, r.Sound.Trust, "%+v", p)
			assert.InDelta(t, p.sound, r.Sound.OffsetMS, 22, "%+v", p)
			assert.InDelta(t, p.picture, r.Picture.OffsetMS, 22, "%+v", p)
		}
	}
}

func TestAHoleSpoilsIt(t *testing.T) {
	c := &steady{}
	run := calibration.Start(rate, 0, c)
	run.Tick(1100, c)
	c.gaps++
	for now := 1200.0; run.Tick(now, c) != calibration.Done; now += 10 {
	}
	r := run.Result()
	assert.True(t, r.Stumbled)
	_, ok := calibration.Keep("x", 20, r)
	assert.False(t, ok)
	assert.Contains(t, r.InWords("x", 20, nil), "Once more")
}

func TestDelayAndLead(t *testing.T) {
	for _, c := range []struct {
		name        string
		told        bool
		offset      float64
		trust       clock.Trust
		extra, lead float64
		judged      bool
	}{
		{"an ordinary lead, latency told", true, -40, clock.Sure, 0, -40, true},
		{"exactly on it", true, 5, clock.Sure, 0, 5, true},
		{"wireless, not told", true, 150, clock.Sure, 185, -35, true},
		{"nothing told, the usual lead", false, 28, clock.Sure, 63, -35, true},
		{"nothing told, nothing late", false, -35, clock.Sure, 0, -35, true},
		{"nothing told, earlier than most", false, -60, clock.Sure, 0, -60, true},
		{"rough: the long delay, not the lead", true, 200, clock.Rough, 235, -35, false},
		{"far too early to be a lead", true, -120, clock.Sure, 0, -120, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			k := calibration.Kept{OffsetMS: c.offset, Trust: c.trust}
			if c.told {
				k.ToldMS = 30
			}
			assert.InDelta(t, c.extra, k.ExtraMS(), 1e-9)
			lead, ok := k.LeadMS()
			assert.InDelta(t, c.lead, lead, 1e-9)
			assert.Equal(t, c.judged, ok)
			assert.InDelta(t, c.offset, k.ExtraMS()+lead, 1e-9, "they add up")
		})
	}
}

func TestOutputs(t *testing.T) {
	plain := calibration.Output{Channels: 2, LatencyMS: 24}
	assert.Equal(t, plain.Key(), calibration.Output{Channels: 2, LatencyMS: 48, Listen: "speaker"}.Key(), "told latency wanders")
	for _, other := range []calibration.Output{
		{Channels: 2, LatencyMS: 180}, {Channels: 2, LatencyMS: 24, Listen: "wireless"}, {Channels: 6, LatencyMS: 24},
		{Device: "USB", Channels: 2, LatencyMS: 24},
	} {
		assert.NotEqual(t, plain.Key(), other.Key())
	}
}

func TestBook(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b calibration.Book
		for range rapid.IntRange(0, 20).Draw(t, "n") {
			b = b.With(calibration.Kept{
				Output:   calibration.Output{Device: rapid.String().Draw(t, "device"), Channels: 2}.Key(),
				OffsetMS: float64(rapid.IntRange(-3000, 3000).Draw(t, "offset")) / 10,
				ErrorMS:  float64(rapid.IntRange(0, 300).Draw(t, "error")) / 10,
				Trust:    clock.Trust(rapid.IntRange(1, 2).Draw(t, "trust")),
				ToldMS:   float64(rapid.IntRange(0, 900).Draw(t, "told")) / 10,
			})
		}
		assert.LessOrEqual(t, len(b), 12)
		assert.Equal(t, b, calibration.ParseBook(b.String()))
		if len(b) > 0 {
			k, ok := b.Find(b[0].Output)
			assert.True(t, ok)
			assert.Equal(t, b[0], k)
			_, ok = b.Without(k.Output).Find(k.Output)
			assert.False(t, ok)
		}
	})
	assert.Empty(t, calibration.ParseBook("nonsense\n1 2 3 4 0\n1 2 9 4 0 x\nNaN 2 1 4 0 x\n"))
}

func TestHint(t *testing.T) {
	late := &tap.Result{MeanMS: 150, SpreadMS: 20, Hit: 20}
	assert.Contains(t, calibration.Hint(late, false, nil), "150 ms")
	assert.Contains(t, calibration.Hint(late, true, nil), "again")
	assert.Empty(t, calibration.Hint(&tap.Result{MeanMS: 150, SpreadMS: 20, Hit: 20, Spoilt: tap.CodeBroken}, false, nil), "a round that does not count")
	assert.Empty(t, calibration.Hint(&tap.Result{MeanMS: -40, SpreadMS: 20, Hit: 20}, false, nil), "an ordinary lead")
	// Late ornaments alone, plain notes fine: the player, not the output.
	assert.Empty(t, calibration.Hint(&tap.Result{MeanMS: 120, SpreadMS: 30, Hit: 20, Lead: tap.LeadInfo{MS: 5, From: "plain", N: 10, SE: 6}}, false, nil))
}

func TestWords(t *testing.T) {
	r := through(person{180, 40, 10}, &steady{}, 1)
	assert.Regexp(t, `Sound is heard about 2[34]\d ms after .* you tap 35 ms before it.*picture is about [34]\d ms late`, r.InWords("x", 25, nil))
	assert.Contains(t, calibration.Result{}.InWords("x", 0, nil), "Once more")
	for _, p := range []calibration.Phase{calibration.Clicks, calibration.Between, calibration.Flashes} {
		assert.NotEmpty(t, p.InWords(nil))
	}
}
