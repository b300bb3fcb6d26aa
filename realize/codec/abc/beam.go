package abc

import "agremens/realize/score"

// beam joins the chords of one strand of a bar: those written without a blank
// between them, as the standard asks. Small notes have beams of their own.
func beam(chords []*draft, strand int) {
	var run, small []*draft
	flush := func(run []*draft) []*draft {
		beamRun(run)
		return nil
	}
	for _, d := range chords {
		if d.strand != strand {
			continue
		}
		if d.group != 0 {
			if len(small) > 0 && small[0].group != d.group {
				small = flush(small)
			}
			if d.Value.Flags() == 0 {
				small = flush(small)
				continue
			}
			small = append(small, d)
			continue
		}
		if d.space || d.IsRest() || d.Value.Flags() == 0 {
			run = flush(run)
		}
		if !d.IsRest() && d.Value.Flags() > 0 {
			run = append(run, d)
		}
	}
	flush(run)
	flush(small)
}

// beamRun sets the beams of one group. A beam that only one chord carries is
// a hook: toward the group, and to the left but for the first chord.
func beamRun(run []*draft) {
	if len(run) < 2 {
		return
	}
	for i, d := range run {
		d.Beams = make([]score.Beam, d.Value.Flags())
		for level := range d.Beams {
			left := i > 0 && run[i-1].Value.Flags() > level
			right := i < len(run)-1 && run[i+1].Value.Flags() > level
			switch {
			case left && right:
				d.Beams[level] = score.BeamContinue
			case left:
				d.Beams[level] = score.BeamEnd
			case right:
				d.Beams[level] = score.BeamBegin
			case i == 0:
				d.Beams[level] = score.BeamForwardHook
			default:
				d.Beams[level] = score.BeamBackwardHook
			}
		}
	}
}
