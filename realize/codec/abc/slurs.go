package abc

import "slices"

// closeSlur ends the innermost open slur on the last chord of the strand.
func (p *parser) closeSlur(at place) {
	st := p.voice.strand
	if len(st.slurs) == 0 {
		if st.newest != nil {
			st.newest.SlurEnds = true
		}
		p.warn(at, "a slur ends here that was never started")
		return
	}
	// "(c (d) e)" is two slurs that meet on d: none ends where it began.
	for i := len(st.slurs) - 1; i >= 0; i-- {
		sl := st.slurs[i]
		if sl.from == nil || sl.from == st.newest {
			continue
		}
		sl.to = st.newest
		p.slurs = append(p.slurs, sl)
		st.slurs = slices.Delete(st.slurs, i, i+1)
		return
	}
	p.warn(at, "a slur over a single note was left out")
	last := st.slurs[len(st.slurs)-1]
	st.slurs = st.slurs[:len(st.slurs)-1]
	st.opening = slices.DeleteFunc(st.opening, func(sl *slur) bool { return sl == last })
}

// finish closes what the text left open.
func (p *parser) finish() error {
	p.dropPending()
	for _, v := range p.voices {
		if v.bar != nil {
			p.voice = v
			if err := p.closeBar(barline{}); err != nil {
				return err
			}
		}
		for _, st := range v.strands {
			for _, sl := range st.slurs {
				if sl.from != nil {
					sl.from.SlurBegins = true
				}
				p.warn(sl.at, "a slur has no end and was left out")
			}
			p.loose = append(p.loose, st.ties...)
			if t := st.tuplet; t != nil {
				p.warn(t.at, "a tuplet is missing notes at the end")
			}
		}
	}
	return nil
}
