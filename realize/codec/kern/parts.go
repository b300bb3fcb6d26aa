package kern

import (
	"slices"
	"strings"

	"agremens/realize/codec/told"
)

// staff is a staff of the file: the columns that write on it, the highest
// voice first.
type staff struct {
	name   string // as the file numbers it
	tracks []*track
}

func (s *staff) transposed() bool {
	return slices.ContainsFunc(s.tracks, func(t *track) bool { return t.transposed })
}

// part is a part of the file.
type part struct {
	PartInfo
	staves []*staff
	clef   byte
	board  bool // a keyboard, by its name
}

// parts groups the columns: by *part, else two columns of notes are the two
// hands, else each is a part. Columns stand on the line from the lowest staff
// to the highest.
func (r *reader) parts() []*part {
	var tracks []*track
	for _, t := range r.tracks {
		if t.kind == "kern" {
			tracks = append(tracks, t)
		}
	}
	grouped := false
	for _, t := range tracks {
		grouped = grouped || t.part != ""
	}
	var all []*part
	find := func(id string) *part {
		for _, p := range all {
			if p.ID == id {
				return p
			}
		}
		p := &part{PartInfo: PartInfo{ID: id}}
		all = append(all, p)
		return p
	}
	for i := len(tracks) - 1; i >= 0; i-- {
		t := tracks[i]
		id := "P" + t.part
		switch {
		case t.part != "":
		case !grouped && len(tracks) == 2:
			id = "P1"
		default:
			id = "S" + number(len(tracks)-i)
		}
		p := find(id)
		p.add(t)
	}
	for _, p := range all {
		p.Staves = len(p.staves)
	}
	return all
}

func (p *part) add(t *track) {
	p.Notes += t.notes
	if p.Name == "" {
		p.Name = t.name
	}
	if p.Name == "" {
		p.Name = instruments[t.instrument]
	}
	if p.clef == 0 {
		p.clef = t.clef
	}
	p.board = p.board || keyboard(t)
	if t.staff != "" {
		for _, s := range p.staves {
			if s.name == t.staff {
				s.tracks = append(s.tracks, t)
				return
			}
		}
	}
	p.staves = append(p.staves, &staff{t.staff, []*track{t}})
}

// instruments are the codes of *I that name a part without a name.
var instruments = map[string]string{
	"piano": "Piano", "fortp": "Fortepiano", "cemba": "Harpsichord", "clavi": "Clavichord", "organ": "Organ", "pedal": "Pedal",
	"violn": "Violin", "viola": "Viola", "cello": "Cello", "cbass": "Double bass", "flt": "Flute", "oboe": "Oboe", "clars": "Clarinet",
	"fagot": "Bassoon", "cor": "Horn", "tromp": "Trumpet", "soprn": "Soprano", "alto": "Alto", "tenor": "Tenor", "bass": "Bass", "vox": "Voice",
}

func keyboard(t *track) bool {
	switch t.instrument {
	case "piano", "fortp", "cemba", "clavi", "organ", "virgi", "spine":
		return true
	}
	name := strings.ToLower(t.name)
	for _, w := range []string{"piano", "klavier", "clav", "cembalo", "harpsichord", "organ", "orgel", "keyboard", "virginal", "spinet"} {
		if strings.Contains(name, w) {
			return true
		}
	}
	return false
}

// choose returns the staves to read from the upper to the lower, and marks
// their parts: the wanted ones, else a keyboard's.
func choose(all []*part, want string) ([]*staff, error) {
	if want != "" {
		return wanted(all, want)
	}
	var best *part
	rank := 0
	for _, p := range all {
		n := 1
		switch {
		case p.Notes == 0:
			continue
		case p.Staves >= 2 && p.board:
			n = 4
		case p.Staves >= 2:
			n = 3
		case p.board:
			n = 2
		}
		if n > rank {
			best, rank = p, n
		}
	}
	if best == nil {
		return nil, fail(told.Place{}, "open a score for a keyboard instrument", "the file holds no notes with a pitch")
	}
	if rank < 3 {
		for i := 0; i+1 < len(all); i++ {
			a, b := all[i], all[i+1]
			if a.Staves == 1 && b.Staves == 1 && a.board && b.board && a.clef != 'F' && b.clef == 'F' {
				return take(a, b), nil
			}
		}
	}
	return take(best), nil
}

func wanted(all []*part, want string) ([]*staff, error) {
	known := func(id string) *part {
		for _, p := range all {
			if p.ID == id {
				return p
			}
		}
		return nil
	}
	if p := known(want); p != nil {
		return take(p), nil
	}
	if a, b, joined := strings.Cut(want, "+"); joined {
		if p, q := known(a), known(b); p != nil && q != nil && p != q && p.Staves == 1 && q.Staves == 1 {
			return take(p, q), nil
		}
	}
	return nil, fail(told.Place{}, "choose one of the parts listed", "the score has no part “{text}”", "{text}", clip(want))
}

func take(parts ...*part) []*staff {
	var staves []*staff
	for _, p := range parts {
		p.Chosen = true
		staves = append(staves, p.staves...)
	}
	return staves
}
