package hear_test

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/hear"
	"agremens/realize/perf"
)

// sane checks what holds of every report, whatever was played.
func sane(t *testing.T, e hear.Expected, r hear.Report) {
	t.Helper()
	if r.Reason != "" {
		assert.Empty(t, r.Notes)
		return
	}
	require.Len(t, r.Notes, len(e.Notes))
	finite := func(x float64) { assert.False(t, math.IsNaN(x) || math.IsInf(x, 0)) }
	for _, h := range r.Notes {
		finite(h.At)
		finite(h.Error)
		finite(h.Confidence)
		assert.False(t, h.Played && (h.Unsure || !h.Reached))
	}
	for _, x := range r.Extra {
		finite(x.At)
		assert.Less(t, x.InsteadOf, len(e.Notes))
		if x.InsteadOf >= 0 {
			assert.False(t, r.Notes[x.InsteadOf].Played, "what another key was struck for was not played")
		}
	}
	for _, o := range r.Ornaments {
		for _, a := range []hear.Amount{o.Start, o.After, o.Uneven, o.PerSecond} {
			finite(a.V)
		}
	}
	finite(r.Tempo)
	finite(r.Offset)
}

// FuzzStrikes expects any notes and strikes any keys: four bytes are a note or
// a strike. A way to play is judged as it is after another was.
func FuzzStrikes(f *testing.F) {
	var take []byte
	for i, n := range written() {
		take = append(take, byte(n.Key), byte(16*n.At), byte(i%4), 0)
	}
	for _, n := range play(1).notes {
		take = append(take, byte(n.key), byte(n.at*20), 100, 1)
	}
	f.Add(take)
	f.Add([]byte{60, 0, 0, 0, 60, 10, 80, 1})
	f.Fuzz(func(t *testing.T, data []byte) {
		var e hear.Expected
		var strikes []hear.Strike
		for ; len(data) >= 4 && len(e.Notes) < 80 && len(strikes) < 200; data = data[4:] {
			key, at, kind := int(data[0]), float64(data[1]), data[2]
			if data[3]%2 == 1 {
				last := 0.0
				if n := len(strikes); n > 0 {
					last = strikes[n-1].At
				}
				strikes = append(strikes, hear.Strike{At: max(last, at/20), Key: key, Odds: float64(int8(kind)) / 10})
				continue
			}
			n := hear.Note{ID: "n", Key: key, At: at / 16, Hand: perf.Hand(kind % 2)}
			switch kind % 8 {
			case 2, 3:
				n.Ornament = string(rune('a' + kind%3))
			case 4:
				n.Program, n.Sent = true, at/15
			case 5:
				n.Program, n.Sent = true, math.NaN()
			}
			e.Notes = append(e.Notes, n)
		}
		l := hear.New(e, hear.Options{})
		for _, s := range strikes {
			l.Strike(s)
		}
		sane(t, e, l.Finish())
		other := e
		other.Notes = append([]hear.Note(nil), e.Notes...)
		for i := range other.Notes {
			if other.Notes[i].Ornament != "" {
				other.Notes[i].Key++
				other.Notes[i].At += 0.1
			}
		}
		sane(t, other, l.Against(other))
		sane(t, e, l.Against(e))
	})
}

// FuzzSound hears any samples at any rate.
func FuzzSound(f *testing.F) {
	x := sound{rate: 8000}.of(play(1))
	var take []byte
	for _, v := range x[:min(len(x), 24000)] {
		take = binary.LittleEndian.AppendUint32(take, math.Float32bits(v))
	}
	f.Add(take, 8000.0)
	f.Add([]byte("\x00\x00\xc0\x7f\x00\x00\x80\x7f"), 44100.0)
	f.Fuzz(func(t *testing.T, data []byte, rate float64) {
		var samples []float32
		for ; len(data) >= 4 && len(samples) < 1<<16; data = data[4:] {
			samples = append(samples, math.Float32frombits(binary.LittleEndian.Uint32(data)))
		}
		e := hear.Expected{Notes: written(), Tempo: 72}
		sane(t, e, hear.Whole(samples, e, hear.Options{Rate: rate}))
	})
}
