package diary

import (
	"fmt"
	"math"
	"strings"

	"agremens/realize/words"
)

// The picture of the last days practised, in pixels. Days stand side by side
// in order: a day without practice leaves no hole.
const (
	pictureDays   = 20
	pictureWidth  = 640.0
	pictureLeft   = 72.0
	pictureRight  = 12.0
	startsTop     = 36.0
	startsBottom  = 160.0
	tempoTop      = 206.0
	tempoBottom   = 278.0
	pictureBottom = 306.0
	leastCeiling  = 100.0 // ms, the scale's smallest top
	together      = 40.0  // ms: nothing under it is marked against the other hand
)

// Picture draws the last days practised as SVG, "" where there is none: how
// far ornaments started from the beat in each day's first round (discs) and
// without help (open squares), and the tempo of the first round against the
// goal (bars, filled where the round was clean). Shapes tell them apart, not
// colours. It holds no text of the user's.
func (p Progress) Picture(c *words.Catalogue) string {
	last := p.Last
	if len(last) > pictureDays {
		last = last[len(last)-pictureDays:]
	}
	if len(last) == 0 {
		return ""
	}
	ceiling := leastCeiling
	for _, l := range last {
		cold, _ := l.Cold.off()
		unaided, _ := l.Unaided.off()
		ceiling = math.Max(ceiling, math.Max(cold, unaided))
	}
	ceiling = 50 * math.Ceil(ceiling/50)
	step := (pictureWidth - pictureLeft - pictureRight) / float64(max(len(last), 8))
	x := func(i int) float64 { return pictureLeft + (float64(i)+0.5)*step }
	y := func(v float64) float64 { return startsBottom - v/ceiling*(startsBottom-startsTop) }
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" class="days">`, pictureWidth, pictureBottom)
	right := pictureWidth - pictureRight
	fmt.Fprintf(&b, `<text class="name" x="0" y="14">%s</text>`, c.Say("How far ornaments start from the beat"))
	fmt.Fprintf(&b, `<rect class="near" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`, pictureLeft, y(together), right-pictureLeft, startsBottom-y(together))
	for _, v := range []float64{0, together, ceiling} {
		fmt.Fprintf(&b, `<path class="grid" d="M%.1f %.1fH%.1f"/><text class="figure" x="%.1f" y="%.1f">%.0f ms</text>`, pictureLeft, y(v), right, pictureLeft-6, y(v)+4, v)
	}
	fmt.Fprintf(&b, `<text class="name" x="0" y="%.1f">%s</text>`, tempoTop-14, c.Say("Tempo of the first round, against the goal"))
	fmt.Fprintf(&b, `<path class="grid" d="M%.1f %.1fH%.1fM%.1f %.1fH%.1f"/><text class="figure" x="%.1f" y="%.1f">%s</text>`,
		pictureLeft, tempoTop, right, pictureLeft, tempoBottom, right, pictureLeft-6, tempoTop+4, c.Say("goal"))
	line := ""
	for i, l := range last {
		if off, ok := l.Cold.off(); ok {
			command := "L"
			if line == "" {
				command = "M"
			}
			line += fmt.Sprintf("%s%.1f %.1f", command, x(i), y(off))
		}
	}
	if line != "" {
		fmt.Fprintf(&b, `<path class="cold" d="%s"/>`, line)
	}
	for i, l := range last {
		if off, ok := l.Cold.off(); ok {
			fmt.Fprintf(&b, `<circle class="cold" cx="%.1f" cy="%.1f" r="5"/>`, x(i), y(off))
		}
		if off, ok := l.Unaided.off(); ok {
			fmt.Fprintf(&b, `<rect class="unaided" x="%.1f" y="%.1f" width="11" height="11"/>`, x(i)-5.5, y(off)-5.5)
		}
		if l.Cold != nil && l.Cold.Goal > 0 {
			share := math.Min(l.Cold.Beats/l.Cold.Goal, 1.2)
			class, width := "open", math.Min(22, 0.6*step)
			if l.Cold.Clean {
				class = "clean"
			}
			h := share * (tempoBottom - tempoTop)
			fmt.Fprintf(&b, `<rect class="%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`, class, x(i)-width/2, tempoBottom-h, width, h)
		}
		// Dates need room: on every second or third day where they are many.
		if every := int(math.Ceil(44 / step)); i%every == 0 {
			fmt.Fprintf(&b, `<text class="date" x="%.1f" y="%.1f">%s</text>`, x(i), tempoBottom+18, l.Short(c))
		}
	}
	b.WriteString("</svg>")
	return b.String()
}
