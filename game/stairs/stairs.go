// Package stairs draws a climb to the goal tempo as the steps it climbs: a
// tread for each round as high as its tempo, a note on it, filled where the
// round was clean, and the treads that are still to come up to the goal. It is
// pure; the page shows it while a climb lasts and after it.
package stairs

import (
	"math"
	"strconv"
	"strings"

	"agremens/assets/font"
	"agremens/game/engrave"
	"agremens/game/practice"
	"agremens/realize/words"
)

// Lengths in staff spaces; the picture has ten units to one.
const (
	tread  = 3.4
	wide   = 0.22
	left   = 4.6 // for the tempos
	side   = 0.8
	top    = 0.0
	high   = 6.4 // from the goal's tread down to the lowest
	unit   = 10
	figure = 17
	most   = 16 // treads
)

// SVG draws the steps, "" for none. Its parts have classes in place of colours:
// week-line, week-goal, week-note, week-now, week-rest, week-text. [Text] says
// the same.
func SVG(steps []practice.Rung, goal float64) string {
	if len(steps) == 0 || goal <= 0 {
		return ""
	}
	steps = shown(steps)
	low := goal
	for _, s := range steps {
		low = min(low, s.Tempo)
	}
	y := func(tempo float64) float64 {
		if goal-low < 1 {
			return top
		}
		return top + high*math.Log(goal/tempo)/math.Log(goal/low)
	}
	right := left + tread*float64(len(steps))
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" class="week stairs" viewBox="0 -45 ` + number((right+side)*unit) + ` ` + number((high+5.2)*unit) + `"><g transform="scale(` + strconv.Itoa(unit) + `)">`)
	paint := func(class string, items ...engrave.Item) {
		for _, d := range engrave.Paths(&engrave.Layout{Items: items}) {
			b.WriteString(`<path class="` + class + `" d="` + d + `"/>`)
		}
	}
	const dash, gap = 1.0, 0.6
	for x := left; x < right; x += dash + gap {
		paint("week-goal", line(x, top, min(x+dash, right), top, wide/2))
	}
	for i, s := range steps {
		x, at := left+tread*float64(i), y(s.Tempo)
		class := map[practice.RungMark]string{practice.RungNow: "week-now", practice.RungToCome: "week-rest"}[s.Mark]
		if class == "" {
			class = "week-note"
		}
		paint(class, line(x, at, x+tread, at, wide))
		if i > 0 {
			if before := y(steps[i-1].Tempo); before != at {
				paint(class, line(x, before, x, at, wide))
			}
		}
		if s.Mark == practice.RungToCome {
			continue
		}
		head := font.NoteheadHalf
		if s.Mark == practice.RungClean {
			head = font.NoteheadBlack
		}
		if s.Mark == practice.RungNow {
			continue
		}
		box := font.Bounds(head)
		stem := x + tread/2 + float64(box.Right-box.Left)/2 - 0.07
		paint(class, engrave.Item{Kind: engrave.KindGlyph, Glyph: head, X: x + tread/2 - float64(box.Left+box.Right)/2, Y: at - 0.62, Scale: 1},
			line(stem, at-0.75, stem, at-3.6, 0.13))
	}
	b.WriteString("</g>")
	text := func(class string, x, y float64, s string) {
		b.WriteString(`<text class="week-text ` + class + `" x="` + number(x*unit) + `" y="` + number(y*unit) + `" font-size="` + strconv.Itoa(figure) + `">` + s + "</text>")
	}
	text("week-goal week-end", left-0.8, top+0.6, beats(goal))
	now := 0.0
	for _, s := range steps {
		if s.Mark == practice.RungNow {
			now = s.Tempo
		}
	}
	if goal-low >= 1 && beats(low) != beats(now) { // it stands there already
		text("week-end", left-0.8, y(low)+0.6, beats(low))
	}
	for i, s := range steps {
		if s.Mark == practice.RungNow {
			text("week-now week-middle", left+tread*(float64(i)+0.5), y(s.Tempo)-0.7, beats(s.Tempo))
		}
	}
	b.WriteString("</svg>")
	return b.String()
}

// shown leaves out the first rounds of a long climb, and of what is to come
// all but the goal.
func shown(steps []practice.Rung) []practice.Rung {
	done := 0
	for done < len(steps) && steps[done].Mark != practice.RungToCome {
		done++
	}
	past, coming := steps[:done], steps[done:]
	past = past[max(0, len(past)-most+4):]
	if room := most - len(past); len(coming) > room {
		last := coming[len(coming)-1]
		coming = append(append([]practice.Rung(nil), coming[:room-1]...), last)
	}
	return append(append([]practice.Rung(nil), past...), coming...)
}

// Text says the steps in words: "Clean at 60, 67; at 76 not clean. Now 67, the
// goal is 104."
func Text(steps []practice.Rung, goal float64, c *words.Catalogue) string {
	var said []string
	now := ""
	for _, s := range steps {
		switch s.Mark {
		case practice.RungClean:
			said = append(said, c.Say("clean at {tempo}", "{tempo}", beats(s.Tempo)))
		case practice.RungNot:
			said = append(said, c.Say("tried at {tempo}, not clean yet", "{tempo}", beats(s.Tempo)))
		case practice.RungNow:
			now = c.Say("Now {tempo} beats per minute.", "{tempo}", beats(s.Tempo)) + " "
		}
	}
	text := ""
	if len(said) > 0 {
		text = words.Sentence(strings.Join(said, "; ")+".") + " "
	}
	return text + now + c.Say("The goal is {tempo} beats per minute.", "{tempo}", beats(goal))
}

func line(x, y, x2, y2, w float64) engrave.Item {
	return engrave.Item{Kind: engrave.KindLine, X: x, Y: y, X2: x2, Y2: y2, W: float32(w)}
}

func beats(tempo float64) string { return strconv.Itoa(int(math.Round(tempo))) }

func number(v float64) string { return strconv.FormatFloat(math.Round(100*v)/100, 'f', -1, 64) }
