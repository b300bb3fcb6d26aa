package engrave_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/engrave"
	"agremens/realize/music"
	"agremens/realize/score"
)

// Rehearsal letters stand in a frame above the upper staff and clear of the
// notes, headings without one, and both keep to the system (common practice,
// no source).
func TestRehearsalMarks(t *testing.T) {
	for _, tt := range []struct {
		text   string
		onset  int64
		framed bool
	}{
		{"A", 0, true}, {"12", 4, true}, {"Var. II", 4, false}, {"Variation VII", 7, false},
	} {
		p := decode(t, "X:1\nM:4/4\nL:1/4\nK:C\nc'''d'ef|gabc'|\n")
		plain := engrave.Page(p, nil, 60, engrave.Options{})
		p.Marks = append(p.Marks, score.Mark{Onset: music.Int(tt.onset), End: music.Int(tt.onset), Staff: 1, Kind: score.Rehearsal, Text: tt.text})
		l := engrave.Page(p, nil, 60, engrave.Options{})
		was := map[engrave.Item]bool{}
		for _, it := range plain.Items {
			was[it] = true
		}
		lines, letters := 0, 0
		for _, it := range l.Items {
			if was[it] {
				continue
			}
			b := it.Bounds()
			assert.Less(t, b.Bottom, 0.0, "%s: above the staff", tt.text)
			assert.LessOrEqual(t, b.Right, l.Systems[0].Right+0.1, tt.text)
			for _, s := range l.Spots {
				assert.False(t, b.Overlaps(s.Box), "%s: on a note", tt.text)
			}
			if it.Kind == engrave.KindLine {
				lines++
			} else {
				letters++
			}
		}
		assert.NotZero(t, letters, tt.text)
		assert.Equal(t, tt.framed, lines == 4, tt.text)
	}
}
