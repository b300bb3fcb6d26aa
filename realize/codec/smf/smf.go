// Package smf writes performances as Standard MIDI Files, format 1: a tempo
// track and one track for each hand.
package smf

import (
	"encoding/binary"
	"math"

	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/sorting"
)

// A file says time in ticks of a quarter. Where the notes' fractions have a
// common denominator up to maxTicks, every onset is exact; else they are
// rounded to fineTicks, which holds halves, thirds, fifths and sevenths.
const (
	leastTicks = 480
	maxTicks   = 30240
	fineTicks  = 10080
)

// Encode writes p. A note that begins before the first beat moves the whole
// piece on by as many quarters as it needs; the bytes are always the same for
// the same performance.
func Encode(p *perf.Performance, title string) []byte {
	t := timing{ticks: ticksOf(p), lead: leadOf(p)}
	tracks := [][]event{tempoTrack(p, t, title), handTrack(p, t, perf.Right, "right hand"), handTrack(p, t, perf.Left, "left hand")}
	out := []byte("MThd")
	out = binary.BigEndian.AppendUint32(out, 6)
	out = binary.BigEndian.AppendUint16(out, 1)
	out = binary.BigEndian.AppendUint16(out, uint16(len(tracks)))
	out = binary.BigEndian.AppendUint16(out, uint16(t.ticks))
	end := t.at(p.End)
	for _, track := range tracks {
		out = appendTrack(out, track, end)
	}
	return out
}

// timing turns quarters into ticks.
type timing struct {
	ticks int64
	lead  music.Frac
}

func (t timing) at(onset music.Frac) int64 {
	x := onset.Add(t.lead)
	if t.ticks%x.Den() == 0 {
		return max(0, x.Num()*(t.ticks/x.Den()))
	}
	return max(0, int64(math.Round(x.Float()*float64(t.ticks))))
}

// ticksOf finds the division in which all onsets and ends are exact.
func ticksOf(p *perf.Performance) int64 {
	common := int64(1)
	for _, n := range p.Notes {
		for _, x := range [2]music.Frac{n.Onset, n.End()} {
			a, b := common, x.Den()
			for b != 0 {
				a, b = b, a%b
			}
			if x.Den()/a > maxTicks/common {
				return fineTicks
			}
			common *= x.Den() / a
		}
	}
	if common >= leastTicks {
		return common
	}
	return common * ((leastTicks + common - 1) / common)
}

// leadOf is how many whole quarters the piece must start later.
func leadOf(p *perf.Performance) music.Frac {
	first := music.Frac{}
	for _, n := range p.Notes {
		first = first.Min(n.Onset)
	}
	return music.Int(-first.Floor())
}

// event is a message at a tick. Of those at one tick the lower rank comes
// first, so that a key comes up before it is struck again.
type event struct {
	at   int64
	rank int
	data []byte
}

func appendTrack(out []byte, events []event, end int64) []byte {
	sorting.Stable(events, func(a, b event) int {
		if a.at != b.at {
			return int(a.at - b.at)
		}
		return a.rank - b.rank
	})
	var body []byte
	now := int64(0)
	for _, e := range events {
		body = append(appendVariable(body, e.at-now), e.data...)
		now = e.at
	}
	body = append(appendVariable(body, max(0, end-now)), 0xFF, 0x2F, 0)
	out = append(out, "MTrk"...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
	return append(out, body...)
}

// appendVariable writes a number in groups of seven bits, the highest first.
func appendVariable(out []byte, n int64) []byte {
	n = min(n, 1<<28-1)
	for shift := 21; shift > 0; shift -= 7 {
		if n>>shift != 0 {
			out = append(out, byte(n>>shift)&0x7F|0x80)
		}
	}
	return append(out, byte(n)&0x7F)
}

func text(kind byte, s string) []byte {
	data := appendVariable([]byte{0xFF, kind}, int64(len(s)))
	return append(data, s...)
}
