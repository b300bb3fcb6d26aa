package studio_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/closeup"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
)

// A teacher taps the ornaments on her desk; sent with the task, her taps stand
// beside the student's first round, and the student's own of another day take
// their place.
func TestTheTeachersTapsGoAlong(t *testing.T) {
	d := newDevice()
	d.load(nil)
	s := d.studio
	figure := func(id string, offs ...float64) closeup.Figure {
		f := closeup.Figure{Ornament: id}
		for _, off := range offs {
			f.Notes = append(f.Notes, closeup.Note{Tapped: !math.IsNaN(off), Off: off})
		}
		return f
	}
	first, second := s.Desk.Reading.Ornaments[0].ID, s.Desk.Reading.Ornaments[1].ID
	assert.Empty(t, s.OwnTaps())
	assert.Nil(t, s.Log.Against(figure(first, 4, -8, math.NaN()), []closeup.Figure{figure(first, 0, 0, 0), figure(second, 1, 2), figure("", 3, 3)}, 59.6))
	assert.Equal(t, map[string]packet.Taps{first: {Tempo: 60, Late: "4 -8 -"}, second: {Tempo: 60, Late: "1 2"}}, s.OwnTaps())

	task, err := lesson.Set(s.Desk, lesson.Wish{Taps: s.OwnTaps()})
	require.NoError(t, err)
	require.True(t, s.OpenTask(packet.EncodeTask(task)))
	id := s.Desk.Reading.Ornaments[0].ID
	hers := s.Log.Against(figure(id, 0, 0, 0), nil, 60)
	require.NotNil(t, hers)
	assert.True(t, hers.Teacher)
	assert.Equal(t, "4 -8 -", hers.Lateness())
	assert.Nil(t, s.Log.Against(figure(id, 0, 0), nil, 60), "another number of notes is another ornament")
	assert.Nil(t, s.Log.Against(figure("o99", 0, 0, 0), nil, 60))

	d.now += 24 * 60 * 60 * 1000
	own := s.Log.Against(figure(id, 1, 1, 1), nil, 60)
	require.NotNil(t, own)
	assert.False(t, own.Teacher, "one's own of yesterday come first")
	assert.Equal(t, "0 0 0", own.Lateness())
}
