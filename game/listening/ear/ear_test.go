package ear

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize/hear"
	"agremens/realize/perf"
)

// What is heard just when the program strikes a key is no extra note of the
// player's, unless one of theirs is missing there.
func TestWhatTheProgramStrikesIsNoExtraNote(t *testing.T) {
	task := Task{About: 60, Notes: []Note{{Key: 72, Hand: perf.Right, Ornament: -1}}, Speaker: &Speaker{Bar: 4, Notes: []Sounded{{48, 0}, {52, 1}}}}
	e := New(48000, task.Pack())
	e.began = 1
	extra := func(at float64, instead int) hear.Extra {
		return hear.Extra{At: at, Key: 60, InsteadOf: instead, Confidence: 0.99}
	}
	for name, tt := range map[string]struct {
		extra hear.Extra
		delay hear.Amount
		kept  bool
	}{
		"with the program's note":   {extra(6.11, -1), hear.Amount{V: 0.1, Known: true}, false},
		"between its notes":         {extra(5.6, -1), hear.Amount{V: 0.1, Known: true}, true},
		"where a note is missing":   {extra(6.11, 0), hear.Amount{V: 0.1, Known: true}, true},
		"the program was not heard": {extra(6.11, -1), hear.Amount{}, true},
		"just beyond what is left":  {extra(6.151, -1), hear.Amount{V: 0.1, Known: true}, true},
		"just within what is left":  {extra(6.149, -1), hear.Amount{V: 0.1, Known: true}, false},
	} {
		t.Run(name, func(t *testing.T) {
			r := e.report(hear.Report{Notes: []hear.Heard{{Reached: true, Played: true}}, Extra: []hear.Extra{tt.extra}, Delay: tt.delay}, BothHands, HeardBeat)
			assert.Equal(t, tt.kept, len(r.Extra) == 1)
		})
	}
}
