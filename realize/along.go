package realize

import (
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

// Along returns what sounds on a way through the piece ([score.Passage.Road]),
// or in some of its measures, laid end to end from onset 0. Where the way
// leaves the written order, a note held over ends, or goes on in the same key
// that is tied into the measure that comes next; one tied in from what is not
// played is struck. A small note before the first beat of a measure belongs to
// that measure.
//
// Beats keep the index of the written measure; notes that are played twice
// carry the same ids twice, and the leg of the way they are played in.
func Along(p *score.Passage, played *perf.Performance, road []score.Step) *perf.Performance {
	return alongPasses(p, road, func(int) *perf.Performance { return played })
}

// alongPasses is [Along] with a performance for each pass.
func alongPasses(p *score.Passage, road []score.Step, played func(pass int) *perf.Performance) *perf.Performance {
	out := &perf.Performance{}
	a := &along{p: p, at: map[score.ID]score.Ref{}, homes: map[*perf.Performance][][]int{}, out: out}
	for i := 0; i < len(road); {
		now := played(road[i].Pass)
		k := i + 1
		for k < len(road) && road[k].Measure == road[k-1].Measure+1 && played(road[k].Pass) == now {
			k++
		}
		a.take(now)
		a.stretch(road[i].Measure, road[k-1].Measure+1, k == len(road))
		i = k
	}
	out.End = a.now
	sortPerformance(out.Notes)
	release(out)
	return out
}

// Straight is the road through the measures [from, to) as written.
func Straight(from, to int) []score.Step {
	var road []score.Step
	for i := from; i < to; i++ {
		road = append(road, score.Step{Measure: i, Pass: 1})
	}
	return road
}

type along struct {
	p      *score.Passage
	played *perf.Performance
	at     map[score.ID]score.Ref
	home   [][]int // notes of each measure, by index
	homes  map[*perf.Performance][][]int
	out    *perf.Performance
	now    music.Frac
	held   map[int]int // key to note of out: held over the end of the last stretch
}

// take turns to a performance and gives its notes to the measures they belong
// to: that of the written note, since small notes may begin before it.
func (a *along) take(played *perf.Performance) {
	a.played = played
	if home, known := a.homes[played]; known {
		a.home = home
		return
	}
	for i := range a.p.Chords {
		for j := range a.p.Chords[i].Notes {
			a.at[a.p.Chords[i].Notes[j].ID] = score.Ref{Chord: i, Note: j}
		}
	}
	a.home = make([][]int, len(a.p.Measures))
	for i := range a.played.Notes {
		n := &a.played.Notes[i]
		m := a.p.MeasureAt(n.Onset)
		if r, known := a.at[n.From]; known {
			m = a.p.Chords[r.Chord].Measure
		}
		a.home[m] = append(a.home[m], i)
	}
	a.homes[played] = a.home
}

// tiedBack is how many measures back a note may have begun that is still held.
const tiedBack = 16

// tiedIn reports whether a tie ends on a note.
func (a *along) tiedIn(id score.ID) bool {
	r, ok := a.at[id]
	return ok && a.p.At(r).TieStop
}

// stretch adds measures that follow each other.
func (a *along) stretch(from, to int, last bool) {
	start, end := a.p.Measures[from].Onset, a.p.Measures[to-1].End()
	shift := a.now.Sub(start)
	held := map[int]int{}
	first := len(a.out.Way)
	for m := from; m < to; m++ {
		a.out.Way = append(a.out.Way, perf.Leg{Onset: a.p.Measures[m].Onset.Add(shift), Written: a.p.Measures[m].Onset, Measure: m})
	}
	add := func(n perf.Note, m int) {
		n.Leg = first + m - from
		over := end.Less(n.End())
		if over && !last {
			n.Dur = end.Sub(n.Onset)
		}
		if n.Dur.Sign() <= 0 {
			return
		}
		if before, ok := a.held[n.Pitch.MIDI()]; ok && n.Onset == start && a.tiedIn(n.From) {
			b := &a.out.Notes[before]
			b.Dur = b.Dur.Add(n.Dur)
			if over {
				held[n.Pitch.MIDI()] = before
			}
			return
		}
		n.Onset = n.Onset.Add(shift)
		if over {
			held[n.Pitch.MIDI()] = len(a.out.Notes)
		}
		a.out.Notes = append(a.out.Notes, n)
	}
	for m := max(0, from-tiedBack); m < from; m++ {
		for _, i := range a.home[m] {
			if n := a.played.Notes[i]; start.Less(n.End()) && n.Onset.Less(start) {
				n.Onset, n.Dur = start, n.End().Sub(start)
				add(n, from)
			}
		}
	}
	for m := from; m < to; m++ {
		for _, i := range a.home[m] {
			add(a.played.Notes[i], m)
		}
	}
	a.held = held
	for _, b := range a.played.Beats {
		if b.Measure >= from && b.Measure < to {
			b.Onset = b.Onset.Add(shift)
			a.out.Beats = append(a.out.Beats, b)
		}
	}
	changes := []perf.TempoChange{{Onset: a.now, QuartersPerMinute: a.played.Tempo.At(start)}}
	for _, c := range a.played.Tempo.Changes {
		if start.Less(c.Onset) && c.Onset.Less(end) {
			changes = append(changes, perf.TempoChange{Onset: c.Onset.Add(shift), QuartersPerMinute: c.QuartersPerMinute})
		}
	}
	for _, c := range changes {
		all := a.out.Tempo.Changes
		if len(all) == 0 || all[len(all)-1].QuartersPerMinute != c.QuartersPerMinute {
			a.out.Tempo.Changes = append(all, c)
		}
	}
	a.now = end.Add(shift)
}
