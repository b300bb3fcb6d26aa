package musicxml

import (
	"strconv"

	"agremens/realize/music"
)

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

// conflicts calls do for each chord that sounds together with an earlier
// chord of its voice; before is that chord. do may rename the later one.
func (p *part) conflicts(do func(i, before int)) {
	p.eachMeasure(func(from, to int) {
		end := map[string]music.Frac{} // of each voice so far
		for i := from; i < to; i++ {
			c := &p.chords[i]
			if c.drop || c.Grace != nil {
				continue
			}
			if c.Onset.Less(end[c.Voice]) {
				if before := p.overlapped(from, i); before >= 0 {
					do(i, before)
				}
			}
			end[c.Voice] = end[c.Voice].Max(c.End())
		}
	})
}

// overlapped finds an earlier chord of chord i's voice that sounds with it.
func (p *part) overlapped(from, i int) int {
	c := &p.chords[i]
	for k := from; k < i; k++ {
		b := &p.chords[k]
		if !b.drop && b.Grace == nil && b.Voice == c.Voice && c.Onset.Less(b.End()) && b.Onset.Less(c.End()) {
			return k
		}
	}
	return -1
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
