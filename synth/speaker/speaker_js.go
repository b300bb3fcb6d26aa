package speaker

import (
	"encoding/binary"
	"fmt"
	"math"
	"sync/atomic"
	"time"

	"github.com/ebitengine/oto/v3"
)

// Block is how many frames the device is given at a time.
const Block = 4096

const frameBytes = 2 * 4

// Speaker is the open device.
type Speaker struct {
	player *oto.Player
	source *source
}

// Open opens the device at so many frames a second and has render called for
// every block of interleaved stereo to come. It sounds once the user has
// touched the page; there can be one speaker only.
func Open(rate int, render func([]float32)) (*Speaker, error) {
	context, _, err := oto.NewContext(&oto.NewContextOptions{
		SampleRate: rate, ChannelCount: 2, Format: oto.FormatFloat32LE,
		// One nanosecond more than a block: oto rounds down.
		BufferSize: time.Duration(Block)*time.Second/time.Duration(rate) + time.Nanosecond,
	})
	if err != nil {
		return nil, fmt.Errorf("speaker: %w", err)
	}
	s := &Speaker{source: &source{render: render}}
	s.player = context.NewPlayer(s.source)
	// A refill takes one block from the player; with less in it there would
	// be a hole in every block, with more the sound would only come later.
	s.player.SetBufferSize(Block * frameBytes)
	// At once, before the device can ask: then no silence of oto's own comes
	// before our first frame.
	s.player.Play()
	return s, nil
}

// Delivered returns how many of our frames the device has been handed.
func (s *Speaker) Delivered() int64 {
	return s.source.read.Load()/frameBytes - int64(s.player.BufferedSize()/frameBytes)
}

// source turns what is rendered into the bytes oto reads.
type source struct {
	render  func([]float32)
	read    atomic.Int64
	samples [2 * Block]float32
}

// Read fills p with whole frames.
func (s *source) Read(p []byte) (int, error) {
	samples := s.samples[:min(len(s.samples), len(p)/frameBytes*2)]
	s.render(samples)
	for i, x := range samples {
		binary.LittleEndian.PutUint32(p[4*i:], math.Float32bits(x))
	}
	s.read.Add(int64(4 * len(samples)))
	return 4 * len(samples), nil
}
