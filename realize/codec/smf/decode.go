package smf

import (
	"cmp"
	"encoding/binary"
	"errors"

	"agremens/realize/sorting"
	"agremens/realize/words"
)

// ErrNoMIDI is a file that is no MIDI file, or a damaged one.
var ErrNoMIDI = errors.New("not a MIDI file")

// Struck is a key struck in a file.
type Struck struct {
	At, Until     float64 // seconds from the beginning
	Key, Strength int     // MIDI
	Track         int
}

// mostMessages bounds what is read of a file.
const mostMessages = 2_000_000

// Decode reads the keys struck in a Standard MIDI File of any format, in order
// of time. A file that is cut off is read as far as it goes. The layout is
// that of the specification RP-001, from memory.
func Decode(data []byte) ([]Struck, error) {
	if len(data) < 14 || string(data[:4]) != "MThd" {
		return nil, words.Errorf(ErrNoMIDI, "it does not begin as one")
	}
	division := binary.BigEndian.Uint16(data[12:])
	head := int64(binary.BigEndian.Uint32(data[4:]))
	if division == 0 || head < 6 || head > int64(len(data)-8) {
		return nil, words.Errorf(ErrNoMIDI, "its beginning is damaged")
	}
	d := &decoder{}
	data = data[8+head:]
	for track := 0; len(data) >= 8; track++ {
		n := min(int64(binary.BigEndian.Uint32(data[4:])), int64(len(data)-8))
		if string(data[:4]) == "MTrk" {
			d.track(track, data[8:8+n])
		}
		data = data[8+n:]
	}
	return d.timed(division), nil
}

// tick is a place in a file, in its own units.
type tick = int64

type struckAt struct {
	from, to tick
	Struck
}

type tempoAt struct {
	at      tick
	seconds float64 // a quarter
}

type decoder struct {
	notes    []struckAt
	tempi    []tempoAt
	messages int
}

func (d *decoder) track(number int, b []byte) {
	var now tick
	status := byte(0)
	down := map[[2]byte]int{}
	up := func(channel, key byte) {
		if i, ok := down[[2]byte{channel, key}]; ok {
			d.notes[i].to = now
			delete(down, [2]byte{channel, key})
		}
	}
	for len(b) > 0 && d.messages < mostMessages {
		d.messages++
		delta, rest, ok := variable(b)
		if !ok || len(rest) == 0 {
			break
		}
		now += delta
		b = rest
		if b[0] >= 0x80 {
			status, b = b[0], b[1:]
		}
		switch {
		case status == 0xFF || status == 0xF0 || status == 0xF7:
			kind := byte(0)
			if status == 0xFF {
				if len(b) == 0 {
					return
				}
				kind, b = b[0], b[1:]
			}
			size, rest, ok := variable(b)
			if !ok || size > int64(len(rest)) {
				return
			}
			if kind == 0x51 && size == 3 {
				if us := int(rest[0])<<16 | int(rest[1])<<8 | int(rest[2]); us > 0 {
					d.tempi = append(d.tempi, tempoAt{now, float64(us) / 1e6})
				}
			}
			b, status = rest[size:], 0
		case status < 0x80 || status > 0xEF:
			return // a message that does not belong in a file
		default:
			size := 2
			if k := status & 0xF0; k == 0xC0 || k == 0xD0 {
				size = 1
			}
			if len(b) < size {
				return
			}
			channel := status & 0x0F
			switch kind := status & 0xF0; {
			case kind == 0x90 && b[1] > 0:
				up(channel, b[0])
				down[[2]byte{channel, b[0]}] = len(d.notes)
				d.notes = append(d.notes, struckAt{now, now, Struck{Key: int(b[0] & 0x7F), Strength: int(b[1] & 0x7F), Track: number}})
			case kind == 0x80 || kind == 0x90:
				up(channel, b[0])
			}
			b = b[size:]
		}
	}
	for _, i := range down {
		d.notes[i].to = now
	}
}

// timed turns ticks into seconds.
func (d *decoder) timed(division uint16) []Struck {
	var seconds func(t tick) float64
	if division >= 0x8000 { // frames of film a second, and parts of a frame
		unit := 1 / float64(max(1, -int(int8(division>>8)))*max(1, int(division&0xFF)))
		seconds = func(t tick) float64 { return float64(t) * unit }
	} else {
		sorting.Stable(d.tempi, func(a, b tempoAt) int { return cmp.Compare(a.at, b.at) })
		starts := make([]float64, len(d.tempi)) // s
		last, per, at := tick(0), 0.5, 0.0
		for i, t := range d.tempi {
			at += float64(t.at-last) / float64(division) * per
			starts[i], last, per = at, t.at, t.seconds
		}
		seconds = func(t tick) float64 {
			i, n := 0, len(d.tempi)
			for i < n { // the first tempo after t
				if m := (i + n) / 2; d.tempi[m].at <= t {
					i = m + 1
				} else {
					n = m
				}
			}
			if i == 0 {
				return float64(t) / float64(division) * 0.5
			}
			return starts[i-1] + float64(t-d.tempi[i-1].at)/float64(division)*d.tempi[i-1].seconds
		}
	}
	sorting.Stable(d.notes, func(a, b struckAt) int { return cmp.Compare(a.from, b.from) })
	out := make([]Struck, len(d.notes))
	for i, n := range d.notes {
		out[i] = n.Struck
		out[i].At, out[i].Until = seconds(n.from), seconds(n.to)
	}
	return out
}

// variable reads a number in groups of seven bits, of at most four bytes.
func variable(b []byte) (n int64, rest []byte, ok bool) {
	for i := 0; i < 4 && i < len(b); i++ {
		n = n<<7 | int64(b[i]&0x7F)
		if b[i] < 0x80 {
			return n, b[i+1:], true
		}
	}
	return 0, b, false
}
