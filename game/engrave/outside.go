package engrave

// Outside appends to dst the parts of a page that hold none of the measures
// from to to, half open: one or two boxes a system.
func (l *Layout) Outside(dst []Box, from, to int) []Box {
	for i := range l.Systems {
		s := &l.Systems[i]
		box := Box{s.Left - 2, s.Top, s.Right + 1, s.Bottom}
		if to <= s.From || from >= s.To {
			dst = append(dst, box)
			continue
		}
		if from > s.From {
			b := box
			b.Right = s.measures[from-s.From]
			dst = append(dst, b)
		}
		if to < s.To {
			b := box
			b.Left = s.measures[to-s.From]
			dst = append(dst, b)
		}
	}
	return dst
}
