// Package wav reads recordings: RIFF WAVE files of 16 or 24 or 32-bit
// integers or 32-bit floats, mono or of several channels, which are mixed to
// one. It reads as it goes, so that a long recording needs no memory. The
// layout is that of the Multimedia Programming Interface and Data
// Specifications 1.0 (IBM and Microsoft, 1991) and of its extensible format
// tag, from memory.
package wav

import (
	"encoding/binary"
	"errors"
	"io"
	"math"

	"agremens/realize/words"
)

// Errors of a file that cannot be read.
var (
	ErrNoWAV   = errors.New("not a WAV file")
	ErrCoding  = errors.New("a WAV file in a coding that cannot be read")
	ErrNoSound = errors.New("a WAV file without sound")
)

// Limits of what is read.
const (
	LowestRate, HighestRate = 8000, 192000
	mostChannels            = 32
	mostHeader              = 1 << 20 // bytes before the sound
)

// Reader reads the samples of one file.
type Reader struct {
	// Rate is in samples a second, Channels as in the file.
	Rate, Channels int
	from           io.Reader
	left           int64 // bytes of sound; -1 up to the end of the file
	bytes          int   // of one sample of one channel
	float          bool
	buffer         []byte
}

const (
	codingPCM, codingFloat, codingExtensible = 1, 3, 0xFFFE
)

// New reads up to the first sample.
func New(from io.Reader) (*Reader, error) {
	head := make([]byte, 12)
	if _, err := io.ReadFull(from, head); err != nil || string(head[:4]) != "RIFF" || string(head[8:]) != "WAVE" {
		return nil, words.Errorf(ErrNoWAV, "it does not begin as one")
	}
	r := &Reader{from: from}
	passed := int64(0)
	for {
		if _, err := io.ReadFull(from, head[:8]); err != nil {
			return nil, words.Errorf(ErrNoSound, "it ends before the sound begins")
		}
		size := int64(binary.LittleEndian.Uint32(head[4:]))
		switch string(head[:4]) {
		case "data":
			if r.bytes == 0 {
				return nil, words.Errorf(ErrCoding, "it does not say which")
			}
			r.left = size
			// Recorders that were cut off leave the size open.
			if size == 0 || size >= math.MaxUint32-64 {
				r.left = -1
			}
			return r, nil
		case "fmt ":
			if size < 16 || size > 4096 {
				return nil, words.Errorf(ErrCoding, "its format has an unknown length")
			}
			format := make([]byte, size)
			if _, err := io.ReadFull(from, format); err != nil {
				return nil, words.Errorf(ErrNoSound, "it ends before the sound begins")
			}
			if err := r.format(format); err != nil {
				return nil, err
			}
		default:
			if passed += size; passed > mostHeader {
				return nil, words.Errorf(ErrNoSound, "too much stands before the sound")
			}
			if _, err := io.CopyN(io.Discard, from, size); err != nil {
				return nil, words.Errorf(ErrNoSound, "it ends before the sound begins")
			}
		}
		if size%2 == 1 { // chunks begin at even places
			_, _ = io.CopyN(io.Discard, from, 1)
		}
	}
}

func (r *Reader) format(f []byte) error {
	coding := binary.LittleEndian.Uint16(f)
	r.Channels = int(binary.LittleEndian.Uint16(f[2:]))
	r.Rate = int(binary.LittleEndian.Uint32(f[4:]))
	bits := int(binary.LittleEndian.Uint16(f[14:]))
	if coding == codingExtensible && len(f) >= 26 {
		coding = binary.LittleEndian.Uint16(f[24:])
	}
	r.float = coding == codingFloat
	switch {
	case r.Channels < 1 || r.Channels > mostChannels:
		return words.Errorf(ErrCoding, "it has no channels, or too many")
	case r.Rate < LowestRate || r.Rate > HighestRate:
		return words.Errorf(ErrCoding, "its rate is not between 8 and 192 kHz")
	case coding == codingPCM && (bits == 16 || bits == 24 || bits == 32), r.float && bits == 32:
		r.bytes = bits / 8
		return nil
	}
	return words.Errorf(ErrCoding, "only 16, 24 and 32 bits without compression are")
}

// Read fills dst with the next samples, all channels mixed, and returns how
// many there were; 0 at the end. A file that is cut off ends where it is cut.
func (r *Reader) Read(dst []float32) int {
	frame := r.bytes * r.Channels
	want := len(dst) * frame
	if r.left >= 0 {
		want = int(min(int64(want), r.left))
	}
	if cap(r.buffer) < want {
		r.buffer = make([]byte, want)
	}
	b := r.buffer[:want]
	got, _ := io.ReadFull(r.from, b)
	if r.left >= 0 {
		r.left -= int64(got)
	}
	n := got / frame
	for i := range n {
		sum := float32(0)
		for c := range r.Channels {
			sum += r.sample(b[i*frame+c*r.bytes:])
		}
		dst[i] = sum / float32(r.Channels)
	}
	return n
}

func (r *Reader) sample(b []byte) float32 {
	switch {
	case r.float:
		return math.Float32frombits(binary.LittleEndian.Uint32(b))
	case r.bytes == 2:
		return float32(int16(binary.LittleEndian.Uint16(b))) / (1 << 15)
	case r.bytes == 3:
		return float32(int32(uint32(b[0])<<8|uint32(b[1])<<16|uint32(b[2])<<24)) / (1 << 31)
	}
	return float32(int32(binary.LittleEndian.Uint32(b))) / (1 << 31)
}
