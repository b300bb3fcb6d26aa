package tap_test

import (
	"testing"

	"agremens/realize/perf"
	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A gap spoils the round it lies in, and no other: the clock remembers those
// of the rounds before and of the count-in. A tap may stand 60 ms from the
// first and the last onset, the least reach there is.
func TestWhichGapSpoilsARound(t *testing.T) {
	want := row(12) // 1000 to 6500 ms
	for _, tt := range []struct {
		name   string
		gap    tap.Span
		spoilt bool
	}{
		{"in the middle", tap.Span{From: 3000, To: 3010}, true},
		{"between two notes", tap.Span{From: 3100, To: 3200}, true},
		{"over all of it", tap.Span{From: 0, To: 9000}, true},
		{"in the count-in", tap.Span{From: 500, To: 939}, false},
		{"up to the first tap", tap.Span{From: 500, To: 941}, true},
		{"after the last tap", tap.Span{From: 6561, To: 7000}, false},
		{"from the last tap on", tap.Span{From: 6559, To: 7000}, true},
	} {
		r := tap.Judge(want, exact(want, 0), tap.Options{BeatMS: 500, Gaps: []tap.Span{{From: 1, To: 2}, tt.gap}})
		assert.Equal(t, tt.spoilt, r.Spoilt == tap.CodeBroken, tt.name)
		assert.Equal(t, !tt.spoilt, r.Clean, tt.name)
		assert.Equal(t, !tt.spoilt, r.Certain, tt.name)
		assert.Equal(t, tt.spoilt, tap.OutcomeOf(r).Void, tt.name)
	}
	none := tap.Judge(nil, nil, tap.Options{Gaps: []tap.Span{{From: 1, To: 2}}})
	assert.Empty(t, none.Spoilt, "where nothing was wanted nothing is spoilt")
}

// Half the notes must have a tap, or nothing can be told of the rest.
func TestHowManyTapsARoundNeeds(t *testing.T) {
	for tapped, code := range map[int]string{0: tap.CodeUntapped, 1: tap.CodeHardly, 9: tap.CodeHardly, 10: "", 20: ""} {
		want := row(20)
		r := tap.Judge(want, exact(want, 0)[:tapped], tap.Options{BeatMS: 500})
		assert.Equal(t, code, r.Spoilt, "%d of 20", tapped)
		assert.Equal(t, tapped, r.Hit)
	}
}

// A spoilt round says its reason and nothing else, whatever was played.
func TestASpoiltRoundHasNoVerdict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := study(700, rapid.SampledFrom(anyFigure).Draw(t, "figure"), 4)
		drop := rapid.Float64Range(0, 1).Draw(t, "left out")
		late := rapid.Float64Range(-300, 300).Draw(t, "late")
		rate := rapid.Float64Range(0, 1)
		taps := delayed(want, func(w tap.Want) (float64, bool) {
			return late * b2f(w.Ornament != ""), rate.Draw(t, "chance") >= drop
		})
		o := tap.Options{BeatMS: 700}
		if rapid.Bool().Draw(t, "gap") {
			o.Gaps = []tap.Span{{From: 2000, To: 2100}}
		}
		r := tap.Judge(want, taps, o)
		if r.Spoilt == "" {
			assert.GreaterOrEqual(t, 2*r.Hit, r.Wanted)
			assert.Empty(t, o.Gaps)
			return
		}
		require.Len(t, r.Findings, 1)
		assert.Equal(t, r.Spoilt, r.Findings[0].Code)
		assert.False(t, r.Findings[0].Fault)
		assert.Contains(t, r.Summary, "does not count")
		assert.Equal(t, r.Summary, r.Doubt)
		assert.Empty(t, r.Ornaments)
		assert.Zero(t, r.Together)
		assert.False(t, r.Clean || r.Certain)
		assert.Empty(t, tap.English().AnswerLines(r.Answers(700)))
		assert.Equal(t, len(o.Gaps) > 0, r.Spoilt == tap.CodeBroken, "the clock is named only where it had a gap")
	})
}

// Where the other hand sounds, a start is held against it: late plain notes do
// not make ornaments early. Alone nothing tells which of the two is in time,
// and the plain notes stand; a calibrated lead or the other hand's own tells.
func TestWhatAStartIsHeldAgainst(t *testing.T) {
	lead := -20.0
	far := 130.0
	for _, tt := range []struct {
		name  string
		o     tap.Options
		both  bool
		late  float64 // plain notes after ornaments, beyond what the ornaments are
		off   float64 // ornaments
		from  string
		start float64
	}{
		{"with the other hand", tap.Options{}, false, 120, 0, "ornaments", 0},
		{"and a usual lead", tap.Options{}, false, 120, -60, "ornaments", 0},
		{"the other hand tapped too", tap.Options{Alone: true}, true, 120, 0, "ornaments", 0},
		{"a calibrated lead", tap.Options{Alone: true, Lead: &lead}, false, 120, -20, "ornaments", 0},
		{"alone", tap.Options{Alone: true}, false, 120, 0, "plain", -120},
		{"a lead far from people's, where that was measured", tap.Options{Lead: &far}, false, 120, 0, "plain", -120},
		{"ornaments that are early", tap.Options{}, false, 120, -140, "plain", -120},
		{"too little to be told, 40 ms", tap.Options{}, false, 38, 0, "plain", -38},
		{"all late alike", tap.Options{}, false, 0, 90, "plain", 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			want := study(800, mordent, 4)
			if !tt.both {
				want = hand(want, perf.Right)
			}
			seen := map[perf.Hand]bool{}
			taps := delayed(want, func(w tap.Want) (float64, bool) {
				seen[w.Hand] = seen[w.Hand] || w.Ornament != ""
				switch {
				case w.Hand == perf.Left:
					return 0, true
				case w.Ornament == "" && seen[w.Hand]:
					return tt.off + tt.late, true
				}
				return tt.off, true
			})
			tt.o.BeatMS = 800
			r := tap.Judge(want, taps, tt.o)
			assert.Equal(t, tt.from, r.Leads[perf.Right].From)
			for i := range r.Ornaments {
				assert.InDelta(t, tt.start, r.Ornaments[i].Start.V, 0.5)
			}
			assert.Equal(t, tt.from == "ornaments", r.Findings[0].Code == tap.CodeLateAfter, "%v", codes(r))
		})
	}
}

// Late after an ornament to the end of two beats is one thing, a stumble over
// its exit another.
func TestLateAfterIsNoBump(t *testing.T) {
	for _, tt := range []struct {
		name string
		late func(beats float64) float64
		code string
	}{
		{"late and stays so", func(float64) float64 { return 110 }, tap.CodeLateAfter},
		{"back in time a beat later", func(beats float64) float64 { return max(0, 110*(1-beats)) }, tap.CodeBump},
		{"in time at first, later and later", func(beats float64) float64 { return 60 * beats }, tap.CodeSlowsAfter},
	} {
		want := hand(study(800, mordent, 8), perf.Right)
		landed := -1e9
		taps := delayed(want, func(w tap.Want) (float64, bool) {
			if w.Landing {
				landed = w.At
			}
			if beats := (w.At - landed) / 800; w.Ornament == "" && beats < 1.9 {
				return tt.late(beats), true
			}
			return 0, true
		})
		r := tap.Judge(want, taps, tap.Options{BeatMS: 800})
		assert.Equal(t, tt.code, r.Findings[0].Code, "%s: %v", tt.name, codes(r))
	}
}

// A figure that has one number of notes needs all of them; of an alternation
// one more or less may be right. A note left out once is a slip.
func TestNotesThatAFigureNeeds(t *testing.T) {
	for _, tt := range []struct {
		name   string
		figure figure
		leave  func(w tap.Want) bool
		code   string
		said   string
	}{
		{"a mordent of two", mordent, func(w tap.Want) bool { return w.Index == 1 }, tap.CodeShort, "Each mordent has 2 notes; it needs 3."},
		{"an appoggiatura without its main note", leaning, func(w tap.Want) bool { return w.Index == 1 }, tap.CodeShort, "Each appoggiatura has 1 note; it needs 2."},
		{"a turn of four", dottedTurn, func(w tap.Want) bool { return w.Index == 2 }, tap.CodeShort, "Each turn has 4 notes; it needs 5."},
		{"a trill of three", shortTrill, func(w tap.Want) bool { return w.Index == 2 }, tap.CodeMissed, ""},
		{"one mordent of four", mordent, func(w tap.Want) bool { return w.Index == 1 && w.Ornament == "o1" }, tap.CodeMissed, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			want := study(800, tt.figure, 4)
			r := tap.Judge(want, delayed(want, func(w tap.Want) (float64, bool) { return 0, w.Ornament == "" || !tt.leave(w) }),
				tap.Options{BeatMS: 800})
			assert.Equal(t, tt.code, r.Findings[0].Code, "%v", codes(r))
			if tt.said != "" {
				assert.Equal(t, tt.said, r.Summary)
			}
		})
	}
}

// Nothing is said of upper notes where there is none.
func TestAMordentHasNoUpperNote(t *testing.T) {
	want := study(800, mordent, 4)
	for _, by := range []float64{-45, 45} {
		r := tap.Judge(want, delayed(want, func(w tap.Want) (float64, bool) {
			return by * b2f(w.Ornament != "" && w.Index == 1), true
		}), tap.Options{BeatMS: 800})
		require.True(t, r.Findings[0].Fault, "%v", codes(r))
		text := append([]string{r.Summary, r.Findings[0].Child, r.Next}, tap.English().AnswerLines(r.Answers(800))...)
		for _, line := range text {
			assert.NotContains(t, line, "upper")
		}
		assert.False(t, r.Answers(800)[tap.IsEven].Good)
	}
}

// A number stands beside a word that says what it is of and which way it points.
func TestNoFigureWithoutAWord(t *testing.T) {
	w := tap.English()
	for _, tt := range []struct {
		q    tap.Question
		v    float64
		said string
	}{
		{tap.OnItsBeat, 20, "Starts on its beat: yes (20 ms late)"},
		{tap.OnItsBeat, -20, "Starts on its beat: yes (20 ms early)"},
		{tap.OnItsBeat, 4, "Starts on its beat: yes (exactly)"},
		{tap.LandsInTime, -9, "Lands in time: yes (10 ms early)"},
		{tap.BeatSteady, .03, "The beat around it: steady (3 % slower)"},
		{tap.BeatSteady, -.03, "The beat around it: steady (3 % faster)"},
		{tap.BeatSteady, -.004, "The beat around it: steady (exactly)"},
	} {
		assert.Equal(t, tt.said, w.Answer(tt.q, tap.Answer{Known: true, Good: true, V: tt.v}))
	}
	for code, p := range w.Findings {
		assert.NotRegexp(t, `\{(ratio|signed)\}`, p.Child+p.Teacher+p.Next, code)
	}
}

// Too few plain notes is what is said where plain notes are too few, and not
// that few were tapped when all were.
func TestFewPlainNotes(t *testing.T) {
	want := hand(study(800, longTrill, 4), perf.Right)[:9]
	r := tap.Judge(want, exact(want, 0), tap.Options{BeatMS: 800})
	assert.Equal(t, tap.CodeFewPlain, r.Findings[0].Code)
	assert.Contains(t, r.Summary, "Too few plain notes")
	assert.NotContains(t, r.Summary+r.Next, "tapped")
	assert.Equal(t, tap.English().Lead, r.Doubt)
	short := tap.Judge(row(4), exact(row(4), 0), tap.Options{BeatMS: 500})
	assert.Equal(t, tap.CodeTooFew, short.Findings[0].Code)
	assert.Contains(t, short.Summary, "4 of 4")
}

// Who lands in time and only then comes late has not hesitated after the
// ornament: its landing has to be late too, by three quarters of what is named.
func TestLateAfterBeginsWithTheLanding(t *testing.T) {
	for landing, told := range map[float64]bool{0: false, 25: false, 60: true} {
		want := hand(study(800, mordent, 8), perf.Right)
		landed := -1e9
		r := tap.Judge(want, delayed(want, func(w tap.Want) (float64, bool) {
			if w.Landing {
				landed = w.At
				return landing, true
			}
			return 110 * b2f(w.Ornament == "" && w.At-landed < 1.9*800), true
		}), tap.Options{BeatMS: 800})
		assert.Equal(t, told, has(r, tap.CodeLateAfter), "%v ms: %v", landing, codes(r))
	}
}
