package abc

// closeSlur ends the innermost open slur on the last chord of the strand.
func (p *parser) closeSlur(at place) {
	st := p.voice.strand
	if len(st.slurs) == 0 {
		p.warn(at, "a slur ends here that began nowhere")
		return
	}
	sl := st.slurs[len(st.slurs)-1]
	st.slurs = st.slurs[:len(st.slurs)-1]
	if sl.from == nil {
		p.warn(at, "a slur holds no note")
		for i, o := range st.opening {
			if o == sl {
				st.opening = append(st.opening[:i], st.opening[i+1:]...)
				break
			}
		}
		return
	}
	sl.to = st.newest
	if sl.to != sl.from {
		p.slurs = append(p.slurs, sl)
	}
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
				p.warn(sl.at, "a slur has no end and was left out")
			}
			for _, t := range st.ties {
				p.untie(t)
			}
			if t := st.tuplet; t != nil {
				p.warn(t.at, "a tuplet lacks notes at the end")
			}
		}
	}
	return nil
}
