//go:build !js

package stage_test

import (
	"fmt"
	"image/color"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"agremens/game/stage"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The staff lies on the page's own paper, in its ink and its accent.
func TestThemesAreThePages(t *testing.T) {
	css, err := os.ReadFile("../../web/style.css")
	require.NoError(t, err)
	blocks := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(string(css), -1)
	require.Len(t, blocks, 4, "light, dark, contrast, dark with contrast")
	chosen := chosenLooks(t)
	require.Len(t, chosen, 4, "light, dark, light with contrast, dark with contrast")
	for i := range blocks {
		for colour, value := range colours(blocks[i][1]) {
			assert.Equal(t, value, chosen[i][colour], "%s of block %d, chosen by the device or by the user", colour, i)
		}
	}
	for i, look := range []struct{ dark, contrast bool }{{false, false}, {true, false}, {false, true}, {true, true}} {
		theme := stage.ThemeFor(look.dark, look.contrast)
		for name, got := range map[string]color.NRGBA{"paper": theme.Paper, "ink": theme.Ink, "accent": theme.Accent} {
			want := regexp.MustCompile(`--` + name + `: #([0-9a-f]+);`).FindStringSubmatch(blocks[i][1])
			require.NotNil(t, want, "%s of block %d", name, i)
			if len(want[1]) == 3 {
				want[1] = strings.NewReplacer("0", "00", "f", "ff").Replace(want[1])
			}
			assert.Equal(t, want[1], fmt.Sprintf("%02x%02x%02x", got.R, got.G, got.B), "%s, dark %v, contrast %v", name, look.dark, look.contrast)
		}
		assert.GreaterOrEqual(t, contrast(theme.Ink, theme.Paper), 7.0, "ink on paper")
		assert.GreaterOrEqual(t, contrast(theme.Played, theme.Paper), 7.0, "the line as played")
		// WCAG 2.2, 1.4.11: graphics one must see have 3 : 1.
		assert.GreaterOrEqual(t, contrast(theme.Staff, theme.Paper), 3.0, "staff lines")
		assert.GreaterOrEqual(t, contrast(theme.Accent, theme.Tint), 4.5, "the chosen ornament on its ground")
		assert.GreaterOrEqual(t, contrast(theme.Mark, theme.Paper), 4.5, "marks")
	}
}

// chosenLooks are the colours of style/look.css, block by block.
func chosenLooks(t *testing.T) []map[string]string {
	css, err := os.ReadFile("../../web/style/look.css")
	require.NoError(t, err)
	var all []map[string]string
	for _, block := range regexp.MustCompile(`(?s):root\[[^{]*\{(.*?)\}`).FindAllStringSubmatch(string(css), -1) {
		all = append(all, colours(block[1]))
	}
	return all
}

// colours are the colour variables of a block of style.
func colours(block string) map[string]string {
	all := map[string]string{}
	for _, m := range regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]+);`).FindAllStringSubmatch(block, -1) {
		all[m[1]] = m[2]
	}
	return all
}

// contrast is the ratio of WCAG 2.2's definition.
func contrast(a, b color.NRGBA) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}
