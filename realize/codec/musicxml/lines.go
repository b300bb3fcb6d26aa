package musicxml

import (
	"agremens/realize/score"
)

// openLines are the lines that have begun and not ended.
type openLines struct {
	slurs   map[string]openSlur
	stops   map[string]int     // slurs whose end stands before their start in the file
	tuplets map[string]int     // into part.tuplets
	marks   map[string]int     // wedges, octave lines …: into part.marks
	ends    map[string]lineEnd // of marks whose end stands before their start in the file
}

type openSlur struct {
	from          int
	above, placed bool
	dashed        bool
}

// tupletLine is a <tuplet> element.
type tupletLine struct {
	number, kind   string
	actual, normal int
	bracket        bool
	silent         bool // show-number="none"
	above, placed  bool
}

func (p *part) readTuplet(w *written, e element) error {
	t := tupletLine{
		number: clip(e.attr("number")), kind: e.attr("type"),
		bracket: e.attr("bracket") == "yes", silent: e.attr("show-number") == "none",
	}
	t.above, t.placed = placement(e)
	number := func(to *int) error {
		return p.r.each(func(e element) error {
			if e.name != "tuplet-number" {
				return nil
			}
			s, err := p.r.text()
			*to, _ = atoi(s, 1, maxTuplet)
			return err
		})
	}
	err := p.r.each(func(e element) error {
		switch e.name {
		case "tuplet-actual":
			return number(&t.actual)
		case "tuplet-normal":
			return number(&t.normal)
		}
		return nil
	})
	w.tuplets = append(w.tuplets, t)
	if err != nil {
		return err
	}
	return p.count(1)
}

// attach joins slurs and tuplets that begin or end on chord i.
func (p *part) attach(i int, w *written) error {
	for _, l := range w.slurs {
		p.attachSlur(i, l)
	}
	for _, t := range w.tuplets {
		p.attachTuplet(i, t)
	}
	return nil
}

func (p *part) attachSlur(i int, l line) {
	if p.open.slurs == nil {
		p.open.slurs, p.open.stops = map[string]openSlur{}, map[string]int{}
	}
	switch l.kind {
	case "start":
		// The end may stand earlier in the file, in a voice read before.
		if to, ok := p.open.stops[l.number]; ok && p.chords[to].Measure == p.chords[i].Measure && p.chords[i].Onset.Less(p.chords[to].Onset) {
			delete(p.open.stops, l.number)
			p.slurs = append(p.slurs, score.Slur{From: i, To: to, Above: l.above, Placed: l.placed, Dashed: l.dashed})
			return
		}
		if before, open := p.open.slurs[l.number]; open {
			p.chords[before.from].SlurBegins = true
			p.warn("a slur without an end was left out")
			p.leave("slur")
		}
		p.open.slurs[l.number] = openSlur{i, l.above, l.placed, l.dashed}
	case "stop":
		s, ok := p.open.slurs[l.number]
		if !ok {
			if before, open := p.open.stops[l.number]; open {
				p.chords[before].SlurEnds = true
				p.warn("a slur without a beginning was left out")
				p.leave("slur")
			}
			p.open.stops[l.number] = i
			return
		}
		delete(p.open.slurs, l.number)
		if s.from == i {
			p.warn("a slur that begins and ends on one note was left out")
			p.leave("slur")
			return
		}
		p.slurs = append(p.slurs, score.Slur{From: s.from, To: i, Above: s.above, Placed: s.placed, Dashed: s.dashed})
	}
}

func (p *part) attachTuplet(i int, t tupletLine) {
	if p.open.tuplets == nil {
		p.open.tuplets = map[string]int{}
	}
	// Numbers are reused from voice to voice.
	key := p.chords[i].Voice + "/" + t.number
	switch t.kind {
	case "start":
		v := p.chords[i].Value
		if t.actual == 0 || t.normal == 0 {
			t.actual, t.normal = v.Actual, v.Normal
		}
		p.open.tuplets[key] = len(p.tuplets)
		p.tuplets = append(p.tuplets, score.Tuplet{
			From: i, To: -1, Actual: t.actual, Normal: t.normal,
			Bracket: t.bracket, ShowNumber: !t.silent, Above: t.above, Placed: t.placed,
		})
	case "stop":
		n, ok := p.open.tuplets[key]
		if !ok {
			// A run may pass from voice to voice.
			key, n, ok = p.openTuplet(i, t.number)
		}
		if ok {
			p.tuplets[n].To = i
			delete(p.open.tuplets, key)
		}
	}
}

// openTuplet finds an open tuplet of this number in another voice of chord
// i's measure.
func (p *part) openTuplet(i int, number string) (key string, n int, ok bool) {
	for k := len(p.tuplets) - 1; k >= 0 && p.chords[p.tuplets[k].From].Measure == p.chords[i].Measure; k-- {
		key := p.chords[p.tuplets[k].From].Voice + "/" + number
		if at, open := p.open.tuplets[key]; open && at == k {
			return key, k, true
		}
	}
	return "", 0, false
}
