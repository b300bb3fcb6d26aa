package kern

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// tuplet is a group of chords under one number.
type tuplet struct {
	from, to       *draft
	actual, normal int
	bracket        bool
	silent         bool
	side           int
}

// tuplets groups the chords of a voice, which are sorted: a group is full
// where its lengths add up to a plain value.
func tuplets(voice []*draft) []tuplet {
	var all []tuplet
	var group []*draft
	var sum music.Frac
	flush := func(full bool) {
		// A number stands over what is printed.
		for len(group) > 0 && group[0].Hidden && group[0].IsRest() {
			group = group[1:]
		}
		for n := len(group); n > 0 && group[n-1].Hidden && group[n-1].IsRest(); n-- {
			group = group[:n-1]
		}
		if full && len(group) > 1 {
			first := group[0]
			t := tuplet{from: first, to: group[len(group)-1], actual: first.Value.Actual, normal: first.Value.Normal,
				silent: first.unshown, bracket: !first.unshown && !first.bare && !oneBeam(group)}
			switch {
			case first.has("TUP", "a"):
				t.side = 1
			case first.has("TUP", "b"):
				t.side = -1
			}
			all = append(all, t)
		}
		group, sum = nil, music.Frac{}
	}
	for _, d := range voice {
		if d.Grace != nil {
			continue
		}
		if len(group) > 0 {
			b := group[len(group)-1]
			if b.Measure != d.Measure || b.Onset.Add(b.Dur) != d.Onset || b.Value.Actual != d.Value.Actual {
				flush(false)
			}
		}
		if d.Value.Actual == 0 {
			continue
		}
		group = append(group, d)
		sum = sum.Add(d.Dur)
		if den := sum.Den(); den&(den-1) == 0 {
			flush(true)
		}
	}
	return all
}

// oneBeam reports whether one beam joins the whole group and nothing else.
func oneBeam(group []*draft) bool {
	for i, d := range group {
		if len(d.Beams) == 0 {
			return false
		}
		switch {
		case i == 0 && d.Beams[0] == score.BeamBegin:
		case i == len(group)-1 && d.Beams[0] == score.BeamEnd:
		case d.Beams[0] != score.BeamContinue:
			return false
		}
	}
	return true
}
