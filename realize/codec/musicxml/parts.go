package musicxml

import (
	"errors"
	"strconv"
	"strings"
)

// partStats is what the choice of a part rests on.
type partStats struct {
	PartInfo
	unpitched int
	clef      string // first clef's sign
}

// scan reads the list of parts. Where there are several it goes through the
// whole file once, to know what each holds.
func (d *decoder) scan(text []byte) error {
	r := newReader(text, d.through(text, 0, shareRead))
	root, err := r.root()
	if err != nil {
		return err
	}
	if err := checkRoot(root.name); err != nil {
		return err
	}
	s := &partScan{r: r, index: map[string]int{}}
	err = r.each(s.top)
	if err != nil && err != errEnough {
		return err
	}
	d.broken = r.first
	if len(s.parts) == 0 {
		return r.or(fileError(ErrBroken, mendExport, "the score has no parts"))
	}
	d.stats = s.parts
	return nil
}

func checkRoot(name string) error {
	switch strings.ToLower(name) {
	case "score-partwise", "score-timewise":
		return nil
	case "html":
		return fileError(ErrNotMusicXML, "on that page, look for the score's download as MusicXML", "this is a web page, not a score")
	case "opus":
		return fileError(ErrUnsupported, "open one of the scores it lists", "this is a list of scores (an opus), not a score")
	case "container":
		return fileError(ErrNotMusicXML, "open the .mxl file itself", "this is the table of contents of a compressed score")
	}
	return fileError(ErrNotMusicXML, mendExport, "this is an XML file, but not a MusicXML score (it starts with <{text}>)", "{text}", clip(name))
}

// errEnough ends a scan that knows what it needs.
var errEnough = errors.New("enough")

type partScan struct {
	r     *reader
	parts []partStats
	index map[string]int
}

func (s *partScan) part(id string) (*partStats, error) {
	i, ok := s.index[id]
	if !ok {
		if len(s.parts) >= maxParts {
			return nil, s.r.fail(ErrTooLarge, mendSplit, "the score has more than {n} parts", "{n}", strconv.Itoa(maxParts))
		}
		i = len(s.parts)
		s.index[id] = i
		s.parts = append(s.parts, partStats{PartInfo: PartInfo{ID: id, Staves: 1}})
	}
	return &s.parts[i], nil
}

func (s *partScan) top(e element) error {
	switch e.name {
	case "part-list":
		return s.r.each(s.listed)
	case "part":
		// One part: nothing to choose.
		if len(s.parts) == 1 && s.parts[0].ID == e.attr("id") {
			return errEnough
		}
		p, err := s.part(e.attr("id"))
		if err != nil {
			return err
		}
		return s.r.each(func(e element) error {
			if e.name != "measure" {
				return nil
			}
			return s.measure(p)
		})
	case "measure":
		if len(s.parts) == 1 {
			return errEnough
		}
		return s.r.each(func(e element) error {
			if e.name != "part" {
				return nil
			}
			p, err := s.part(e.attr("id"))
			if err != nil {
				return err
			}
			return s.measure(p)
		})
	}
	return nil
}

func (s *partScan) listed(e element) error {
	if e.name != "score-part" {
		return nil
	}
	p, err := s.part(e.attr("id"))
	if err != nil {
		return err
	}
	return s.r.each(func(e element) error {
		if e.name != "part-name" {
			return nil
		}
		name, err := s.r.text()
		p.Name = clip(name)
		return err
	})
}

func (s *partScan) measure(p *partStats) error {
	return s.r.each(func(e element) error {
		switch e.name {
		case "note":
			return s.r.each(func(e element) error {
				switch e.name {
				case "pitch":
					p.Notes++
				case "unpitched":
					p.unpitched++
				}
				return nil
			})
		case "attributes":
			return s.r.each(func(e element) error {
				switch e.name {
				case "staves":
					t, err := s.r.text()
					if n, bad := strconv.Atoi(t); bad == nil && n > p.Staves && n < 100 {
						p.Staves = n
					}
					return err
				case "clef":
					return s.r.each(func(e element) error {
						if e.name != "sign" || p.clef != "" {
							return nil
						}
						t, err := s.r.text()
						p.clef = clip(t)
						return err
					})
				}
				return nil
			})
		}
		return nil
	})
}

// choose names the parts to read: the wanted ones, else the keyboard part.
func (d *decoder) choose(want string) ([]string, error) {
	if want != "" {
		return d.wanted(want)
	}
	parts := d.stats
	if len(parts) == 1 {
		return []string{parts[0].ID}, nil
	}
	best, rank := -1, 0
	for i, p := range parts {
		r := 0
		switch {
		case p.Notes == 0:
			continue
		case p.Staves >= 2 && keyboardName(p.Name):
			r = 4
		case p.Staves >= 2:
			r = 3
		case keyboardName(p.Name):
			r = 2
		default:
			r = 1
		}
		if r > rank {
			best, rank = i, r
		}
	}
	if best < 0 {
		return nil, fileError(ErrUnsupported, "open a score for a keyboard instrument", "the score has no notes with a pitch")
	}
	if rank < 3 {
		for i := 0; i+1 < len(parts); i++ {
			if twoHands(parts[i], parts[i+1], len(parts)) {
				return []string{parts[i].ID, parts[i+1].ID}, nil
			}
		}
	}
	return []string{parts[best].ID}, nil
}

func (d *decoder) wanted(want string) ([]string, error) {
	known := func(id string) *partStats {
		for i := range d.stats {
			if d.stats[i].ID == id {
				return &d.stats[i]
			}
		}
		return nil
	}
	if known(want) != nil {
		return []string{want}, nil
	}
	if a, b, found := strings.Cut(want, "+"); found {
		if p, q := known(a), known(b); p != nil && q != nil && a != b && p.Staves == 1 && q.Staves == 1 {
			return []string{a, b}, nil
		}
	}
	return nil, fileError(ErrUnsupported, "choose one of the parts listed", "the score has no part \"{text}\"", "{text}", clip(want))
}

var keyboardWords = []string{
	"piano", "klavier", "clavier", "keyboard", "harpsichord", "cembalo", "clavecin", "clavichord",
	"hammerklavier", "hammerfl", "organ", "orgel", "orgue", "clavicembalo", "spinet", "virginal", "manual", "pfte", "pno",
}

func keyboardName(name string) bool {
	name = strings.ToLower(name)
	for _, w := range keyboardWords {
		if strings.Contains(name, w) {
			return true
		}
	}
	return false
}

// twoHands guesses whether two one-staff parts are the hands of one player.
func twoHands(a, b partStats, parts int) bool {
	if a.Staves != 1 || b.Staves != 1 || a.Notes == 0 || b.Notes == 0 {
		return false
	}
	x, y := strings.ToLower(a.Name), strings.ToLower(b.Name)
	for _, pair := range [][2]string{
		{"right", "left"}, {"r.h.", "l.h."}, {"rh", "lh"}, {"m.d.", "m.s."}, {"m.d.", "m.g."},
		{"rechte", "linke"}, {"droite", "gauche"}, {"destra", "sinistra"}, {"upper", "lower"}, {"treble", "bass"},
	} {
		if strings.Contains(x, pair[0]) && strings.Contains(y, pair[1]) {
			return true
		}
	}
	clefs := a.clef == "G" && b.clef == "F"
	return keyboardName(x) && (keyboardName(y) || y == "") && clefs || parts == 2 && clefs && (x == y || x == "" && y == "")
}
