package musicxml

import (
	"strings"

	"agremens/realize/score"
)

// readBarline reads repeats, voltas and the look of a barline.
func (p *part) readBarline(e element) error {
	m := p.measure()
	location := e.attr("location")
	return p.r.each(func(e element) error {
		switch e.name {
		case "bar-style":
			s, err := p.r.text()
			if location != "left" && location != "middle" && s != "regular" {
				m.Barline = clip(s)
			}
			return err
		case "repeat":
			p.repeat(m, e, location)
		case "ending":
			p.ending(m, e)
		case "segno", "coda":
			p.jump(e.name)
		case "fermata", "wavy-line":
			p.leave(e.name)
		}
		return nil
	})
}

func (p *part) repeat(m *score.Measure, e element, location string) {
	if location == "middle" {
		p.warn("a repeat sign inside a bar was moved to its end")
	}
	switch e.attr("direction") {
	case "forward":
		m.RepeatStart = true
	case "backward":
		m.RepeatEnd = true
		if n, ok := atoi(e.attr("times"), 2, 99); ok && n > 2 {
			m.Times = n
		}
	}
}

// ending marks the measures under a volta bracket; those between its start
// and its stop are filled in when the measures are joined.
func (p *part) ending(m *score.Measure, e element) {
	var numbers []int
	for _, s := range strings.FieldsFunc(e.attr("number"), func(r rune) bool { return r == ',' || r == ' ' }) {
		if n, ok := atoi(s, 1, 99); ok && len(numbers) < 16 {
			numbers = append(numbers, n)
		}
	}
	switch e.attr("type") {
	case "start":
		m.Endings = numbers
		p.bracket = numbers
	case "stop", "discontinue":
		if len(m.Endings) == 0 {
			m.Endings = numbers
		}
		m.EndingStop = true
		m.EndingOpen = e.attr("type") == "discontinue"
		p.bracket = nil
	}
}
