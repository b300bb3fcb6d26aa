package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
)

// gigue has a pickup, so that bar 1 is the second measure, and mordents in
// bars 1 and 3.
const gigue = `X:1
T:For the desk
M:3/4
L:1/4
Q:1/4=90
%%score {1 2}
K:G
V:1 clef=treble
D | !mordent!G2 A | B2 c | !mordent!d2 e | G3 |]
V:2 clef=bass
z | G,3 | G,2 A, | B,2 C | G,3 |]
`

func passage(t *testing.T) *score.Passage {
	t.Helper()
	p, _, err := abc.Decode(gigue)
	require.NoError(t, err)
	require.NoError(t, p.Check())
	return p
}

func passageOf(text string) *score.Passage {
	p, _, err := abc.Decode(text)
	if err != nil {
		panic(err)
	}
	return p
}

func open(t *testing.T) *desk.Desk {
	t.Helper()
	return desk.New("gigue", passage(t), realize.Taste{})
}

func TestBarsAreReadAsPrinted(t *testing.T) {
	p := passage(t)
	for _, tc := range []struct {
		text     string
		from, to int
	}{
		{"", 0, 5}, {"2", 2, 3}, {"2-3", 2, 4}, {"2–3", 2, 4}, {" 2 - 4 ", 2, 5},
		{"1-2", 0, 3}, // the pickup comes along
	} {
		from, to, err := desk.ParseBars(p, tc.text)
		require.NoError(t, err, tc.text)
		assert.Equal(t, [2]int{tc.from, tc.to}, [2]int{from, to}, tc.text)
	}
	for _, text := range []string{"9", "3-2", "a", "1-9", "-"} {
		_, _, err := desk.ParseBars(p, text)
		assert.Error(t, err, text)
	}
}

func TestABadBarLeavesTheDeskAlone(t *testing.T) {
	d := open(t)
	require.NoError(t, d.SetBars("2-3"))
	before := d.Save()
	assert.Error(t, d.SetBars("77"))
	assert.Equal(t, before, d.Save())
}

func TestSelectionStaysInTheChosenBars(t *testing.T) {
	d := open(t)
	require.Len(t, d.Inside(), 2)
	require.NoError(t, d.SetBars("3"))
	o, ok := d.Ornament()
	require.True(t, ok)
	assert.Equal(t, 3, o.Measure)
	d.Step(1)
	o, _ = d.Ornament()
	assert.Equal(t, 3, o.Measure, "the only one here")
	require.NoError(t, d.SetBars("2"))
	_, ok = d.Ornament()
	assert.False(t, ok)
}

func TestTempoInBeatsAndPerCent(t *testing.T) {
	d := open(t)
	assert.InDelta(t, 90, d.Goal(), 1e-9)
	assert.True(t, d.SetBeats(45))
	assert.InDelta(t, 50, d.Percent, 1e-9)
	assert.False(t, d.SetBeats(1000))
	assert.Equal(t, 200.0, d.Percent)
	assert.Equal(t, "♩", d.BeatWord())
}

func TestWhatIsHeardFollowsTheTappedHand(t *testing.T) {
	d := open(t)
	assert.Equal(t, round.BothHands, d.Round(false).Play)
	assert.Equal(t, round.LeftHand, d.Round(true).Play)
	d.Tap = round.LeftHand
	assert.Equal(t, round.RightHand, d.Round(true).Play)
	assert.False(t, d.Round(true).Following())
	d.Hear, d.HearSet = round.BothHands, true
	assert.True(t, d.Round(true).Following())
	d.Hear = round.NoHand
	assert.Equal(t, round.BothHands, d.Round(false).Play, "listening to nothing is no listening")
	assert.Equal(t, round.NoHand, d.Round(true).Play)
}

func TestAddressSetsTheDesk(t *testing.T) {
	d := open(t)
	said := d.Apply(map[string]string{
		"bars": "1-2", "tempo": "60", "hand": "left", "play": "none", "instrument": "click", "beat": "on", "countin": "2",
	}, []string{"click", "harpsichord"})
	assert.Empty(t, said)
	assert.Equal(t, "0-2", d.Bars())
	assert.InDelta(t, 60, d.Beats(), 1e-9)
	assert.Equal(t, round.LeftHand, d.Tap)
	assert.Equal(t, round.Settings{
		From: 0, To: 3, Percent: d.Percent, Tap: round.LeftHand, Play: round.NoHand, Beat: true, CountIn: 2, Along: true,
	}, d.Round(true))
	assert.Equal(t, "click", d.Instrument)
}

func TestUnknownWordsOfAnAddressAreTold(t *testing.T) {
	d := open(t)
	before := d.Save()
	said := d.Apply(map[string]string{
		"bars": "40-50", "tempo": "fast", "hand": "third", "play": "loud", "instrument": "kazoo", "beat": "maybe", "countin": "9", "tradition": "moon",
	}, []string{"click"})
	assert.Len(t, said, 8)
	assert.Equal(t, before, d.Save())
}

func TestSavedDeskComesBack(t *testing.T) {
	d := open(t)
	require.NoError(t, d.SetBars("2-4"))
	d.SetPercent(70)
	d.Tap, d.Beat, d.Repeat, d.CountIn = round.BothHands, true, true, 2
	d.SetInstrument("click")
	d.Hear, d.HearSet = round.RightHand, true
	d.SetPrefer("performers")
	assert.True(t, d.SetRate(8))
	assert.False(t, d.SetRate(99))
	assert.Equal(t, 8.0, d.Rate())
	o, ok := d.Ornament()
	require.True(t, ok)
	require.Greater(t, len(o.Choices), 1)
	d.Choose(1)
	again := open(t)
	again.Restore(d.Save())
	assert.Equal(t, d.Save(), again.Save())
	assert.Equal(t, "gigue", desk.SavedPassage(d.Save()))
	chosen, _ := again.Ornament()
	assert.Equal(t, 1, chosen.Chosen)
}

func TestNonsenseInStorageHarmsNothing(t *testing.T) {
	d := open(t)
	before := d.Save()
	d.Restore("percent NaN\nbars %zz\nhand\n\x00\ncountin x\nselected 99\nchosen nothing\n")
	d.CountIn = 1
	assert.Equal(t, before, d.Save())
}

func TestWordsForASign(t *testing.T) {
	d := open(t)
	require.NoError(t, d.SetBars("3"))
	w, ok := d.Sign()
	require.True(t, ok)
	assert.Contains(t, w.Heading, "Bar 3")
	// A mordent is main, lower, main: common practice, no source.
	assert.Contains(t, w.Notes, "D–C–D")
	assert.Contains(t, w.Notes, "on the beat")
	assert.NotEmpty(t, w.Why)
	assert.NotEmpty(t, w.Sources)
	assert.Greater(t, len(w.Choices), 1)
	assert.Contains(t, d.InWords(), "right hand, on D")
}

func TestTheSoundGoesWithThePractice(t *testing.T) {
	for tradition, want := range map[string]string{"bach": "harpsichord", "french": "harpsichord", "vienna": "fortepiano", "romantic": "fortepiano", "chopin": "fortepiano"} {
		assert.Equal(t, want, desk.New("x", passage(t), realize.Taste{Tradition: tradition}).Instrument, tradition)
	}
}

func TestTuning(t *testing.T) {
	d := open(t)
	assert.InDelta(t, 440, d.Tuning().Hz(69, 0), 1e-9)
	assert.Empty(t, d.Apply(map[string]string{"ornaments": "even"}, nil))
	assert.True(t, d.Even)
	assert.Empty(t, d.Apply(map[string]string{"ornaments": "performed"}, nil))
	assert.False(t, d.Even)
	assert.Empty(t, d.Apply(map[string]string{"tuning": "vallotti", "pitch": "415"}, nil))
	assert.Equal(t, "vallotti", d.Tuning().Name)
	assert.InDelta(t, 415, d.Tuning().Hz(69, 0), 1e-9)
	said := d.Apply(map[string]string{"tuning": "sour", "pitch": "44"}, nil)
	require.Len(t, said, 2)
	assert.Contains(t, said[0], "werckmeister3")
	assert.Contains(t, said[1], "300 to 600")
	assert.Equal(t, "vallotti", d.Tuning().Name, "left as it was")
	assert.True(t, d.SetPitch(403.5))
	again := open(t)
	again.Restore(d.Save())
	assert.Equal(t, d.Tuning(), again.Tuning())
	other := open(t)
	other.TuneLike(again)
	assert.Equal(t, d.Tuning(), other.Tuning())
	other.TuneLike(nil)
	assert.Equal(t, d.Tuning(), other.Tuning())
}

func TestBeatInWords(t *testing.T) {
	for metre, want := range map[string][2]string{
		"3/8": {"♪", "♪"}, "6/8": {"♩.", "♩."}, "4/4": {"♩", "♩"}, "C|": {"half note", "half notes"},
		"6/4": {"dotted half note", "dotted half notes"}, "3/16": {"sixteenth", "sixteenths"},
	} {
		d := desk.New("own", passageOf("X:1\nT:Beat\nM:"+metre+"\nL:1/8\nK:C\nCDEF GABc|\n"), realize.Taste{})
		assert.Equal(t, want, [2]string{d.BeatWord(), d.BeatsWord()}, metre)
	}
}
