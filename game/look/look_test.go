package look_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/assets"
	"agremens/game/engrave"
	"agremens/game/look"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/score"
)

func TestWhatIsSetIsKept(t *testing.T) {
	var l look.Look
	for name, value := range map[string]string{"view": "page", "size": "140", "paper": "dark", "contrast": "more", "motion": "bars", "notes": "german"} {
		l.Set(name, value)
	}
	assert.Equal(t, look.Look{Page: true, Size: 140, Paper: "dark", Contrast: "more", Motion: "bars", Notes: music.GermanNames}, l)
	assert.Equal(t, l, look.Restore(l.Save()))
	before := l
	for name, value := range map[string]string{"size": "1000", "paper": "flow", "contrast": "loud", "motion": "dark", "nothing": "x"} {
		l.Set(name, value)
	}
	assert.Equal(t, before, l, "what is not understood changes nothing")
	assert.Equal(t, look.Look{}, look.Restore("paper\nnonsense here\nsize -3"))
}

func TestTheUserDecidesOverTheDevice(t *testing.T) {
	for _, c := range []struct {
		name                  string
		look                  look.Look
		device                bool
		dark, contrast, still bool
	}{
		{name: "as a plain device", look: look.Look{}},
		{name: "as a device that asks", look: look.Look{}, device: true, dark: true, contrast: true, still: true},
		{name: "against the device", look: look.Look{Paper: "light", Contrast: "less", Motion: "flow"}, device: true},
		{name: "beyond the device", look: look.Look{Paper: "dark", Contrast: "more", Motion: "bars"}, dark: true, contrast: true, still: true},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.dark, c.look.Dark(c.device))
			assert.Equal(t, c.contrast, c.look.HighContrast(c.device))
			assert.Equal(t, c.still, c.look.Still(c.device))
		})
	}
}

func layouts(t require.TestingT, id string) (p *score.Passage, run, page *engrave.Layout) {
	for _, e := range assets.Passages() {
		if e.ID != id {
			continue
		}
		p, _, err := abc.Decode(e.ABC)
		require.NoError(t, err)
		r := realize.Read(p, realize.Taste{})
		return p, engrave.Run(p, r, engrave.Options{Played: true}), engrave.Page(p, r, 60, engrave.Options{Played: true})
	}
	require.Fail(t, "no passage "+id)
	return nil, nil, nil
}

// From the run to the page and back: what was before the eye is in sight in
// both, wherever one was.
func TestThePlaceIsKept(t *testing.T) {
	p, run, page := layouts(t, "turn")
	end := p.Measures[len(p.Measures)-1].End().Float()
	rapid.Check(t, func(t *rapid.T) {
		width, height := rapid.Float64Range(40, 120).Draw(t, "width"), rapid.Float64Range(30, 60).Draw(t, "height")
		left := look.Bounded(run, rapid.Float64Range(-30, run.Right).Draw(t, "left"), width)
		seen := look.Seen{X: left, Y: run.Top, Width: width, Height: height}
		place := look.Place(run, seen, rapid.Float64Range(0, end).Draw(t, "chosen"), rapid.Bool().Draw(t, "some"))
		x := run.X(place)
		assert.True(t, x >= left && x <= left+width, "the place is in sight on the run")

		onPage := look.Seen{Y: look.RevealOnPage(page, place, look.Seen{Y: 1e6, Width: 60, Height: height}), Width: 60, Height: height}
		i, _ := page.Place(place)
		s := page.Systems[i]
		assert.GreaterOrEqual(t, s.Top, onPage.Y-1e-9, "its system is in sight on the page")
		if s.Bottom-s.Top < height {
			assert.LessOrEqual(t, s.Bottom, onPage.Y+height+look.Margin)
		}
		back := look.Place(page, onPage, place, true)
		assert.Equal(t, place, back, "and it is still the place")
		again := look.Bounded(run, run.X(back)-look.Line(run, width), width)
		assert.True(t, run.X(back) >= again && run.X(back) <= again+width, "in sight on the run again")
	})
}

// Pulling the notes apart keeps the chosen one where it stands.
func TestCarryKeepsTheNoteUnderTheEye(t *testing.T) {
	p, run, _ := layouts(t, "trill")
	wide := engrave.Run(p, realize.Read(p, realize.Taste{}), engrave.Options{Played: true, PerQuarter: 8 * run.PerQuarter})
	seen := look.Seen{X: run.X(8) - 30, Width: 100, Height: 30}
	left := look.Carry(run, wide, seen, 8)
	assert.InDelta(t, 30, wide.X(8)-left, 1e-6)
	assert.InDelta(t, seen.X, look.Carry(wide, run, look.Seen{X: left, Width: 100, Height: 30}, 8), 1e-6)
	start := look.Bounded(run, math.Inf(-1), 100)
	assert.True(t, math.IsInf(look.Carry(run, run, look.Seen{X: start, Width: 100}, 0), -1), "the beginning stays the beginning")
}

func TestTurnsShowWholeBars(t *testing.T) {
	bars := []float64{0, 4, 8, 12, 16}
	for _, c := range []struct {
		name        string
		room, onset float64
		want        float64
	}{
		{"at the start", 9, 0, 0},
		{"before it, while one counts in", 9, -3, 0},
		{"in the second bar in sight", 9, 7.9, 0},
		{"where the third bar is not whole", 9, 8, 8},
		{"on the second turn", 9, 12, 8},
		{"room for all", 99, 15, 0},
		{"a bar longer than the stage, its first half", 3, 2, 0},
		{"a bar longer than the stage, the rest of it", 3, 3.5, 3},
		{"after the end", 9, 17, 8},
	} {
		t.Run(c.name, func(t *testing.T) { assert.InDelta(t, c.want, look.Turn(bars, c.room, c.onset), 1e-9) })
	}
	rapid.Check(t, func(t *rapid.T) {
		room, onset := rapid.Float64Range(0.5, 20).Draw(t, "room"), rapid.Float64Range(0, 16).Draw(t, "onset")
		start := look.Turn(bars, room, onset)
		if start > onset+1e-9 || onset > start+room+1e-9 {
			t.Fatalf("%v is not in sight from %v over %v", onset, start, room)
		}
	})
	beats := []float64{0, 1, 2}
	assert.Equal(t, 1.0, look.Beat(beats, 1.7))
	assert.Equal(t, -0.5, look.Beat(beats, -0.5))
}

// A staff fits the stage at 100 per cent and grows with what the user asks.
func TestSizes(t *testing.T) {
	var l look.Look
	assert.InDelta(t, 10, l.RunSpace(27, 1000, 300), 1e-9)
	assert.InDelta(t, 8, l.RunSpace(27, 360, 300), 1e-9, "on a phone more than one note")
	assert.InDelta(t, 5, l.RunSpace(100, 1000, 300), 1e-9, "no smaller than can be read")
	l.Text = 2
	assert.InDelta(t, 16, l.RunSpace(17, 360, 400), 1e-9, "larger text, larger music")
	assert.InDelta(t, 10, l.RunSpace(27, 360, 300), 1e-9, "as far as the staff stands there whole")
	l.Text = 0
	usual := l.PageSpace(27, 1024, 405)
	l.Text = 1.5
	assert.InDelta(t, 1.5*usual, l.PageSpace(27, 1024, 405), 1e-9, "a page too, though less of it is in sight")
	l.Text, l.Size = 2, look.Largest
	space := l.PageSpace(27, 360, 600)
	assert.LessOrEqual(t, look.SystemWidth(360/space)*space, 360.0, "but no system is wider than the screen")
	l.Size = 0
	l.Text = 0
	l.Size = 200
	assert.InDelta(t, 20, l.RunSpace(27, 1000, 300), 1e-9)
	assert.InDelta(t, 44, l.PageSpace(27, 3840, 2160), 1e-9)
	assert.InDelta(t, 2*900/(2*1.08*27+7), l.PageSpace(27, 3840, 900), 1e-9, "two systems where the window is low")
	assert.InDelta(t, 2*25.6, l.RunSpace(27, 3840, 1500), 1e-9, "on a wall it grows with the width")
	assert.InDelta(t, 140, look.SystemWidth(400), 1e-9, "no line longer than the eye can follow")
	assert.Less(t, look.SystemWidth(60), 60.0)
}

func TestRunMargin(t *testing.T) {
	for _, c := range []struct {
		spaces, height, want float64
		why                  string
	}{
		{27, 40, look.Margin, "there is room"},
		{27, 30, look.Margin, "it fits as it should"},
		{27, 28, 0.5, "a scale that is a little too large takes it from the margin"},
		{27, 27, 0, "and all of it"},
		{27, 26.9, look.Margin, "what does not fit is scrolled to its margin"},
	} {
		assert.InDelta(t, c.want, look.RunMargin(c.spaces, c.height), 1e-9, c.why)
	}
}
