package look_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/game/look"
	"agremens/realize"
	"agremens/realize/codec/abc"
)

// A window of 1280 × 800 leaves a page so many pixels between the header and
// the words about the sign (measured there: style.css).
const (
	windowWidth = 1280.0
	stageHeight = 480.0
)

// With every written-out line open two whole systems are in sight, wherever in
// the passage the chosen sign is; and the chosen sign is in one of them. The
// passages here fit one system of that window: in narrower ones they take more.
func TestTwoSystemsAreInSight(t *testing.T) {
	most := 0
	for _, e := range assets.Passages() {
		for _, width := range []float64{windowWidth, 700, 400} {
			p, _, err := abc.Decode(e.ABC)
			require.NoError(t, err)
			d := desk.New(e.ID, p, realize.Taste{})
			run := engrave.Run(d.Passage, d.Reading, engrave.Options{From: d.From, To: d.To, Played: true, Open: d.Lines()})
			var l look.Look
			space := l.PageSpace(run.Bottom-run.Top, width, stageHeight)
			seen := look.Seen{Width: width / space, Height: stageHeight / space}
			page := engrave.Page(d.Passage, d.Reading, look.SystemWidth(seen.Width), engrave.Options{Played: true, Open: d.Lines(), Title: true})
			require.NotEmpty(t, page.Systems)
			most = max(most, len(page.Systems))
			for _, o := range d.Reading.Ornaments {
				seen.Y = page.Bottom + 1
				seen.Y = look.RevealOnPage(page, o.Onset.Float(), seen)
				assert.True(t, look.OnPage(page, o.Onset.Float(), seen), "%s, %s", e.ID, o.ID)
				whole := 0
				for _, s := range page.Systems {
					if s.Top >= seen.Y && s.Bottom <= seen.Y+seen.Height {
						whole++
					}
				}
				assert.GreaterOrEqual(t, whole, min(2, len(page.Systems)), "%s, %s, %.0f wide, %d systems, %.1f px a space", e.ID, o.ID, width, len(page.Systems), space)
			}
		}
	}
	assert.GreaterOrEqual(t, most, 2)
}
