package synth

import (
	"encoding/binary"
	"math"
)

// WAV returns interleaved stereo samples as a RIFF WAVE file of 16-bit PCM.
// Samples beyond ±1 are clipped.
func WAV(rate int, samples []float32) []byte {
	return PCM(WAVHeader(rate, len(samples)), samples)
}

// WAVHeader returns what is in a RIFF WAVE file before so many samples
// (two for each frame) of 16-bit stereo.
func WAVHeader(rate, samples int) []byte {
	size := 2 * samples
	out := make([]byte, 0, 44)
	le := binary.LittleEndian
	out = append(out, "RIFF"...)
	out = le.AppendUint32(out, uint32(36+size))
	out = append(out, "WAVEfmt "...)
	out = le.AppendUint32(out, 16)             // length of the format
	out = le.AppendUint16(out, 1)              // PCM
	out = le.AppendUint16(out, 2)              // channels
	out = le.AppendUint32(out, uint32(rate))   // frames a second
	out = le.AppendUint32(out, uint32(rate)*4) // bytes a second
	out = le.AppendUint16(out, 4)              // bytes a frame
	out = le.AppendUint16(out, 16)             // bits a sample
	out = append(out, "data"...)
	return le.AppendUint32(out, uint32(size))
}

// PCM appends samples to out as 16-bit integers. Samples beyond ±1 are clipped.
func PCM(out []byte, samples []float32) []byte {
	for _, s := range samples {
		v := math.Round(float64(min(max(s, -1), 1)) * 32767)
		out = binary.LittleEndian.AppendUint16(out, uint16(int16(v)))
	}
	return out
}
