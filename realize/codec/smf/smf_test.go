package smf_test

import (
	"encoding/binary"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/codec/smf"
	"agremens/realize/music"
	"agremens/realize/perf"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func note(pitch string, onset, dur music.Frac, hand perf.Hand) perf.Note {
	return perf.Note{Pitch: music.MustPitch(pitch), Onset: onset, Dur: dur, Strength: 0.6, Hand: hand}
}

func performance(end int64, notes ...perf.Note) *perf.Performance {
	return &perf.Performance{Notes: notes, Tempo: perf.Steady(90), End: music.Int(end)}
}

// heard is a note read back from a file, in ticks.
type heard struct {
	Track, Key, Velocity int
	From, To             int64
}

// parse reads a file as the Standard MIDI Files specification (RP-001, from
// memory) lays it down: chunks, delta times, no running status here.
func parse(t *testing.T, data []byte) (ticks int, tempos map[int64]int, notes []heard) {
	t.Helper()
	require.Equal(t, "MThd", string(data[:4]))
	require.Equal(t, uint32(6), binary.BigEndian.Uint32(data[4:]))
	require.Equal(t, uint16(1), binary.BigEndian.Uint16(data[8:]), "format")
	tracks := int(binary.BigEndian.Uint16(data[10:]))
	ticks = int(binary.BigEndian.Uint16(data[12:]))
	tempos = map[int64]int{}
	data = data[14:]
	for track := range tracks {
		require.Equal(t, "MTrk", string(data[:4]))
		n := binary.BigEndian.Uint32(data[4:])
		body := data[8 : 8+n]
		data = data[8+n:]
		at := int64(0)
		down := map[int]heard{}
		variable := func() int64 {
			x := int64(0)
			for {
				b := body[0]
				body = body[1:]
				x = x<<7 | int64(b&0x7F)
				if b < 0x80 {
					return x
				}
			}
		}
		ended := false
		for len(body) > 0 {
			at += variable()
			status := body[0]
			body = body[1:]
			switch status & 0xF0 {
			case 0xF0:
				kind := body[0]
				body = body[1:]
				size := variable()
				if kind == 0x51 {
					tempos[at] = int(body[0])<<16 | int(body[1])<<8 | int(body[2])
				}
				ended = kind == 0x2F
				body = body[size:]
			case 0x90:
				key := int(body[0])
				_, sounding := down[key]
				require.False(t, sounding, "key %d is down already", key)
				down[key] = heard{Track: track, Key: key, Velocity: int(body[1]), From: at}
				body = body[2:]
			case 0x80:
				h, sounding := down[int(body[0])]
				require.True(t, sounding, "key %d is up already", body[0])
				delete(down, int(body[0]))
				h.To = at
				notes = append(notes, h)
				body = body[2:]
			default:
				t.Fatalf("status %x", status)
			}
		}
		require.True(t, ended, "track without end")
		require.Empty(t, down, "keys left down")
	}
	require.Empty(t, data)
	return ticks, tempos, notes
}

func TestEncode(t *testing.T) {
	third := music.F(1, 3)
	for _, tc := range []struct {
		name  string
		p     *perf.Performance
		ticks int
		want  []heard
	}{
		{
			name:  "two hands, thirds exact",
			p:     performance(2, note("C5", music.Int(0), third, perf.Right), note("C3", music.Int(0), music.Int(2), perf.Left), note("D5", third, third, perf.Right)),
			ticks: 480,
			want:  []heard{{1, 72, 76, 0, 160}, {1, 74, 76, 160, 320}, {2, 48, 76, 0, 960}},
		},
		{
			name:  "a key struck again comes up first",
			p:     performance(2, note("C5", music.Int(0), music.Int(2), perf.Right), note("C5", music.Int(1), music.Int(1), perf.Right)),
			ticks: 480,
			want:  []heard{{1, 72, 76, 0, 480}, {1, 72, 76, 480, 960}},
		},
		{
			name:  "a unison is one key",
			p:     performance(2, note("C5", music.Int(0), music.Int(1), perf.Right), note("C5", music.Int(0), music.Int(2), perf.Right)),
			ticks: 480,
			want:  []heard{{1, 72, 76, 0, 960}},
		},
		{
			name:  "a note before the first beat moves all by a quarter",
			p:     performance(1, note("D5", music.F(-1, 8), music.F(1, 8), perf.Right), note("C5", music.Int(0), music.Int(1), perf.Right)),
			ticks: 480,
			want:  []heard{{1, 74, 76, 420, 480}, {1, 72, 76, 480, 960}},
		},
		{
			name:  "sevenths and elevenths",
			p:     performance(1, note("D5", music.Int(0), music.F(1, 7), perf.Right), note("C5", music.F(1, 11), music.F(1, 11), perf.Right)),
			ticks: 539,
			want:  []heard{{1, 74, 76, 0, 77}, {1, 72, 76, 49, 98}},
		},
	} {
		t.Run(tc.name, func(t *testing.T) {
			ticks, tempos, notes := parse(t, smf.Encode(tc.p, "Étude"))
			assert.Equal(t, tc.ticks, ticks)
			assert.Equal(t, map[int64]int{0: 666667}, tempos) // 60 s / 90
			assert.Equal(t, tc.want, notes)
		})
	}
}

// files performs the reference scores, or skips.
func files(t *testing.T) map[string]*perf.Performance {
	t.Helper()
	dir := os.Getenv("AGREMENS_REFERENCE")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "..", "shared", "reference")
	}
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("no reference data at %s", dir)
	}
	paths, err := filepath.Glob(filepath.Join(dir, "scores", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	out := map[string]*perf.Performance{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		r, err := musicxml.Decode(data, nil)
		require.NoError(t, err)
		out[filepath.Base(path)] = realize.Perform(realize.Read(r.Passage, realize.Taste{}), realize.PerformOptions{})
	}
	return out
}

// strikes are the keys of a performance by hand, each onset once.
func strikes(p *perf.Performance) int {
	type strike struct {
		hand  perf.Hand
		key   int
		onset music.Frac
	}
	seen := map[strike]bool{}
	for _, n := range p.Notes {
		seen[strike{n.Hand, n.Pitch.MIDI(), n.Onset}] = true
	}
	return len(seen)
}

func TestReferenceScores(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	for name, p := range files(t) {
		t.Run(name, func(t *testing.T) {
			_, _, notes := parse(t, smf.Encode(p, name))
			// Rounded ticks may join strikes that stand a hair apart.
			assert.InDelta(t, strikes(p), len(notes), 2)
		})
	}
}

// TestIndependentReader lets the npm package midi-file read what was written.
// Where it is installed is told by NODE_PATH, or a node_modules above.
func TestIndependentReader(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	const script = `const m=require('midi-file'),fs=require('fs');
const out=[];for(const f of process.argv.slice(1)){const s=m.parseMidi(fs.readFileSync(f));const notes=[];
s.tracks.forEach((track,i)=>{let at=0;const down={};for(const e of track){at+=e.deltaTime;
if(e.type=='noteOn'&&e.velocity>0)down[e.noteNumber]={Track:i,Key:e.noteNumber,Velocity:e.velocity,From:at};
else if(e.type=='noteOff'||e.type=='noteOn'){const n=down[e.noteNumber];n.To=at;notes.push(n);}}});
out.push({format:s.header.format,ticks:s.header.ticksPerBeat,notes});}console.log(JSON.stringify(out));`
	if err := exec.Command("node", "-e", "require('midi-file')").Run(); err != nil {
		t.Skip("node with the package midi-file is not installed")
	}
	for name, p := range files(t) {
		t.Run(name, func(t *testing.T) {
			data := smf.Encode(p, name)
			path := filepath.Join(t.TempDir(), "piece.mid")
			require.NoError(t, os.WriteFile(path, data, 0o644))
			out, err := exec.Command("node", "-e", script, path).Output()
			require.NoError(t, err)
			var read []struct {
				Format, Ticks int
				Notes         []heard
			}
			require.NoError(t, json.Unmarshal(out, &read))
			require.Len(t, read, 1)
			ticks, _, notes := parse(t, data)
			assert.Equal(t, 1, read[0].Format)
			assert.Equal(t, ticks, read[0].Ticks)
			assert.Equal(t, notes, read[0].Notes)
		})
	}
}
