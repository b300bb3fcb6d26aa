package diary_test

import (
	"testing"

	"agremens/game/diary"
	"agremens/game/round"
	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
)

func TestFromARecord(t *testing.T) {
	c := round.Record{
		Player: "Anna", Kind: "tap", Passage: "turn", Title: "Allegretto", Bars: "1-4", Hands: round.BothHands,
		Tempo: 60, Goal: 80, Seconds: 12.6, Wanted: 9, Hit: 8, Starts: []float64{12},
		Findings: []string{tap.CodeTooFew, tap.CodeLateStart, tap.CodeLead}, Where: []string{"", "5 trill", ""},
	}
	r := diary.From(c, diary.When{Day: 3, Minute: 4}, "midi", false)
	assert.Equal(t, "both", r.Hand)
	assert.Equal(t, 13, r.Seconds)
	assert.Equal(t, tap.CodeLateStart, r.Fault, "remarks are no faults")
	assert.Equal(t, "5 trill", r.Where)
	d := &diary.Diary{}
	d.Add(r)
	again, damaged, err := diary.Decode(d.Encode())
	assert.NoError(t, err)
	assert.Zero(t, damaged)
	assert.Equal(t, "5 trill", again.Rounds[0].Where)
	assert.Equal(t, "5 trill", again.Progress("Anna", "turn").Where)
	assert.True(t, r.Unaided, "nothing helped")
	assert.Equal(t, "midi", r.With)
}

// Every code of the judge is either a fault with words, or a remark.
func TestEveryFaultHasWords(t *testing.T) {
	remarks := map[string]bool{tap.CodeBroken: true, tap.CodeUntapped: true, tap.CodeHardly: true, tap.CodeFewPlain: true, tap.CodeTooFew: true, tap.CodeClean: true, tap.CodeNearly: true, tap.CodeCount: true, tap.CodeTied: true, tap.CodeLead: true, tap.CodeTired: true}
	for _, code := range tap.Codes() {
		assert.NotEqual(t, remarks[code], diary.Fault(code) != "", code)
	}
}

func TestWhereRoundsWent(t *testing.T) {
	cases := []struct {
		name         string
		rounds       []diary.Round
		text, button string
	}{
		{"no name", []diary.Round{{}}, "In the log, without a name.", "That wasn’t me"},
		{"one", []diary.Round{{Player: "A"}, {Player: "A"}}, "In the log of A.", "That wasn’t me"},
		{"a group", []diary.Round{{Player: "A"}, {Player: "B"}}, "In the log of A, B.", "That wasn’t me"},
		{"dropped", []diary.Round{{Player: "A", Void: true}}, "Discarded: this does not count for anyone.", "It was me"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			text, button := diary.Where(c.rounds, nil)
			assert.Equal(t, c.text, text)
			assert.Equal(t, c.button, button)
		})
	}
}
