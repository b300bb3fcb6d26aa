package tap_test

import (
	"testing"

	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
)

// The four answers carry the number put in: every trill starts 80 ms late and
// is otherwise as written.
func TestAnswers(t *testing.T) {
	want := study(700, shortTrill, 4)
	taps := delayed(want, func(w tap.Want) (float64, bool) {
		if w.Ornament != "" {
			return 80, true
		}
		return 0, true
	})
	r := tap.Judge(want, taps, tap.Options{BeatMS: 700})
	a := r.Answers(700)
	w := tap.English()
	assert.InDelta(t, 80, a[tap.OnItsBeat].V, 5)
	assert.False(t, a[tap.OnItsBeat].Good)
	assert.Equal(t, "Starts on its beat: 80 ms late", w.Answer(tap.OnItsBeat, a[tap.OnItsBeat]))
	assert.True(t, a[tap.IsEven].Good)
	assert.True(t, a[tap.LandsInTime].Good)
	assert.True(t, a[tap.BeatSteady].Good)
	assert.Len(t, w.AnswerLines(a), 4)
	for _, line := range w.AnswerLines(a) {
		checkWords(t, line)
	}
	none := tap.Judge(nil, nil, tap.Options{})
	assert.Empty(t, w.AnswerLines(none.Answers(700)), "what was not measured is not answered")
	assert.Equal(t, "Even: not measured", w.Answer(tap.IsEven, none.Answers(700)[tap.IsEven]))
}

// Where upper notes are shorter than lower ones the answer says so, and not
// how much all differ.
func TestALimpIsNotEven(t *testing.T) {
	want := study(700, longTrill, 4)
	taps := delayed(want, func(w tap.Want) (float64, bool) {
		if w.Ornament != "" && w.Index%2 == 1 {
			return -15, true // of 87.5 ms: upper to lower 0.7
		}
		return 0, true
	})
	r := tap.Judge(want, taps, tap.Options{BeatMS: 700})
	a := r.Answers(700)[tap.IsEven]
	assert.False(t, a.Good)
	assert.Equal(t, "Even: not yet, upper and lower notes differ", tap.English().Answer(tap.IsEven, a))
}
