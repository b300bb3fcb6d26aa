package kern

import (
	"slices"
	"strings"

	"agremens/realize/codec/told"
	"agremens/realize/music"
	"agremens/realize/score"
)

// label is the beginning of a section: "*>A".
type label struct {
	name    string
	measure int
	onset   music.Frac
}

// order is an expansion list: "*>[A,A,B]", or with a name, "*>norep[A,B]".
type order struct {
	name     string
	sections []string
}

// label reads what comes after "*>"; the columns of a line say it once each.
func (r *reader) label(i int, text string) {
	if name, list, isList := strings.Cut(text, "["); isList {
		list, _, _ = strings.Cut(list, "]")
		o := order{name: name}
		for _, s := range strings.Split(list, ",") {
			if s = strings.TrimSpace(s); s != "" && len(o.sections) < 200 {
				o.sections = append(o.sections, s)
			}
		}
		for _, b := range r.orders {
			if b.name == name {
				return
			}
		}
		if len(r.orders) < 8 {
			r.orders = append(r.orders, o)
		}
		return
	}
	if n := len(r.labels); n > 0 && r.labels[n-1].name == text || text == "" {
		return
	}
	k := len(r.labels)
	r.labels = append(r.labels, label{name: clip(text), measure: -1})
	r.onset(func(measure int, onset music.Frac) { r.labels[k].measure, r.labels[k].onset = measure, onset })
}

// span is a section: its measures, half-open.
type span struct {
	name     string
	from, to int
}

// spans returns the sections in the order of the page; nil where one begins
// within a measure.
func (a *assembly) spans() []span {
	var all []span
	for _, l := range a.labels {
		if l.measure < 0 || l.measure >= len(a.out.Measures) {
			continue
		}
		if !l.onset.IsZero() {
			return nil
		}
		if n := len(all); n > 0 {
			all[n-1].to = l.measure
		}
		all = append(all, span{l.name, l.measure, len(a.out.Measures)})
	}
	return all
}

// maxWay bounds how many measures an expansion list may name in all.
const maxWay = 20_000

// way returns the measures in the order in which a list plays them, nil where
// it names sections that are not there.
func (o order) way(spans []span) []int {
	var way []int
	for _, name := range o.sections {
		i := slices.IndexFunc(spans, func(s span) bool { return s.name == name })
		if i < 0 {
			return nil
		}
		for m := spans[i].from; m < spans[i].to; m++ {
			way = append(way, m)
		}
		if len(way) > maxWay {
			return nil
		}
	}
	return way
}

// roads turns the sections and the order in which they are played into
// endings, jumps and, where the bar lines say otherwise, repeats.
func (a *assembly) roads() {
	spans := a.spans()
	main := slices.IndexFunc(a.orders, func(o order) bool { return o.name == "" })
	if main < 0 || len(spans) == 0 {
		a.wordRoads()
		return
	}
	way := a.orders[main].way(spans)
	if way == nil {
		a.warnings.Add(told.Place{}, "the order in which the sections are played names some that are not there; the repeats are played as their signs say")
		return
	}
	a.endings(spans, a.orders[main].sections)
	if a.follows(way) {
		return
	}
	back := comingBack(way)
	signs := slices.Clone(a.out.Measures)
	a.jump(way, back)
	if a.follows(way) {
		return
	}
	a.out.Measures = slices.Clone(signs)
	a.repeat(way, back)
	a.jump(way, back)
	if a.follows(way) {
		return
	}
	a.out.Measures = signs
	a.jump(way, back)
	a.warnings.Add(told.Place{}, "the order in which the sections are played ({text}) cannot be shown by repeats; they are played as their signs say", "{text}", clip(strings.Join(a.orders[main].sections, ", ")))
}

// follows reports whether the signs lead through the piece as the list says.
func (a *assembly) follows(way []int) bool {
	road := a.out.Road(score.RoadOptions{Repeats: true, Jumps: true})
	return len(road) == len(way) && slices.EqualFunc(road, way, func(s score.Step, m int) bool { return s.Measure == m })
}

// comingBack returns where in the way a da capo leads back, 0 if there is
// none: the last step back after which the way does not reach the place it
// came from again.
func comingBack(way []int) int {
	most := -1
	for i := len(way) - 1; i > 0; i-- {
		most = max(most, way[i])
		if way[i] <= way[i-1] {
			if most < way[i-1] {
				return i
			}
			return 0
		}
	}
	return 0
}

// jump sets a da capo or dal segno where the way comes back for the last time.
func (a *assembly) jump(way []int, back int) {
	if back == 0 {
		return
	}
	ms := a.out.Measures
	add := func(m int, jump string) {
		if !slices.Contains(ms[m].Jumps, jump) {
			ms[m].Jumps = append(slices.Clone(ms[m].Jumps), jump)
		}
	}
	if way[back] == 0 {
		add(way[back-1], "dacapo")
	} else {
		add(way[back], "segno")
		add(way[back-1], "dalsegno")
	}
	if last := way[len(way)-1]; last < len(ms)-1 {
		add(last, "fine")
	}
}

// repeat sets the repeats by the steps back of the way, up to its da capo.
func (a *assembly) repeat(way []int, back int) {
	ms := a.out.Measures
	for i := range ms {
		ms[i].RepeatStart, ms[i].RepeatEnd, ms[i].Times = false, false, 0
	}
	if back == 0 {
		back = len(way)
	}
	for i := 1; i < back; i++ {
		from, to := way[i-1], way[i]
		if to > from {
			continue
		}
		if m := &ms[from]; m.RepeatEnd {
			m.Times = max(m.Times, 2) + 1
		} else {
			m.RepeatEnd, m.Barline = true, "light-heavy"
		}
		ms[to].RepeatStart = to > 0
	}
}

// endings finds the sections that are endings: A1 and A2 are played the first
// and the second time after A. A section that follows every time is none.
func (a *assembly) endings(spans []span, sections []string) {
	played := map[string]map[int]bool{}
	times, last := map[string]int{}, map[string]int{}
	seen := map[string]int{} // how far the list came
	for i, name := range sections {
		base := strings.TrimRight(name, "0123456789")
		if base == name || base == "" {
			if _, again := seen[name]; again && i-last[name] > 3 {
				break // a da capo: its endings are the last
			}
			times[name]++
			seen[name], last[name] = i, i
			continue
		}
		if times[base] == 0 {
			continue
		}
		if played[name] == nil {
			played[name] = map[int]bool{}
		}
		played[name][times[base]] = true
		last[base] = i
	}
	for _, s := range spans {
		base := strings.TrimRight(s.name, "0123456789")
		when := played[s.name]
		if len(when) == 0 || len(when) == times[base] || s.from >= s.to {
			continue
		}
		var numbers []int
		for n := range when {
			numbers = append(numbers, n)
		}
		slices.Sort(numbers)
		for m := s.from; m < s.to; m++ {
			a.out.Measures[m].Endings = numbers
		}
		m := &a.out.Measures[s.to-1]
		m.EndingStop, m.EndingOpen = true, m.Barline != "light-heavy"
	}
}

// wordRoads reads a da capo from printed words where no list says the order.
func (a *assembly) wordRoads() {
	for _, p := range a.marks {
		if p.mark.Kind != score.Words || p.measure >= len(a.out.Measures) {
			continue
		}
		s := strings.ToLower(strings.ReplaceAll(p.mark.Text, " ", ""))
		jump := ""
		switch {
		case strings.HasPrefix(s, "d.c.") || strings.HasPrefix(s, "dacapo"):
			jump = "dacapo"
		case strings.HasPrefix(s, "d.s.") || strings.HasPrefix(s, "dalsegno"):
			jump = "dalsegno"
		case s == "fine" || s == "fine.":
			jump = "fine"
		}
		if m := &a.out.Measures[p.measure]; jump != "" && !slices.Contains(m.Jumps, jump) {
			m.Jumps = append(m.Jumps, jump)
		}
	}
}
