package musicxml

import (
	"agremens/realize/score"
)

// readFiguredBass keeps figures as a mark: "6 4+" from top to bottom.
func (p *part) readFiguredBass() error {
	text := ""
	err := p.r.each(func(e element) error {
		if e.name != "figure" {
			return nil
		}
		figure := ""
		err := p.r.each(func(e element) error {
			s, err := "", error(nil)
			switch e.name {
			case "prefix", "suffix":
				s, err = p.r.text()
				s = figureAccidental(s)
			case "figure-number":
				s, err = p.r.text()
			}
			figure += s
			return err
		})
		text = oneLine(text + " " + figure)
		return err
	})
	if err != nil || text == "" {
		return err
	}
	p.marks = append(p.marks, at[score.Mark]{len(p.measures) - 1, score.Mark{
		Onset: p.now, End: p.now, Staff: max(1, p.staves), Kind: score.FiguredBass, Text: text,
	}})
	return p.count(1)
}

func figureAccidental(s string) string {
	switch s {
	case "sharp":
		return "#"
	case "flat":
		return "b"
	case "natural":
		return "n"
	case "double-sharp", "sharp-sharp":
		return "##"
	case "flat-flat":
		return "bb"
	case "cross", "plus":
		return "+"
	case "slash", "back-slash", "slashback":
		return "/"
	}
	return ""
}

// readHarmony keeps a chord name as a mark.
func (p *part) readHarmony(e element) error {
	if e.attr("print-object") == "no" {
		return nil
	}
	text, kind := "", ""
	name := func(prefix string) error {
		return p.r.each(func(e element) error {
			s, err := p.r.text()
			switch e.name {
			case "root-step", "bass-step":
				text += prefix + clip(s)
			case "root-alter", "bass-alter":
				if n, ok := atoi(s, -2, 2); ok {
					text += [5]string{"bb", "b", "", "#", "##"}[n+2]
				}
			}
			return err
		})
	}
	err := p.r.each(func(e element) error {
		switch e.name {
		case "root":
			return name("")
		case "bass":
			text, kind = text+kind, ""
			return name("/")
		case "numeral", "function":
			return nil
		case "kind":
			kind = clip(e.attr("text"))
		}
		return nil
	})
	text = oneLine(text + kind)
	if err != nil || text == "" {
		return err
	}
	p.marks = append(p.marks, at[score.Mark]{len(p.measures) - 1, score.Mark{
		Onset: p.now, End: p.now, Staff: 1, Kind: score.Harmony, Text: text, Above: true,
	}})
	return p.count(1)
}
