package lesson_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/cmd/agremens/po"
	"agremens/game/diary"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
)

// A report says in German what it says in English, for every finding that can
// be left.
func TestReportInGerman(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	task, err := lesson.Set(deskOf(t, assets.Passages()[1]), lesson.Wish{})
	require.NoError(t, err)
	r := lesson.Report(practisedWeek(lesson.DeskID(task)), "Ada", task)
	for _, fault := range []string{"late-start", "early-start", "before-beat", "hand-waits", "rushes-after", "uneven", "crowded-front", "bump", "no-ending", "hands-apart", "leans-long", "too-few", ""} {
		r.Fault = fault
		l := lesson.Read(r, german)
		assert.Equal(t, "Ada: An Air for Trills, Takte 1–8", l.Heading)
		assert.Equal(t, "3 Tage, 5 Minuten Klopfen, 8 Minuten am Klavier (eigene Angabe).", l.Time)
		for _, text := range append(l.Days, l.Cold, l.Left, l.Ask) {
			assert.Empty(t, po.English(text), text)
		}
	}
	for _, err := range []error{packet.ErrForeign, packet.ErrCut, packet.ErrNewer, packet.ErrLarge, packet.ErrBroken, lesson.ErrScore, lesson.ErrUnsendable} {
		assert.NotEqual(t, lesson.Words(err, nil), lesson.Words(err, german))
	}
	empty := lesson.Read(lesson.Report(&diary.Diary{}, "", task), german)
	assert.Equal(t, "Noch kein Durchgang.", empty.Time)
}
