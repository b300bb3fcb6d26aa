package main

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/hear"
	"agremens/realize/perf"
)

// struckKey is a key struck in a take, s.
type struckKey struct {
	at   float64
	key  int
	hand perf.Hand
	orn  string
	id   int // place in the ornament
}

// takeOf is a passage of the program's own as it plays it.
func takeOf(t *testing.T, id string) (file string, take []struckKey) {
	t.Helper()
	for _, e := range assets.Passages() {
		if e.ID != id {
			continue
		}
		file = filepath.Join(t.TempDir(), id+".abc")
		require.NoError(t, os.WriteFile(file, []byte(e.ABC), 0o644))
		opened, err := codec.Open([]byte(e.ABC), "", nil)
		require.NoError(t, err)
		p := realize.Perform(realize.Read(opened.Passage, realize.Taste{}), realize.PerformOptions{})
		for _, n := range p.Notes {
			if !n.Onset.Less(opened.Passage.Measures[4].Onset) {
				break
			}
			take = append(take, struckKey{1 + p.Tempo.Seconds(n.Onset), n.Pitch.MIDI(), n.Hand, n.Ornament, n.Index})
		}
	}
	require.NotEmpty(t, take, id)
	return file, take
}

// asMIDI writes a take, a millisecond a tick.
func asMIDI(t *testing.T, take []struckKey) string {
	t.Helper()
	type event struct {
		at  int
		on  bool
		key int
	}
	var events []event
	for _, k := range take {
		ms := int(1000*k.at + 0.5)
		events = append(events, event{ms, true, k.key}, event{ms + 60, false, k.key})
	}
	sort.SliceStable(events, func(i, j int) bool { return events[i].at < events[j].at })
	var track bytes.Buffer
	last := 0
	for _, e := range events {
		d := e.at - last
		last = e.at
		for shift := 21; shift > 0; shift -= 7 {
			if d>>shift > 0 {
				track.WriteByte(byte(d>>shift&0x7f | 0x80))
			}
		}
		track.WriteByte(byte(d & 0x7f))
		velocity := byte(0)
		if e.on {
			velocity = 80
		}
		track.Write([]byte{0x90, byte(e.key), velocity})
	}
	track.Write([]byte{0, 0xff, 0x2f, 0})
	// 500 ticks a quarter of half a second each.
	b := append([]byte("MThd\x00\x00\x00\x06\x00\x00\x00\x01\x01\xf4"), "MTrk"...)
	b = binary.BigEndian.AppendUint32(b, uint32(track.Len()))
	file := filepath.Join(t.TempDir(), "take.mid")
	require.NoError(t, os.WriteFile(file, append(b, track.Bytes()...), 0o644))
	return file
}

// A turn with one other key, late or not: the note that was other is named, and
// no more.
func TestWrongNoteOfAnOrnament(t *testing.T) {
	for name, c := range map[string]struct {
		late  float64
		index int
		by    int
	}{
		"in time": {0, 1, 1},
		"late":    {0.12, 1, 1},
		// A semitone up would be the other lower neighbour, which is offered.
		"late, its last note": {0.12, 2, -1},
		"very late":           {0.2, 1, 1},
	} {
		t.Run(name, func(t *testing.T) {
			score, take := takeOf(t, "turn")
			first := ""
			for i := range take {
				k := &take[i]
				if k.orn != "" && first == "" && k.at > 3 && k.hand == perf.Right {
					first = k.orn
				}
				if k.orn != "" && k.orn == first {
					k.at += c.late
					if k.id == c.index {
						k.key += c.by
					}
				}
			}
			require.NotEmpty(t, first)
			h := heardOf(t, "-score", score, asMIDI(t, take))
			require.Nil(t, h.Heard.Reason)
			require.Len(t, h.Extra, 1)
			require.NotNil(t, h.Extra[0].InsteadOf)
			assert.Regexp(t, "\\."+string(rune('1'+c.index))+"$", *h.Extra[0].InsteadOf)
		})
	}
}

// One hand alone is heard as one hand alone, not refused.
func TestOneHandAlone(t *testing.T) {
	score, take := takeOf(t, "mordent")
	var right []struckKey
	for _, k := range take {
		if k.hand == perf.Right {
			right = append(right, k)
		}
	}
	h := heardOf(t, "-score", score, asMIDI(t, right))
	require.Nil(t, h.Heard.Reason)
	assert.Equal(t, "right", h.Alone)
}

// The right hand begins anew, or plays something else, while the left goes on:
// its notes are not called missing one by one.
func TestWrongTurnOfOneHand(t *testing.T) {
	score, take := takeOf(t, "mordent")
	half := (take[0].at + take[len(take)-1].at) / 2
	first, again := math.NaN(), math.NaN()
	for _, k := range take {
		if k.hand == perf.Right && !(first <= k.at) {
			first = k.at
		}
		if k.hand == perf.Right && k.at >= half && !(again <= k.at) {
			again = k.at
		}
	}
	var anew, elsewhere []struckKey
	for _, k := range take {
		right := k.hand == perf.Right
		if !right || k.at < half {
			anew = append(anew, k)
		}
		if right && k.at < half {
			k.at += again - first
			anew = append(anew, k)
			k.at -= again - first
		}
		if right && k.at >= half {
			k.key += 5
		}
		elsewhere = append(elsewhere, k)
	}
	for name, played := range map[string][]struckKey{"anew": anew, "elsewhere": elsewhere} {
		h := heardOf(t, "-score", score, asMIDI(t, played))
		require.NotNil(t, h.Heard.Reason, name)
		assert.Equal(t, hear.OtherMusic, *h.Heard.Reason, name)
	}
}
