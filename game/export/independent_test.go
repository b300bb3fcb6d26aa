package export_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/export"
	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/perf"
)

// readings of all reference scores, by name, or skips.
func readings(t *testing.T) map[string]*realize.Reading {
	t.Helper()
	folder := os.Getenv("AGREMENS_REFERENCE")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "shared", "reference")
	}
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("no reference data at %s", folder)
	}
	files, err := filepath.Glob(filepath.Join(folder, "scores", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	if testing.Short() {
		files = files[:min(len(files), 4)]
	}
	all := map[string]*realize.Reading{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		r, err := musicxml.Decode(data, nil)
		require.NoError(t, err)
		all[strings.TrimSuffix(filepath.Base(file), ".musicxml")] = realize.Read(r.Passage, realize.Taste{})
	}
	return all
}

func installed(t *testing.T, program string, args ...string) {
	t.Helper()
	if err := exec.Command(program, args...).Run(); err != nil {
		t.Skipf("%s %v does not run here: %v", program, args, err)
	}
}

// TestMIDIReadBack lets the npm package midi-file read every score's MIDI and
// compares it with what the performance holds: format 1, the hands on two
// tracks, every key at its onset, the ornaments' too, at the piece's tempo.
func TestMIDIReadBack(t *testing.T) {
	if os.Getenv("NODE_PATH") == "" {
		modules, err := filepath.Abs(filepath.Join("..", "..", "web", "e2e", "node_modules"))
		require.NoError(t, err)
		t.Setenv("NODE_PATH", modules)
	}
	installed(t, "node", "-e", "require.resolve('midi-file')")
	const script = `const m=require('midi-file'),fs=require('fs'),out={};
for(const f of process.argv.slice(1)){const s=m.parseMidi(fs.readFileSync(f));const notes=[],tempos=[];
s.tracks.forEach((track,i)=>{let at=0;for(const e of track){at+=e.deltaTime;
if(e.type=='noteOn'&&e.velocity>0)notes.push([i,e.noteNumber,at]);
if(e.type=='setTempo')tempos.push([at,e.microsecondsPerBeat]);}});
out[f]={format:s.header.format,tracks:s.tracks.length,ticks:s.header.ticksPerBeat,notes,tempos};}console.log(JSON.stringify(out));`
	dir, all := t.TempDir(), readings(t)
	args := []string{"-e", script}
	for name, r := range all {
		data, err := export.Write("midi", r, export.Options{})
		require.NoError(t, err)
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, data, 0o644))
		args = append(args, path)
	}
	out, err := exec.Command("node", args...).Output()
	require.NoError(t, err)
	var read map[string]struct {
		Format, Tracks, Ticks int
		Notes                 [][3]int
		Tempos                [][2]float64
	}
	require.NoError(t, json.Unmarshal(out, &read))
	require.Len(t, read, len(all))
	struck := 0
	for name, r := range all {
		got := read[filepath.Join(dir, name)]
		assert.Equal(t, []int{1, 3}, []int{got.Format, got.Tracks}, name)
		p := export.Performance(r, export.Options{To: len(r.Passage.Measures)})
		lead := music.Frac{}
		for _, n := range p.Notes {
			lead = lead.Max(music.Int(-n.Onset.Floor()))
		}
		want := map[[3]int]bool{}
		for _, n := range p.Notes {
			track := 1
			if n.Hand == perf.Left {
				track = 2
			}
			want[[3]int{track, n.Pitch.MIDI(), int(math.Round(n.Onset.Add(lead).Float() * float64(got.Ticks)))}] = true
		}
		heard := map[[3]int]bool{}
		for _, n := range got.Notes {
			heard[n] = true
			assert.True(t, want[n], "%s: MIDI alone has %v", name, n)
		}
		for n := range want {
			assert.True(t, heard[n], "%s: MIDI has not %v", name, n)
		}
		struck += len(want)
		require.NotEmpty(t, got.Tempos, name)
		assert.InDelta(t, p.Tempo.At(p.Start), 60e6/got.Tempos[0][1], 0.01, name)
	}
	if !testing.Short() {
		assert.Greater(t, struck, 40_000)
	}
}

// TestWAVMeasured lets sox measure two bars of every score at half the tempo.
func TestWAVMeasured(t *testing.T) {
	installed(t, "sox", "--version")
	dir := t.TempDir()
	for name, r := range readings(t) {
		o := export.Options{From: 1, To: 3, Percent: 50, Instrument: "click"}
		data, err := export.Write("wav", r, o)
		require.NoError(t, err)
		path := filepath.Join(dir, "a.wav")
		require.NoError(t, os.WriteFile(path, data, 0o644))
		info, err := exec.Command("sox", "--info", path).CombinedOutput()
		require.NoError(t, err, string(info))
		assert.Regexp(t, `Channels\s*: 2\n`, string(info))
		assert.Regexp(t, `Sample Rate\s*: 48000\n`, string(info))
		assert.Regexp(t, `Sample Encoding: 16-bit Signed Integer PCM\n`, string(info))
		stat, err := exec.Command("sox", path, "-n", "stat").CombinedOutput()
		require.NoError(t, err, string(stat))
		value := func(label string) float64 {
			m := regexp.MustCompile(regexp.QuoteMeta(label) + `:\s+([-0-9.]+)`).FindSubmatch(stat)
			require.NotNil(t, m, "%s in %s", label, stat)
			x, err := strconv.ParseFloat(string(m[1]), 64)
			require.NoError(t, err)
			return x
		}
		p := export.Performance(r, o)
		end := p.End
		for _, n := range p.Notes {
			end = end.Max(n.End())
		}
		lead := 0.0
		for _, n := range p.Notes {
			lead = max(lead, -p.Tempo.Seconds(n.Onset))
		}
		assert.InDelta(t, lead+p.Tempo.Seconds(end), value("Length (seconds)"), 0.2, name)
		assert.Greater(t, value("Maximum amplitude"), 0.01, "%s is heard", name)
		assert.Less(t, value("Maximum amplitude"), 1.0, "%s is not clipped", name)
	}
}

// TestSVGParsed lets Chromium read pictures of all scores: each must be an
// image without a parser's complaint and with shapes in it.
func TestSVGParsed(t *testing.T) {
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("chromium is not installed")
	}
	pictures := map[string]string{}
	for name, r := range readings(t) {
		from := len(r.Passage.Measures) / 2
		svg, err := export.Write("svg", r, export.Options{From: from, To: min(from+4, len(r.Passage.Measures)), Played: true})
		require.NoError(t, err)
		pictures[name] = string(svg)
	}
	list, err := json.Marshal(pictures)
	require.NoError(t, err)
	page := fmt.Sprintf(`<!doctype html><meta charset="utf-8"><pre id="out"></pre><script>
const out = {}, pictures = %s;
for (const [name, text] of Object.entries(pictures)) {
  const doc = new DOMParser().parseFromString(text, 'image/svg+xml');
  const box = document.body.appendChild(document.importNode(doc.documentElement, true));
  out[name] = [doc.documentElement.localName, doc.querySelectorAll('parsererror').length, doc.querySelectorAll('path,use,rect,line,polygon').length, Math.round(box.getBBox ? box.getBBox().width : 0)];
  box.remove();
}
document.getElementById('out').textContent = '<<' + JSON.stringify(out) + '>>';
document.querySelectorAll('script').forEach(s => s.remove());
</script>`, strings.ReplaceAll(string(list), "</", `<\/`))
	path := filepath.Join(t.TempDir(), "all.html")
	require.NoError(t, os.WriteFile(path, []byte(page), 0o644))
	dom, err := exec.Command(chromium, "--headless", "--no-sandbox", "--disable-gpu", "--dump-dom", "--user-data-dir="+t.TempDir(), "file://"+path).Output()
	require.NoError(t, err)
	m := regexp.MustCompile(`&lt;&lt;(.*)&gt;&gt;`).FindSubmatch(dom)
	require.NotNil(t, m, "%.500s", dom)
	var read map[string][4]any
	require.NoError(t, json.Unmarshal(m[1], &read))
	require.Len(t, read, len(pictures))
	var names []string
	for name, got := range read {
		names = append(names, name)
		assert.Equal(t, "svg", got[0], name)
		assert.Zero(t, got[1], name)
		assert.Greater(t, got[2], 50.0, name)
		assert.Greater(t, got[3], 20.0, name)
	}
	slices.Sort(names)
	t.Log(len(names), "pictures")
}
