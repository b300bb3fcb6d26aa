package musicxml

import "strconv"

// uniqueVoices gives every stream of chords its own voice. Most files number
// voices through the part; some count them anew on each staff, and some put
// two notes at once into one voice.
func (p *part) uniqueVoices() {
	p.mendVoices()
	byStaff := map[string]bool{}
	p.conflicts(func(i, before int) {
		if p.chords[i].Staff != p.chords[before].Staff {
			byStaff[p.chords[i].Voice] = true
		}
	})
	names := p.voiceNames()
	lower := map[string]string{}
	for i := range p.chords {
		c := &p.chords[i]
		if c.Staff < 2 || !byStaff[c.Voice] {
			continue
		}
		if lower[c.Voice] == "" {
			lower[c.Voice] = names.fresh()
		}
		c.Voice = lower[c.Voice]
	}
	// What still overlaps goes to further voices.
	streams := map[string]string{}
	for range 8 {
		moved := false
		p.conflicts(func(i, _ int) {
			c := &p.chords[i]
			if streams[c.Voice] == "" {
				streams[c.Voice] = names.fresh()
			}
			c.Voice = streams[c.Voice]
			moved = true
		})
		if !moved {
			break
		}
	}
}

// mendVoices repairs single notes inside a run of another voice: where a
// note would overlap in its own voice but goes straight on from the note
// before it in the file, it belongs to that note's voice.
func (p *part) mendVoices() {
	p.conflicts(func(i, _ int) {
		c := &p.chords[i]
		if c.after < 0 {
			return
		}
		b := &p.chords[c.after]
		if b.Voice != c.Voice && b.Staff == c.Staff && b.End() == c.Onset {
			c.Voice = b.Voice
		}
	})
}

// conflicts calls do for each chord that starts before an earlier chord of
// its voice, in the same measure, has ended; before is that chord.
func (p *part) conflicts(do func(i, before int)) {
	p.eachMeasure(func(from, to int) {
		longest := map[string]int{}
		for i := from; i < to; i++ {
			c := &p.chords[i]
			if c.drop || c.Grace != nil {
				continue
			}
			before, ok := longest[c.Voice]
			if ok && c.Onset.Less(p.chords[before].End()) && p.chords[before].Onset.Less(c.End()) {
				do(i, before)
				before, ok = longest[c.Voice]
			}
			if !ok || p.chords[before].End().Less(c.End()) {
				longest[c.Voice] = i
			}
		}
	})
}

type voiceNames struct {
	used map[string]bool
	next int
}

func (p *part) voiceNames() *voiceNames {
	n := &voiceNames{used: map[string]bool{}, next: 1}
	for i := range p.chords {
		n.used[p.chords[i].Voice] = true
	}
	return n
}

func (n *voiceNames) fresh() string {
	for {
		name := strconv.Itoa(n.next)
		n.next++
		if !n.used[name] {
			n.used[name] = true
			return name
		}
	}
}
