package smf

import (
	"math"

	"agremens/realize/perf"
)

// Meta events.
const (
	trackName = 0x03
	setTempo  = 0x51
)

func tempoTrack(p *perf.Performance, t timing, title string) []event {
	events := []event{{data: text(trackName, title)}}
	changes := p.Tempo.Changes
	if len(changes) == 0 {
		changes = perf.Steady(60).Changes
	}
	for i, c := range changes {
		at := t.at(c.Onset)
		if i == 0 {
			at = 0 // the first tempo also governs what stands before it
		}
		us := int64(math.Round(60e6 / c.QuartersPerMinute))
		us = min(max(us, 1), 1<<24-1)
		events = append(events, event{at: at, rank: 1, data: []byte{0xFF, setTempo, 3, byte(us >> 16), byte(us >> 8), byte(us)}})
	}
	return events
}

// stroke is one key going down and up, in ticks.
type stroke struct {
	from, to int64
	key      int
	velocity byte
}

// handTrack writes the notes of a hand, each hand on a channel of its own. A
// key that is struck again while it sounds comes up first; struck twice at
// once it sounds as long as the longer note.
func handTrack(p *perf.Performance, t timing, hand perf.Hand, name string) []event {
	events := []event{{data: text(trackName, name)}}
	channel := byte(hand)
	var strokes []stroke
	last := map[int]int{} // key to its latest stroke
	for _, n := range p.Notes {
		if n.Hand != hand {
			continue
		}
		s := stroke{from: t.at(n.Onset), to: t.at(n.End()), key: min(max(n.Pitch.MIDI(), 0), 127)}
		s.to = max(s.to, s.from+1)
		s.velocity = byte(min(max(math.Round(float64(n.Strength)*127), 1), 127))
		if i, ok := last[s.key]; ok {
			b := &strokes[i]
			if b.from == s.from {
				b.to, b.velocity = max(b.to, s.to), max(b.velocity, s.velocity)
				continue
			}
			b.to = min(b.to, s.from)
		}
		last[s.key] = len(strokes)
		strokes = append(strokes, s)
	}
	for _, s := range strokes {
		events = append(events,
			event{at: s.from, rank: 2, data: []byte{0x90 | channel, byte(s.key), s.velocity}},
			event{at: s.to, rank: 1, data: []byte{0x80 | channel, byte(s.key), 64}})
	}
	return events
}
