package kern

import "agremens/realize/score"

// beams turns the beam letters of a voice into states. Small notes have beams
// of their own among the others. Groups that do not come out are left to the
// engraver.
func beams(voice []*draft) {
	for _, small := range []bool{false, true} {
		open := 0
		var group []*draft
		spoiled := false
		for _, d := range voice {
			if (d.Grace != nil) != small {
				continue
			}
			m := d.marks
			if open == 0 && m.begins == 0 {
				group, spoiled = nil, false
				continue
			}
			group = append(group, d)
			flags := d.Value.Flags()
			before := open
			open += m.begins - m.ends
			levels := before + m.begins
			if open < 0 || levels > 6 || levels > flags || d.IsRest() && m.begins > 0 && flags == 0 {
				spoiled = true
			}
			if open < 0 {
				open = 0
			}
			for level := 1; level <= min(levels, flags); level++ {
				state := score.BeamContinue
				switch {
				case level > before && level > levels-m.ends:
					state = score.BeamForwardHook
				case level > before:
					state = score.BeamBegin
				case level > levels-m.ends:
					state = score.BeamEnd
				}
				d.Beams = append(d.Beams, state)
			}
			for range m.forward {
				d.Beams = append(d.Beams, score.BeamForwardHook)
			}
			for range m.backward {
				d.Beams = append(d.Beams, score.BeamBackwardHook)
			}
			if len(d.Beams) > flags {
				d.Beams = d.Beams[:max(0, flags)]
			}
			if open == 0 {
				if spoiled || len(group) < 2 {
					unbeam(group)
				}
				group, spoiled = nil, false
			}
		}
		unbeam(group) // the end of the last group is missing
	}
}

func unbeam(group []*draft) {
	for _, d := range group {
		d.Beams = nil
	}
}
