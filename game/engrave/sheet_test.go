package engrave_test

import (
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"agremens/assets/font"
	"agremens/game/engrave"
	"agremens/realize/music"
	"agremens/realize/score"
)

var update = flag.Bool("update", false, "write the golden picture anew")

// The sheet of small cases looks as it did when it was last looked at.
func TestSheetOfCases(t *testing.T) {
	a, err := txtar.ParseFile("testdata/cases.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, a.Files)
	const width, columns = 44, 3
	sheet := &engrave.Layout{Right: columns * (width + 6)}
	top, bottom := 0.0, 0.0
	for i, f := range a.Files {
		t.Run(f.Name, func(t *testing.T) {
			p := decode(t, "X:1\n"+string(f.Data))
			p.Marks = append(p.Marks, beyondABC[f.Name]...)
			l := engrave.Page(p, nil, width, engrave.Options{Title: p.Title != ""})
			require.NotEmpty(t, l.Items)
			_, where := collisions(l)
			assert.Empty(t, where)
			if i%columns == 0 {
				top = bottom + 4
			}
			x, y := float64(i%columns)*(width+6), top+2.5-l.Top
			label(sheet, f.Name, x, top)
			for _, it := range l.Items {
				sheet.Items = append(sheet.Items, moved(it, x, y))
			}
			bottom = max(bottom, y+l.Bottom)
		})
	}
	sheet.Bottom = bottom
	got := engrave.SVG(sheet, engrave.SVGOptions{Space: 8, Paper: "#fff"})
	if *update {
		require.NoError(t, os.WriteFile("testdata/cases.svg", got, 0o666))
	}
	want, err := os.ReadFile("testdata/cases.svg")
	require.NoError(t, err)
	if string(want) != string(got) {
		assert.Equal(t, firstDifference(string(want), string(got)), "", "cases.svg has changed; look at it with -update")
	}
}

// beyondABC are marks of cases that ABC has no word for.
var beyondABC = map[string][]score.Mark{
	"43 octave lines": {
		{Onset: music.Int(0), End: music.Int(4), Staff: 1, Kind: score.OctaveShift, Size: 8, Above: true},
		{Onset: music.Int(4), End: music.Int(8), Staff: 1, Kind: score.OctaveShift, Size: -8},
	},
	"44 figured bass": {
		{Onset: music.Int(0), End: music.Int(0), Staff: 1, Kind: score.FiguredBass, Text: "5"},
		{Onset: music.Int(2), End: music.Int(2), Staff: 1, Kind: score.FiguredBass, Text: "6"},
		{Onset: music.Int(4), End: music.Int(4), Staff: 1, Kind: score.FiguredBass, Text: "6 5"},
		{Onset: music.Int(6), End: music.Int(6), Staff: 1, Kind: score.FiguredBass, Text: "6 4+ #"},
	},
}

func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return "want " + w[i] + "\ngot  " + g[i]
		}
	}
	return "one is longer"
}

func moved(it engrave.Item, dx, dy float64) engrave.Item {
	it.X, it.X2, it.C1X, it.C2X = it.X+dx, it.X2+dx, it.C1X+dx, it.C2X+dx
	it.Y, it.Y2, it.C1Y, it.C2Y = it.Y+dy, it.Y2+dy, it.C1Y+dy, it.C2Y+dy
	return it
}

func label(l *engrave.Layout, text string, x, y float64) {
	for _, r := range text {
		g, ok := font.Letter(font.Italic, r)
		if !ok {
			continue
		}
		l.Items = append(l.Items, engrave.Item{Kind: engrave.KindGlyph, Layer: engrave.LayerInk, Glyph: g, X: x, Y: y, Scale: 0.5})
		x += font.Advance(g) * 0.5
	}
}
