package musicxml

import "agremens/realize/score"

// readNotations reads what is attached to a note: ornaments, slurs, tuplets,
// articulations, fingering.
func (p *part) readNotations(w *written) error {
	return p.r.each(func(e element) error {
		switch e.name {
		case "tied", "tie":
			// Some files draw a tie without a <tie>; both mean the same here.
			w.tie(e.attr("type"))
		case "slur":
			l := line{number: clip(e.attr("number")), kind: e.attr("type"), dashed: e.attr("line-type") == "dashed" || e.attr("line-type") == "dotted"}
			l.above, l.placed = placement(e)
			w.slurs = append(w.slurs, l)
			return p.count(1)
		case "tuplet":
			return p.readTuplet(w, e)
		case "ornaments":
			return p.readOrnaments(w)
		case "accidental-mark":
			// Outside <ornaments>: it belongs to the last sign, if there is one.
			return p.readAccidentalMark(w, e)
		case "technical":
			return p.readTechnical(w)
		case "articulations":
			return p.r.each(func(e element) error {
				if len(w.chord.Artic) < 16 {
					w.chord.Artic = append(w.chord.Artic, score.Articulation(clip(e.name)))
				}
				return nil
			})
		case "fermata":
			w.chord.Fermata = true
		case "arpeggiate":
			w.chord.Arpeggio = score.ArpeggioUp
			if d := score.Arpeggio(e.attr("direction")); d.Rolled() {
				w.chord.Arpeggio, w.chord.ArpeggioDirected = d, true
			}
		case "non-arpeggiate":
			w.chord.Arpeggio = score.ArpeggioBracket
		case "dynamics":
			return p.readNoteDynamics(w, e)
		case "footnote", "level":
		default:
			p.leave(e.name)
		}
		return nil
	})
}

// placement reads the side an element says it is printed on.
func placement(e element) (above, placed bool) {
	switch {
	case e.attr("placement") == "above" || e.attr("orientation") == "over":
		return true, true
	case e.attr("placement") == "below" || e.attr("orientation") == "under":
		return false, true
	}
	return false, false
}

func (p *part) readTechnical(w *written) error {
	return p.r.each(func(e element) error {
		if e.name != "fingering" {
			p.leave(e.name)
			return nil
		}
		s, err := p.r.text()
		s = clip(s)
		switch {
		case s == "" || len(w.note.Fingering) > 20:
		case w.note.Fingering == "":
			w.note.Fingering = s
		case e.attr("substitution") == "yes":
			w.note.Fingering += "-" + s
		default:
			w.note.Fingering += " " + s
		}
		return err
	})
}

// readNoteDynamics reads dynamics stored on a note.
func (p *part) readNoteDynamics(w *written, e element) error {
	text, err := p.dynamics()
	if err != nil || text == "" {
		return err
	}
	above, _ := placement(e)
	return p.levelOn(w, text, above)
}

// levelOn adds a level that is stored on a note.
func (p *part) levelOn(w *written, text string, above bool) error {
	p.marks = append(p.marks, at[score.Mark]{len(p.measures) - 1, score.Mark{
		Onset: p.now, End: p.now, Staff: w.chord.Staff, Kind: score.Dynamics, Text: text, Above: above,
	}})
	return p.count(1)
}

// dynamics reads the children of <dynamics>: "pp", or the text of another.
func (p *part) dynamics() (string, error) {
	text := ""
	err := p.r.each(func(e element) error {
		if e.name != "other-dynamics" {
			text = clip(text + e.name)
			return nil
		}
		s, err := p.r.text()
		text = clip(text + s)
		return err
	})
	return text, err
}
