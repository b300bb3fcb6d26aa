package hear_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/hear"
	"agremens/realize/heard"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// kinds are what is amiss: in time by the judge of taps, then the notes that are
// not those written.
func kinds(e hear.Expected, r hear.Report) []string {
	all := []string{}
	for _, f := range heard.Judge(e, r, nil, tap.Options{BeatMS: 1000 * quarter}).Findings {
		if k := heard.Kind(f); k != "" {
			all = append(all, k)
		}
	}
	for _, o := range r.Ornaments {
		for _, f := range o.Faults {
			all = append(all, f.Kind)
		}
	}
	return all
}

// compare holds a report against what was played. The instant at which a
// synthesized string speaks is a constant of the instrument, taken out here.
func compare(t *testing.T, r hear.Report, truth *take, within float64) {
	t.Helper()
	notes := written()
	var off []float64
	for i, h := range r.Notes {
		if h.Played {
			for _, n := range truth.notes {
				if n.id == notes[i].ID {
					off = append(off, h.At-n.at)
				}
			}
		}
	}
	require.NotEmpty(t, off)
	sort.Float64s(off)
	constant := off[len(off)/2]
	assert.InDelta(t, 0, constant, 0.012, "the constant of all onsets")
	bad := 0
	for _, d := range off {
		if math.Abs(d-constant) > within {
			bad++
		}
	}
	assert.LessOrEqual(t, bad, len(off)/20, "onsets more than %.0f ms away: %v", 1000*within, off)
	there := map[string]bool{}
	for _, n := range truth.notes {
		there[n.id] = true
	}
	wrong := 0
	for i, h := range r.Notes {
		if h.Reached && h.Played != there[notes[i].ID] {
			wrong++
		}
	}
	assert.LessOrEqual(t, wrong, 1, "notes called played that were not, or the other way round")
}

func TestTakes(t *testing.T) {
	for _, c := range []struct {
		name   string
		sound  sound
		change func(*take)
		faults []string
		extra  int
	}{
		{"clean", sound{}, nil, []string{}, 0},
		{"an early piano", sound{instrument: "fortepiano"}, nil, []string{}, 0},
		{"a harpsichord", sound{instrument: "harpsichord-single"}, nil, []string{}, 0},
		{"a clavichord, 44.1 kHz", sound{instrument: "clavichord", rate: 44100}, nil, []string{}, 0},
		{"30 cents sharp", sound{cents: 30}, nil, []string{}, 0},
		{"35 cents flat, softly recorded", sound{cents: -35, gain: 0.01}, nil, []string{}, 0},
		{"noise 15 dB below", sound{noise: 15}, nil, []string{}, 0},
		{"32 kHz", sound{rate: 32000}, nil, []string{}, 0},
		{"late", sound{}, func(k *take) {
			for _, id := range trill {
				k.note(id).at += 0.11
			}
		}, []string{"late"}, 0},
		{"uneven", sound{noise: 25}, func(k *take) {
			for i, id := range trill {
				if i%2 == 1 {
					k.note(id).at += 0.06
				}
			}
		}, []string{"uneven"}, 0},
		{"lands late", sound{instrument: "fortepiano"}, func(k *take) { k.note("r3").at += 0.12 }, []string{"landing"}, 0},
		{"a note missing", sound{}, func(k *take) { k.remove("t4") }, []string{"missing"}, 0},
		{"another key", sound{}, func(k *take) { n := k.note("t3"); n.id, n.key = "", 80 }, []string{"wrong"}, 1},
		{"one alternation more", sound{}, func(k *take) {
			for i, id := range trill {
				k.note(id).at = k.note("t1").at + float64(i)*0.1
			}
			last := k.note("t6").at
			k.notes = append(k.notes, played{"", 79, last + 0.1, 0.6}, played{"", 77, last + 0.2, 0.6})
		}, []string{"extra"}, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			truth := play(1)
			if c.change != nil {
				c.change(truth)
			}
			rate := c.sound.rate
			if rate == 0 {
				rate = 48000
			}
			r := listen(c.sound.of(truth), rate, hear.Expected{Notes: written(), Tempo: 72})
			require.Empty(t, r.Reason)
			compare(t, r, truth, 0.012)
			assert.Equal(t, c.faults, kinds(hear.Expected{Notes: written(), Tempo: 72}, r))
			assert.Len(t, r.Extra, c.extra)
			assert.InDelta(t, c.sound.cents, r.Cents, 4)
			assert.InDelta(t, 72, r.Tempo, 2)
		})
	}
}

func TestOwnTempoIsFound(t *testing.T) {
	for _, faster := range []float64{0.6, 1, 1.7} {
		truth := play(3)
		for i := range truth.notes {
			truth.notes[i].at = leadIn + (truth.notes[i].at-leadIn)/faster
		}
		r := listen(sound{}.of(truth), 48000, hear.Expected{Notes: written()})
		require.Empty(t, r.Reason, "%v times as fast", faster)
		assert.InDelta(t, 72*faster, r.Tempo, 3*faster)
	}
}

func TestStopAndNewStart(t *testing.T) {
	t.Run("a stop", func(t *testing.T) {
		truth := play(4)
		kept := truth.notes[:0]
		for _, n := range truth.notes {
			if n.at < leadIn+4.5*quarter {
				kept = append(kept, n)
			}
		}
		truth.notes = kept
		r := listen(sound{}.of(truth), 48000, hear.Expected{Notes: written(), Tempo: 72})
		require.Empty(t, r.Reason)
		assert.InDelta(t, 4, r.Stopped, 0.01)
		for i, n := range written() {
			assert.Equal(t, n.At <= 4, r.Notes[i].Reached, n.ID)
		}
	})
	t.Run("the landing left out", func(t *testing.T) {
		truth := play(4)
		truth.remove("r7")
		truth.remove("l7a")
		r := listen(sound{}.of(truth), 48000, hear.Expected{Notes: written(), Tempo: 72})
		require.Empty(t, r.Reason)
		assert.True(t, math.IsInf(r.Stopped, 1), "stopped after %v", r.Stopped)
		for i, n := range written() {
			assert.True(t, r.Notes[i].Reached, n.ID)
			assert.Equal(t, n.At < 7, r.Notes[i].Played, n.ID)
		}
	})
	t.Run("a new start", func(t *testing.T) {
		truth := play(5)
		again := 3.4*quarter + 1.2
		var first []played
		for i := range truth.notes {
			n := truth.notes[i]
			if n.at < leadIn+3.4*quarter {
				n.id = ""
				first = append(first, n)
			}
			truth.notes[i].at += again
		}
		truth.notes = append(truth.notes, first...)
		truth.end += again
		r := listen(sound{}.of(truth), 48000, hear.Expected{Notes: written(), Tempo: 72})
		require.Empty(t, r.Reason)
		assert.Equal(t, 2, r.Passes)
		assert.InDelta(t, leadIn+again, r.Offset, 0.03, "the last start is judged")
		assert.True(t, math.IsInf(r.Stopped, 1))
		compare(t, r, truth, 0.012)
		assert.Empty(t, kinds(hear.Expected{Notes: written(), Tempo: 72}, r))
	})
}

func noise(seconds float64) []float32 {
	r := rand.New(rand.NewPCG(7, 7))
	x := make([]float32, int(seconds*48000))
	for i := range x {
		x[i] = float32(0.1 * r.NormFloat64())
	}
	return x
}

// babble is a voice: tones that glide, in syllables.
func babble(seconds float64) []float32 {
	r := rand.New(rand.NewPCG(8, 8))
	x := make([]float32, int(seconds*48000))
	phase, hz, to := 0.0, 150.0, 150.0
	for i := range x {
		if i%9000 == 0 {
			to = 100 + 120*r.Float64()
		}
		hz += (to - hz) * 1e-4
		phase += hz / 48000
		loud := max(0, math.Sin(2*math.Pi*float64(i)/11000))
		v := 0.0
		for h := 1.0; h < 20; h++ {
			v += math.Sin(2*math.Pi*h*phase) / h
		}
		x[i] = float32(0.1 * loud * v)
	}
	return x
}

func TestRefused(t *testing.T) {
	other := &take{end: 8}
	for i, k := range []int{60, 67, 65, 64, 62, 72, 67, 65, 64, 62, 72, 67, 65, 64, 65, 62} {
		other.notes = append(other.notes, played{"", k, 0.6 + 0.42*float64(i), 0.6})
	}
	invalid := noise(1)
	for i := range invalid {
		invalid[i] = float32(math.NaN())
	}
	for _, c := range []struct {
		name  string
		sound []float32
		want  []string
	}{
		{"nothing", nil, []string{hear.Silent}},
		{"silence", make([]float32, 3*48000), []string{hear.Silent}},
		{"no numbers", invalid, []string{hear.Silent}},
		{"noise", noise(6), []string{hear.NotMusic, hear.OtherMusic}},
		{"a voice", babble(8), []string{hear.NotMusic, hear.OtherMusic}},
		{"another piece", sound{}.of(other), []string{hear.OtherMusic}},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, tempo := range []float64{72, 0} {
				r := listen(c.sound, 48000, hear.Expected{Notes: written(), Tempo: tempo})
				assert.Contains(t, c.want, r.Reason)
				assert.Empty(t, r.Notes)
			}
		})
	}
	assert.Equal(t, hear.NothingDue, listen(noise(1), 48000, hear.Expected{}).Reason)
}

func TestBlocksMakeNoDifference(t *testing.T) {
	x := sound{}.of(play(6))[:3*48000]
	var want []hear.Strike
	for _, size := range []int{len(x), 37, 480, 9000} {
		l := hear.New(hear.Expected{Notes: written(), Tempo: 72}, hear.Options{Rate: 48000})
		for rest := x; len(rest) > 0; {
			n := min(size, len(rest))
			l.Feed(rest[:n])
			rest = rest[n:]
		}
		l.Finish()
		if want == nil {
			want = l.Strikes()
			require.NotEmpty(t, want)
		}
		assert.Equal(t, want, l.Strikes(), "blocks of %d", size)
	}
}

func TestSoonSure(t *testing.T) {
	truth := play(7)
	x := sound{}.of(truth)
	l := hear.New(hear.Expected{Notes: written(), Tempo: 72}, hear.Options{Rate: 48000})
	fed, guessed, sure := 0.0, 0, 0
	for len(x) >= 480 {
		fed += 0.01
		for _, o := range l.Feed(x[:480]) {
			sure++
			assert.Less(t, fed-o.At, 0.16, "at most 150 ms behind, and a block")
			if o.Note >= 0 && math.Abs(leadIn+written()[o.Note].At*quarter-o.At) < 0.1 {
				guessed++
			}
		}
		x = x[480:]
	}
	assert.Greater(t, sure, len(truth.notes)*8/10)
	assert.Greater(t, guessed, sure*8/10, "most are taken for the note that they are")
}

func TestAgreesWithMIDI(t *testing.T) {
	truth := play(8)
	for _, id := range trill {
		truth.note(id).at += 0.1
	}
	l := hear.New(hear.Expected{Notes: written(), Tempo: 72}, hear.Options{})
	sort.Slice(truth.notes, func(i, j int) bool { return truth.notes[i].at < truth.notes[j].at })
	for _, n := range truth.notes {
		l.Strike(hear.Strike{At: n.at, Key: n.key, Odds: 8})
	}
	keys := l.Finish()
	sound := listen(sound{}.of(truth), 48000, hear.Expected{Notes: written(), Tempo: 72})
	require.Empty(t, keys.Reason)
	assert.Equal(t, []string{"late"}, kinds(hear.Expected{Notes: written(), Tempo: 72}, keys))
	assert.Equal(t, kinds(hear.Expected{Notes: written(), Tempo: 72}, keys), kinds(hear.Expected{Notes: written(), Tempo: 72}, sound))
	assert.InDelta(t, keys.Ornaments[0].Start.V, sound.Ornaments[0].Start.V, 12)
}

func TestTheWayThatWasPlayed(t *testing.T) {
	other := written()
	for i := range other { // from below: another choice at the same place
		if other[i].Ornament != "" {
			other[i].Key = 77 - 2*(int(other[i].ID[1]-'1')%2)
		}
	}
	l := hear.New(hear.Expected{Notes: other, Tempo: 72}, hear.Options{Rate: 48000, Also: []int{79}})
	l.Feed(sound{}.of(play(9)))
	wrong := l.Finish()
	right := l.Against(hear.Expected{Notes: written(), Tempo: 72})
	assert.Greater(t, right.Fit, wrong.Fit+5)
}

// clicks are a beat as a loudspeaker is sent it.
func clicks(length int, first, every float64) []float32 {
	sent := make([]float32, length)
	for t := first; int(t*48000)+2000 < length; t += every {
		at := int(math.Round(t * 48000))
		for i := range 1500 {
			s := float64(i) / 48000
			sent[at+i] = float32(0.4 * math.Sin(2*math.Pi*2000*s) * math.Exp(-s/0.006))
		}
	}
	return sent
}

const speakerDelay = 3111 // samples

// throughRoom adds what a microphone hears of sent to x: the sound itself and
// one reflection. It returns the power of what was added.
func throughRoom(x, sent []float32) (both []float32, power float64) {
	both = append([]float32(nil), x...)
	for i := range both[speakerDelay:] {
		v := 0.5*sent[i] + 0.2*sent[max(0, i-400)]
		both[speakerDelay+i] += v
		power += float64(v) * float64(v)
	}
	return both, power
}

// What a loudspeaker was sent is taken out, and its delay found.
func TestTakeOut(t *testing.T) {
	x := sound{noise: 40}.of(play(10))
	sent := clicks(len(x), 0.2, 0.8333)
	both, power := throughRoom(x, sent)
	rest, found, ok := hear.TakeOut(both, sent, 48000)
	require.True(t, ok)
	assert.InDelta(t, speakerDelay/48000.0, found, 0.0005)
	left := 0.0
	for i := range rest {
		left += float64(rest[i]-x[i]) * float64(rest[i]-x[i])
	}
	assert.Less(t, left, 0.1*power, "10 dB at least are gone")
	_, _, ok = hear.TakeOut(x, make([]float32, len(x)), 48000)
	assert.False(t, ok, "nothing was sent")
}

// The same while the sound goes on: after four beats counted in, the beat is
// no note, and late is late against the beat.
func TestFeedBeside(t *testing.T) {
	const countIn = 4 * quarter
	truth := play(11)
	for i := range truth.notes {
		truth.notes[i].at += countIn
	}
	truth.end += countIn
	for _, id := range trill {
		truth.note(id).at += 0.1
	}
	x := sound{noise: 30}.of(truth)
	first := leadIn - speakerDelay/48000.0
	sent := clicks(len(x), first, quarter)
	both, _ := throughRoom(x, sent)
	e := hear.Expected{Notes: written(), Tempo: 72, Beat: &hear.Beat{Bar: first + countIn, Quarter: quarter}}
	l := hear.New(e, hear.Options{Rate: 48000})
	for at := 0; at < len(both); at += 960 {
		to := min(at+960, len(both))
		for _, o := range l.FeedBeside(both[at:to], sent[at:to]) {
			assert.Less(t, float64(to)/48000-o.At, 0.17, "at most 150 ms behind, and a block")
		}
	}
	r := l.Finish()
	require.Empty(t, r.Reason)
	require.True(t, r.Delay.Known)
	assert.InDelta(t, speakerDelay/48000.0, r.Delay.V, 0.001)
	assert.Equal(t, []string{"late"}, kinds(hear.Expected{Notes: written(), Tempo: 72}, r))
	assert.Empty(t, r.Extra)
	for i, h := range r.Notes {
		if n := written()[i]; n.Ornament == "" && h.Played {
			assert.InDelta(t, 0, h.Error, 40, n.ID)
		}
	}

	// A loudspeaker that was silent, or is not in the recording, changes nothing.
	for name, sent := range map[string][]float32{"silent": make([]float32, len(x)), "elsewhere": clicks(len(x), 0.3, 0.71)} {
		l := hear.New(e, hear.Options{Rate: 48000})
		l.FeedBeside(x, sent)
		r := l.Finish()
		require.Empty(t, r.Reason, name)
		assert.False(t, r.Delay.Known, name)
		assert.Empty(t, r.Extra, name)
	}
}

func FuzzListen(f *testing.F) {
	f.Add([]byte{0, 1, 2, 255, 128, 127, 64}, uint16(100), 48000.0)
	f.Add([]byte{255, 0, 255, 0}, uint16(3), 44100.0)
	f.Fuzz(func(t *testing.T, data []byte, block uint16, rate float64) {
		l := hear.New(hear.Expected{Notes: written()}, hear.Options{Rate: rate})
		var x []float32
		for i := 0; i < 40000 && len(data) > 0; i++ {
			switch b := data[i%len(data)]; b {
			case 255:
				x = append(x, float32(math.NaN()))
			case 254:
				x = append(x, float32(math.Inf(1)))
			case 253:
				x = append(x, 1e30)
			default:
				x = append(x, (float32(b)-126)/126)
			}
		}
		for len(x) > 0 {
			n := min(int(block)+1, len(x))
			for _, o := range l.Feed(x[:n]) {
				assert.False(t, math.IsNaN(o.At) || math.IsNaN(o.Confidence))
			}
			x = x[n:]
		}
		r := l.Finish()
		for _, h := range r.Notes {
			assert.False(t, math.IsNaN(h.At) || math.IsNaN(h.Error) || math.IsNaN(h.Confidence))
		}
	})
}

func BenchmarkListen(b *testing.B) {
	x := sound{noise: 20}.of(play(1))
	seconds := float64(len(x)) / 48000
	b.ResetTimer()
	for b.Loop() {
		l := hear.New(hear.Expected{Notes: written(), Tempo: 72}, hear.Options{Rate: 48000})
		l.Feed(x)
		l.Finish()
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/seconds, "s/s")
}

// The other hand sounds from a loudspeaker whose sound was not found in the
// microphone's: the keys that it was sent tell how late it was heard.
func TestDelayByTheNotesSent(t *testing.T) {
	truth := play(5)
	const delay = 0.11
	e := hear.Expected{Notes: written(), Tempo: 72}
	for i := range e.Notes {
		if n := &e.Notes[i]; n.Hand == perf.Left {
			n.Program, n.Sent = true, truth.note(n.ID).at-delay
		}
	}
	r := listen(sound{}.of(truth), 48000, e)
	require.Empty(t, r.Reason)
	require.True(t, r.Delay.Known)
	assert.InDelta(t, delay, r.Delay.V, 0.01)
	require.Len(t, r.Ornaments, 1)
	assert.InDelta(t, 0, r.Ornaments[0].Start.V, 30)

	// What is not in the sound has no delay.
	for i := range e.Notes {
		if n := &e.Notes[i]; n.Program {
			n.Sent += 0.5 * quarter
		}
	}
	assert.False(t, listen(sound{}.of(truth), 48000, e).Delay.Known)
}

// An ornament begins with the key of the note before it, and another is struck
// in its place: the note before it is not taken for it.
func TestAnotherKeyAfterTheSame(t *testing.T) {
	e := hear.Expected{Notes: written(), Tempo: 72}
	for i := range e.Notes {
		switch n := &e.Notes[i]; n.ID {
		case "r1":
			n.At = 1.9
		case "t1":
			n.Key = 76
		}
	}
	truth := play(3)
	truth.note("t1").key = 78
	truth.note("r1").at = truth.note("t1").at - 0.09
	l := hear.New(e, hear.Options{})
	sort.Slice(truth.notes, func(i, j int) bool { return truth.notes[i].at < truth.notes[j].at })
	for _, n := range truth.notes {
		odds := 8.0
		if n.id == "r1" { // faint, and something fainter before it
			odds = 1
			l.Strike(hear.Strike{At: n.at - 0.04, Key: n.key, Odds: -4.2})
		}
		l.Strike(hear.Strike{At: n.at, Key: n.key, Odds: odds})
	}
	r := l.Finish()
	require.Empty(t, r.Reason)
	require.Len(t, r.Extra, 1)
	require.GreaterOrEqual(t, r.Extra[0].InsteadOf, 0)
	assert.Equal(t, "t1", e.Notes[r.Extra[0].InsteadOf].ID)
	assert.Equal(t, 78, r.Extra[0].Key)
}

// Ways are aligned once; what is said of each is what it would be alone.
func TestWaysAreJudgedAsAlone(t *testing.T) {
	ways := otherWays(written(), 6)
	for _, late := range []float64{0, 0.12} {
		truth := play(11)
		for _, id := range trill {
			truth.note(id).at += late
		}
		x := sound{}.of(truth)
		together := hear.New(hear.Expected{Notes: ways[0]}, hear.Options{Also: []int{72, 82}})
		together.Feed(x)
		together.Finish()
		for i, notes := range ways {
			e := hear.Expected{Notes: notes}
			alone := hear.New(e, hear.Options{Also: []int{72, 82}})
			alone.Feed(x)
			want, got := alone.Finish(), together.Against(e)
			require.Equal(t, want.Reason, got.Reason, "way %d", i)
			assert.InDelta(t, want.Fit, got.Fit, 0.5, "way %d", i)
			for k := range want.Notes {
				assert.Equal(t, want.Notes[k].Played, got.Notes[k].Played, "way %d, note %s", i, notes[k].ID)
			}
		}
	}
}

// otherWays are so many ways to play: the trills take other steps.
func otherWays(notes []hear.Note, n int) [][]hear.Note {
	var ways [][]hear.Note
	for w := range n {
		one := append([]hear.Note(nil), notes...)
		for i := range one {
			if one[i].Ornament != "" && one[i].ID[1]%2 == 0 {
				one[i].Key += w % 3
			}
		}
		ways = append(ways, one)
	}
	return ways
}

// What it costs to judge a round by forty ways, by the length of the round: the
// figure to look at is s of a processor for each second that was played.
func BenchmarkWays(b *testing.B) {
	for _, bars := range []int{2, 8, 32} {
		b.Run(fmt.Sprint(bars, " bars"), func(b *testing.B) {
			var notes []hear.Note
			var strikes []hear.Strike
			for k := range bars / 2 {
				for _, n := range written() {
					n.At += 8 * float64(k)
					n.ID += fmt.Sprint("-", k)
					if n.Ornament != "" {
						n.Ornament += fmt.Sprint("-", k)
					}
					notes = append(notes, n)
				}
				for _, n := range play(uint64(k)).notes {
					strikes = append(strikes, hear.Strike{At: n.at + 8*quarter*float64(k), Key: n.key, Odds: 6})
				}
			}
			sort.Slice(strikes, func(i, j int) bool { return strikes[i].At < strikes[j].At })
			ways := otherWays(notes, 40)
			for b.Loop() {
				l := hear.New(hear.Expected{Notes: notes}, hear.Options{})
				for _, s := range strikes {
					l.Strike(s)
				}
				for _, w := range ways {
					l.Against(hear.Expected{Notes: w})
				}
			}
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/(float64(bars)*4*quarter), "s/s")
		})
	}
}
