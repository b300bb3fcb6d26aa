package score

// CuesSounding reports for each chord whether it is a cue-size chord that
// sounds. Small print that stands where no other voice of its staff strikes a
// full-size note is music of its own, a run or a cadenza; beside full-size
// notes it is an alternative (ossia) or another player's part, and silent, as
// is what the file hides. Common practice, no source.
func (p *Passage) CuesSounding() []bool {
	sounds := make([]bool, len(p.Chords))
	for i := range p.Chords {
		if sounds[i] || !p.Chords[i].small() {
			continue
		}
		group := p.smallGroup(i)
		if p.struckBeside(group) {
			continue
		}
		for _, k := range group {
			sounds[k] = true
		}
	}
	return sounds
}

func (c *Chord) small() bool { return c.Cue && c.Grace == nil && !c.IsRest() && !c.Hidden }

// smallGroup returns the cue chords of one voice and measure that follow each
// other from chord i on.
func (p *Passage) smallGroup(i int) []int {
	group, end := []int{i}, p.Chords[i].End()
	for k := i + 1; k < len(p.Chords) && p.Chords[k].Measure == p.Chords[i].Measure; k++ {
		if c := &p.Chords[k]; c.small() && c.Voice == p.Chords[i].Voice && c.Onset == end {
			group, end = append(group, k), c.End()
		}
	}
	return group
}

// struckBeside reports whether another voice of the staff strikes a full-size
// note while a group of cue chords lasts.
func (p *Passage) struckBeside(group []int) bool {
	first, last := &p.Chords[group[0]], &p.Chords[group[len(group)-1]]
	for k := p.FirstAt(first.Onset); k < len(p.Chords) && p.Chords[k].Onset.Less(last.End()); k++ {
		c := &p.Chords[k]
		if !c.Cue && c.Grace == nil && !c.IsRest() && c.Staff == first.Staff && c.Voice != first.Voice {
			return true
		}
	}
	return false
}
