package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// Of a chord each key is wanted, and only its first want has an end.
func TestEveryKeyOfAChord(t *testing.T) {
	p, played := waltz()
	played.Notes = append(played.Notes[:2:2], append([]perf.Note{{Onset: music.Int(1), Dur: music.Int(1), Pitch: music.MustPitch("B4"), Hand: perf.Right, Strength: 0.6}}, played.Notes[2:]...)...)
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 2, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	require.Len(t, plan.Also, 1)
	twice := append(append([]tap.Want(nil), plan.Wants...), plan.Wants...)
	all := plan.EveryKey(twice)
	require.Len(t, all, len(twice)+2, "in each pass")
	assert.NotEqual(t, all[0].Key, all[1].Key)
	assert.Zero(t, all[1].Until)
	assert.Equal(t, all[0].At, all[1].At)
	plain := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand})
	assert.Equal(t, plain.Wants, plain.EveryKey(plain.Wants))
}

// The first note of an ornament is found by its name.
func TestTheNoteOfAnOrnament(t *testing.T) {
	p, played := waltz()
	for i := range played.Notes {
		if played.Notes[i].Hand == perf.Right && (played.Notes[i].Onset == music.Int(2) || played.Notes[i].Onset == music.Int(3)) {
			played.Notes[i].Ornament = "turn"
		}
	}
	plan, err := round.Build(p, played, map[string]string{"turn": "Turn"}, round.Settings{From: 1, To: 3, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	for i := range plan.Wants {
		r.Tick(heardAt(plan, i), c)
		r.Tap(heardAt(plan, i), perf.Right)
	}
	r.Tick(60_000, c)
	assert.Equal(t, 1, r.NoteAt("turn"))
	assert.Equal(t, -1, r.NoteAt("trill"))
}
