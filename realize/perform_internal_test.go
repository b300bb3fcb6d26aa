package realize

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

func sounds(onset, dur music.Frac, pitch string, hand perf.Hand) perf.Note {
	return perf.Note{Onset: onset, Dur: dur, Pitch: music.MustPitch(pitch), Hand: hand}
}

// What a neighbour borrows comes off the end or the beginning of a note, but
// a note that would be gone stays whole: it is written and must be heard.
func TestBorrowedTime(t *testing.T) {
	quarter, none := music.Int(1), music.Frac{}
	for _, tt := range []struct {
		name         string
		early, later music.Frac
		onset, dur   music.Frac
	}{
		{"nothing", none, none, music.Int(4), quarter},
		{"from its end", music.F(1, 4), none, music.Int(4), music.F(3, 4)},
		{"from its beginning", none, music.F(1, 4), music.F(17, 4), music.F(3, 4)},
		{"from both", music.F(1, 4), music.F(1, 4), music.F(17, 4), music.F(1, 2)},
		{"all but a little", none, music.F(15, 16), music.F(79, 16), music.F(1, 16)},
		{"all of it, from the beginning", none, quarter, music.Int(4), quarter},
		{"all of it, from the end", quarter, none, music.Int(4), quarter},
		{"all of what the beginning leaves", music.F(1, 2), music.F(1, 2), music.F(9, 2), music.F(1, 2)},
		{"struck before its place, as with a note lengthened to the left", none, music.F(-1, 4), music.F(15, 4), music.F(5, 4)},
	} {
		n := shift(sounds(music.Int(4), quarter, "C4", perf.Right), tt.early, tt.later)
		assert.Equal(t, tt.onset, n.Onset, tt.name)
		assert.Equal(t, tt.dur, n.Dur, tt.name)
	}
}

// An ornament whose end is needed by the next one's small notes is cut there:
// what would begin later is left out, what reaches over it ends.
func TestAnOrnamentEndsForTheNext(t *testing.T) {
	p, _, err := abc.Decode("M:4/4\nL:1/4\nK:C\n!trill!c d e f |]\n")
	require.NoError(t, err)
	o := Read(p, Taste{}).Ornaments[0]
	note := func(onset, dur music.Frac) Note {
		return Note{Onset: onset, Dur: dur, Pitch: music.MustPitch("C5"), Strength: 1}
	}
	o.Choices = []Choice{{Notes: []Note{note(music.Int(0), music.F(1, 4)), note(music.F(1, 4), music.F(1, 4)), note(music.F(1, 2), music.F(1, 4)), note(music.F(3, 4), music.F(1, 4))}}}
	o.Chosen = 0
	for _, tt := range []struct {
		take music.Frac
		ends []music.Frac // of the notes that are left
	}{
		{music.Frac{}, []music.Frac{music.F(1, 4), music.F(1, 2), music.F(3, 4), music.Int(1)}},
		{music.F(1, 8), []music.Frac{music.F(1, 4), music.F(1, 2), music.F(3, 4), music.F(7, 8)}},
		{music.F(1, 4), []music.Frac{music.F(1, 4), music.F(1, 2), music.F(3, 4)}},
		{music.F(3, 8), []music.Frac{music.F(1, 4), music.F(1, 2), music.F(5, 8)}},
		{music.F(1, 2), []music.Frac{music.F(1, 4), music.F(1, 2)}},
	} {
		notes, held := ornamentNotes(p, &o, map[score.ID]music.Frac{o.Note: tt.take}, nil)
		assert.Zero(t, held)
		var ends []music.Frac
		for _, n := range notes {
			ends = append(ends, n.End())
		}
		assert.Equal(t, tt.ends, ends, "%v borrowed", tt.take)
	}
	notes, _ := ornamentNotes(p, &o, nil, map[score.ID]music.Frac{o.Note: music.F(1, 8)})
	assert.Equal(t, music.F(1, 8), notes[0].Onset, "the first note gives what small notes before it need")
	assert.Equal(t, music.F(1, 4), notes[0].End())
	o.Choices[0].Notes[0].Tied = true
	_, held := ornamentNotes(p, &o, nil, nil)
	assert.Equal(t, 1, held, "a first note that is held over is not struck")
	o.Choices[0].Notes[1].Strength = 9
	notes, _ = ornamentNotes(p, &o, nil, nil)
	assert.Equal(t, float32(1), notes[1].Strength, "nothing is struck more strongly than that")
	assert.InDelta(t, .6, notes[2].Strength, 1e-6)
	o.Choices = nil
	notes, _ = ornamentNotes(p, &o, nil, nil)
	assert.Empty(t, notes)
}

// A first note that is held over lengthens the same key before it, in the same
// hand; where that does not sound up to it, it is struck after all.
func TestHeldOver(t *testing.T) {
	first := sounds(music.Int(1), music.F(1, 4), "D5", perf.Right)
	for _, tt := range []struct {
		name   string
		before perf.Note
		joined bool
	}{
		{"the same key ends there", sounds(music.Int(0), music.Int(1), "D5", perf.Right), true},
		{"another key", sounds(music.Int(0), music.Int(1), "C5", perf.Right), false},
		{"the other hand", sounds(music.Int(0), music.Int(1), "D5", perf.Left), false},
		{"let go before", sounds(music.Int(0), music.F(3, 4), "D5", perf.Right), false},
	} {
		ends := map[ending]int{endingOf(&tt.before): 0}
		got := joinTied([]perf.Note{tt.before}, []perf.Note{first}, 1, ends)
		if tt.joined {
			require.Len(t, got, 1, tt.name)
			assert.Equal(t, music.F(5, 4), got[0].End(), tt.name)
		} else {
			require.Len(t, got, 2, tt.name)
			assert.Equal(t, first, got[1], tt.name)
		}
		k, found := ends[ending{first.Pitch, first.Hand, first.End()}]
		assert.True(t, found && k == len(got)-1, tt.name+": a third may join it")
	}
	assert.Len(t, joinTied(nil, []perf.Note{first}, 0, nil), 0, "nothing is held")
}

// One key cannot sound twice: where it is struck again it is let go, and two
// strikes at once are one.
func TestOneKeySoundsOnce(t *testing.T) {
	for _, tt := range []struct {
		name          string
		first, second perf.Note
		ends          []music.Frac
		released      bool
	}{
		{"struck again as it ends", sounds(music.Int(0), music.Int(1), "C4", perf.Right), sounds(music.Int(1), music.Int(1), "C4", perf.Right), []music.Frac{music.Int(1), music.Int(2)}, true},
		{"struck again while it sounds, by the other hand", sounds(music.Int(0), music.Int(4), "C4", perf.Left), sounds(music.Int(1), music.Int(1), "C4", perf.Right), []music.Frac{music.Int(1), music.Int(2)}, true},
		{"struck again later", sounds(music.Int(0), music.F(1, 2), "C4", perf.Right), sounds(music.Int(1), music.Int(1), "C4", perf.Right), []music.Frac{music.F(1, 2), music.Int(2)}, false},
		{"another key", sounds(music.Int(0), music.Int(4), "C4", perf.Right), sounds(music.Int(1), music.Int(1), "D4", perf.Right), []music.Frac{music.Int(4), music.Int(2)}, false},
		{"at once, the second longer", sounds(music.Int(0), music.Int(1), "C4", perf.Right), sounds(music.Int(0), music.Int(2), "C4", perf.Left), []music.Frac{music.Int(2)}, false},
		{"at once, the second shorter", sounds(music.Int(0), music.Int(2), "C4", perf.Right), sounds(music.Int(0), music.Int(1), "C4", perf.Left), []music.Frac{music.Int(2)}, false},
	} {
		out := perf.Performance{Notes: []perf.Note{tt.first, tt.second}}
		release(&out)
		var ends []music.Frac
		for i := range out.Notes {
			ends = append(ends, out.Notes[i].End())
		}
		assert.Equal(t, tt.ends, ends, tt.name)
		assert.Equal(t, tt.released, out.Notes[0].Release, tt.name)
	}
}

// However notes lie over each other, afterwards no key is held while it is
// struck, nothing is lost but what sounds at once, and nothing gets longer
// than the longest of its key.
func TestNoKeyIsHeldWhileItIsStruck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var out perf.Performance
		strikes := map[[2]any]bool{}
		for range rapid.IntRange(0, 12).Draw(t, "notes") {
			n := sounds(music.F(rapid.Int64Range(0, 16).Draw(t, "onset"), 4), music.F(rapid.Int64Range(1, 12).Draw(t, "dur"), 4),
				rapid.SampledFrom([]string{"C4", "C#4", "Db4", "D4"}).Draw(t, "pitch"), perf.Hand(rapid.IntRange(0, 1).Draw(t, "hand")))
			strikes[[2]any{n.Onset, n.Pitch.MIDI()}] = true
			out.Notes = append(out.Notes, n)
		}
		sortPerformance(out.Notes)
		release(&out)
		assert.Len(t, out.Notes, len(strikes))
		for i, a := range out.Notes {
			assert.Positive(t, a.Dur.Sign())
			for _, b := range out.Notes[i+1:] {
				assert.LessOrEqual(t, a.Onset.Cmp(b.Onset), 0)
				if a.Pitch.MIDI() == b.Pitch.MIDI() {
					assert.LessOrEqual(t, a.End().Cmp(b.Onset), 0)
				}
			}
		}
	})
}

// At one moment the right hand's notes come first, and low ones before high.
func TestOrderOfNotes(t *testing.T) {
	notes := []perf.Note{
		sounds(music.Int(1), music.Int(1), "C4", perf.Right), sounds(music.Int(0), music.Int(1), "C2", perf.Left),
		sounds(music.Int(0), music.Int(1), "E5", perf.Right), sounds(music.Int(0), music.Int(1), "C5", perf.Right),
	}
	sortPerformance(notes)
	var got []string
	for _, n := range notes {
		got = append(got, n.Pitch.String())
	}
	assert.Equal(t, []string{"C5", "E5", "C2", "C4"}, got)
}

// Beats of a short measure count back from its end, and its first is no
// strong one, where it completes the bar before or opens the passage; else it
// is a short bar of its own.
func TestBeatsOfShortMeasures(t *testing.T) {
	four := music.Metre{Beats: 4, Unit: 4}
	measure := func(at, length music.Frac, implicit bool) score.Measure {
		return score.Measure{Onset: at, Length: length, Metre: four, Implicit: implicit}
	}
	beat := func(num, den int64, strong bool) perf.Beat {
		return perf.Beat{Onset: music.F(num, den), Strong: strong}
	}
	for _, tt := range []struct {
		name  string
		first score.Measure
		rest  []score.Measure
		which int // the measure whose beats are told
		want  []perf.Beat
	}{
		{"a whole one", measure(music.Int(0), music.Int(4), false), nil, 0, []perf.Beat{beat(0, 1, true), beat(1, 1, false), beat(2, 1, false), beat(3, 1, false)}},
		{"an upbeat of a quarter", measure(music.Int(0), music.Int(1), false), nil, 0, []perf.Beat{beat(0, 1, false)}},
		{"an upbeat of an eighth", measure(music.Int(0), music.F(1, 2), false), nil, 0, nil},
		{"an upbeat of three eighths", measure(music.Int(0), music.F(3, 2), false), nil, 0, []perf.Beat{beat(1, 2, false)}},
		{"the rest of a bar that a repeat divides", measure(music.Int(0), music.F(5, 2), false), []score.Measure{measure(music.F(5, 2), music.F(3, 2), true)}, 1,
			[]perf.Beat{{Onset: music.Int(3), Measure: 1}}},
		{"not counted, and no rest of the one before", measure(music.Int(0), music.Int(4), false), []score.Measure{measure(music.Int(4), music.F(3, 2), true)}, 1,
			[]perf.Beat{{Onset: music.Int(4), Strong: true, Measure: 1}, {Onset: music.Int(5), Measure: 1}}},
		{"short, but counted", measure(music.Int(0), music.Int(4), false), []score.Measure{measure(music.Int(4), music.F(3, 2), false)}, 1,
			[]perf.Beat{{Onset: music.Int(4), Strong: true, Measure: 1}, {Onset: music.Int(5), Measure: 1}}},
	} {
		var got []perf.Beat
		for _, b := range beats(&score.Passage{Measures: append([]score.Measure{tt.first}, tt.rest...)}) {
			if b.Measure == tt.which {
				got = append(got, b)
			}
		}
		assert.Equal(t, tt.want, got, tt.name)
	}
}

// A tie is one only where the same pitch with its end is there.
func TestTies(t *testing.T) {
	for _, tt := range []struct {
		name, tune string
		lengths    []float64 // of what sounds
	}{
		{"tied", "c- c d e", []float64{2, 1, 1}},
		{"over the bar line", "c d e f- | f g a b", []float64{1, 1, 1, 2, 1, 1, 1}},
		{"three", "c- c- c d", []float64{3, 1}},
		{"an accent is stronger", "c !>!d e f", []float64{1, 1, 1, 1}},
	} {
		p, _, err := abc.Decode("M:4/4\nL:1/4\nK:C\n" + tt.tune + " |]\n")
		require.NoError(t, err)
		out := Perform(Read(p, Taste{}), PerformOptions{})
		var got []float64
		for _, n := range out.Notes {
			got = append(got, n.Dur.Float())
			want := float32(.6)
			if tt.name == "an accent is stronger" && n.Onset == music.Int(1) {
				want = .75
			}
			assert.Equal(t, want, n.Strength)
		}
		assert.Equal(t, tt.lengths, got, tt.name)
	}
	// A tie that the file ends without beginning it is struck.
	p, _, err := abc.Decode("M:4/4\nL:1/4\nK:C\nc d e f |]\n")
	require.NoError(t, err)
	p.Chords[1].Notes[0].TieStop = true
	assert.Len(t, Perform(Read(p, Taste{}), PerformOptions{}).Notes, 4)
}

// A tempo of the user's own speeds the score's up or down as a whole.
func TestTempoOfAPerformance(t *testing.T) {
	p, _, err := abc.Decode("M:4/4\nL:1/4\nQ:1/4=60\nK:C\nc d e f | [Q:1/4=90] g a b c' |]\n")
	require.NoError(t, err)
	for tempo, want := range map[float64][2]float64{0: {60, 90}, 60: {60, 90}, 120: {120, 180}} {
		out := Perform(Read(p, Taste{Tempo: tempo}), PerformOptions{})
		assert.InDelta(t, want[0], out.Tempo.At(music.Int(0)), 1e-9, "%v", tempo)
		assert.InDelta(t, want[1], out.Tempo.At(music.Int(4)), 1e-9, "%v", tempo)
	}
}

// Long passages let others have their turn.
func TestPerformYields(t *testing.T) {
	p, _, err := abc.Decode("M:4/4\nL:1/4\nK:C\n!trill!c d e f |]\n")
	require.NoError(t, err)
	n := 0
	Perform(Read(p, Taste{}), PerformOptions{Yield: func() { n++ }})
	assert.Greater(t, n, 3)
	assert.Less(t, n, 12, "but not at every note")
}
