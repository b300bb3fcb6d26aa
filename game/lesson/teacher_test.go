package lesson_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/cmd/agremens/po"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/realize/words"
)

func TestTheTeachersReasonStandsAsHers(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	for _, c := range []struct {
		language *words.Catalogue
		name     string
		edition  bool
		want     string
	}{
		{nil, "her own", false, "Your teacher decided this. Together with the bass."},
		{nil, "her edition", true, "Your teacher has it from her edition. Together with the bass."},
		{german, "in German", false, "Das hat deine Lehrkraft so entschieden. Together with the bass."},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := deskOf(t, assets.Passages()[0])
			d.Select(d.Inside()[0])
			// The notes are the program's first choice: her reason still goes along.
			require.NoError(t, d.SayWhy("Together with the bass.", c.edition))
			task, err := lesson.Set(d, lesson.Wish{})
			require.NoError(t, err)
			task, err = packet.DecodeTask(packet.EncodeTask(task))
			require.NoError(t, err)
			h, said, err := lesson.Open(task, instruments, c.language)
			require.NoError(t, err)
			assert.Empty(t, said)
			o := h.Desk.Reading.Ornaments[h.Desk.Inside()[0]]
			assert.Equal(t, c.want, o.Choices[o.Chosen].Reason)
			assert.NotContains(t, o.Choices[o.Chosen].Reason, "Your own")
			h.Desk.SetTaught(false)
			o = h.Desk.Reading.Ornaments[h.Desk.Inside()[0]]
			if c.language == nil && !c.edition {
				assert.Equal(t, "Your own decision. Together with the bass.", o.Choices[o.Chosen].Reason, "on her own desk it is hers")
			}
		})
	}
}
