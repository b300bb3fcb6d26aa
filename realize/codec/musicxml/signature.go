package musicxml

import (
	"sort"
)

// A passage has one signature at a time, of seven sharps or flats at most.
// Where a file's staff has another (each hand its own, single accidentals, a
// transposed part), the accidentals it would hold are printed on its notes.

// unshown says from which measure on a staff's own signature is not the one
// that is shown, and from which on it is again.
type unshown struct {
	staff, measure int
	on             bool
}

// show notes whether the signature in force on a staff is shown; staff 0 means
// both.
func (p *part) show(staff int, shown bool) {
	first, last := staff, staff
	if staff == 0 {
		first, last = 1, maxStaff
	}
	for s := first; s <= last; s++ {
		if p.hides[s] != !shown {
			p.hides[s] = !shown
			p.unshown = append(p.unshown, unshown{s, len(p.measures) - 1, !shown})
		}
	}
}

// printSignatures prints the accidentals that no signature shows. It wants the
// chords of each measure as they were read; a mark lasts to the bar line, in
// its own octave.
func (p *part) printSignatures() {
	done := map[[2]int]bool{}
	for i, u := range p.unshown {
		if !u.on {
			continue
		}
		end := len(p.measures)
		for _, v := range p.unshown[i+1:] {
			if v.staff == u.staff {
				// Within the measure of the change the accidentals stay.
				end = max(v.measure, u.measure+1)
				break
			}
		}
		for m := u.measure; m < end; m++ {
			if at := [2]int{m, u.staff}; !done[at] {
				done[at] = true
				p.printMeasure(m, u.staff)
			}
		}
	}
}

func (p *part) printMeasure(m, staff int) {
	from := sort.Search(len(p.chords), func(k int) bool { return p.chords[k].Measure >= m })
	var chords []int
	for k := from; k < len(p.chords) && p.chords[k].Measure == m; k++ {
		if !p.chords[k].drop {
			chords = append(chords, k)
		}
	}
	sort.SliceStable(chords, func(a, b int) bool { return p.chords[chords[a]].Onset.Less(p.chords[chords[b]].Onset) })
	printed := map[int]int{} // alteration in force by place on the staff
	for _, k := range chords {
		for j := range p.chords[k].Notes {
			n := &p.chords[k].Notes[j]
			if n.Staff != staff || n.TieStop {
				continue
			}
			at := n.Pitch.Diatonic()
			inForce, marked := printed[at]
			if !marked {
				inForce = p.measures[m].Key.Alter(n.Pitch.Step)
			}
			if int(n.Pitch.Alter) != inForce && n.Accidental == "" {
				n.Accidental = accidentalOf(int(n.Pitch.Alter))
			}
			if n.Accidental != "" {
				printed[at] = int(n.Pitch.Alter)
			}
		}
	}
}

// accidentalOf returns the word for an alteration, "" for one there is no
// sign for.
func accidentalOf(alter int) string {
	if alter < -2 || alter > 2 {
		return ""
	}
	return [5]string{"flat-flat", "flat", "natural", "sharp", "double-sharp"}[alter+2]
}
