package tone

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
)

// Source is where recordings of an instrument come from: a soundfont's program,
// or the layers of a sampled grand from npm.
type Source struct {
	Name    string
	Of      string // what was recorded: "piano", "harpsichord", "organ"
	font    string // file; "" is the grand from npm
	bank    int
	program int
	Judge   bool // only judges; nothing is fitted to it
}

const (
	fluid     = "/usr/share/sounds/sf2/FluidR3_GM.sf2"        // Debian fluid-soundfont-gm; MIT
	musescore = "/usr/share/sounds/sf3/MuseScore_General.sf3" // Debian musescore-general-soundfont; MIT
	timgm     = "/usr/share/sounds/sf2/TimGM6mb.sf2"          // Debian timgm6mb-soundfont; GPL: compared with only
)

// Sources are the recordings there are. The first is Alexander Holm's Salamander
// Grand (CC BY 3.0, npm @audio-samples/piano-velocity*), with which the third shares
// samples. MuseScore's harpsichord and organ are
// Fluid's, and Fluid's coupled harpsichord is its single one twice: the mean between
// recordings is that much too small. No recordings of a
// clavichord, an early fortepiano or a chamber organ under an open licence were
// found: the organs here are churches'.
var Sources = []Source{
	{Name: "salamander", Of: "piano"},
	{Name: "fluid", Of: "piano", font: fluid},
	{Name: "musescore", Of: "piano", font: musescore},
	{Name: "timgm", Of: "piano", font: timgm, Judge: true},
	{Name: "fluid harpsichord", Of: "harpsichord", font: fluid, program: 6},
	{Name: "fluid harpsichord, coupled", Of: "harpsichord", font: fluid, bank: 8, program: 6},
	{Name: "timgm harpsichord", Of: "harpsichord", font: timgm, program: 6},
	{Name: "fluid church organ", Of: "organ", font: fluid, program: 19},
	{Name: "fluid church organ 2", Of: "organ", font: fluid, bank: 8, program: 19},
	{Name: "timgm church organ", Of: "organ", font: timgm, program: 19},
}

// strengths are those at which a source is recorded: harpsichord and organ do not
// know them.
func (s Source) strengths() []float64 {
	if s.Of == "piano" {
		return Strengths[:]
	}
	return Strengths[1:2]
}

// Of returns what was recorded of an instrument. Sources that only judge come
// apart.
func Of(what string, judges bool) []Source {
	var out []Source
	for _, s := range Sources {
		if s.Of == what && s.Judge == judges {
			out = append(out, s)
		}
	}
	return out
}

// Bank gives recorded notes, making them in a folder when first asked.
type Bank struct{ Folder string }

// layers are the grand's layers and the highest velocity each is for, as its own
// instrument file gives them.
var layers = [...]struct{ layer, top int }{{4, 43}, {8, 64}, {12, 94}, {16, 127}}

// Make records what is not yet in the folder of a source's keys, each at all
// strengths.
func (b Bank) Make(s Source, keys []int) error {
	var lacking []Struck
	at := 0.1
	for _, key := range keys {
		for _, strength := range s.strengths() {
			if _, err := os.Stat(b.file(s, key, velocity(strength))); err == nil {
				continue
			}
			if s.font != "" {
				lacking = append(lacking, Struck{key, velocity(strength), at, at + seconds})
				at += seconds + 0.7
				continue
			}
			x, err := b.grand(key, velocity(strength))
			if err == nil {
				err = b.keep(s, key, velocity(strength), x)
			}
			if err != nil {
				return err
			}
		}
	}
	if len(lacking) == 0 {
		return nil
	}
	x, err := b.Played(s, lacking, at)
	if err != nil {
		return err
	}
	for _, n := range lacking {
		from := int((n.From - 0.02) * Rate)
		if err := b.keep(s, n.Key, n.Velocity, x[from:from+int((seconds+0.02)*Rate)]); err != nil {
			return err
		}
	}
	return nil
}

func (b Bank) file(s Source, key, velocity int) string {
	return filepath.Join(b.Folder, "notes", fmt.Sprintf("%s-%d-%d.f32", s.Name, key, velocity))
}

// keep stores a note from its attack on.
func (b Bank) keep(s Source, key, velocity int, x []float64) error {
	x = fromAttack(x)
	return writeFloats(b.file(s, key, velocity), x[:min(len(x), int(seconds*Rate))])
}

// Note is a key that Make has recorded, both sides together.
func (b Bank) Note(s Source, key int, strength float64) ([]float64, error) {
	return readFloats(b.file(s, key, velocity(strength)))
}

// Struck is a key held between two times in seconds.
type Struck struct {
	Key, Velocity int
	From, To      float64
}

// Played lets a soundfont play keys, without reverberation and chorus, and
// returns so many seconds, both sides together.
func (b Bank) Played(s Source, notes []Struck, length float64) ([]float64, error) {
	if err := os.MkdirAll(b.Folder, 0o755); err != nil {
		return nil, err
	}
	midi, wav := filepath.Join(b.Folder, "play.mid"), filepath.Join(b.Folder, "play.wav")
	if err := os.WriteFile(midi, midiFile(s, notes, length), 0o644); err != nil {
		return nil, err
	}
	out, err := exec.Command("fluidsynth", "-q", "-n", "-i", "-R", "0", "-C", "0", "-g", "0.6", "-r", fmt.Sprint(Rate),
		"-F", wav, "-T", "wav", "-O", "float", s.font, midi).CombinedOutput()
	if err != nil {
		return nil, fmt.Errorf("fluidsynth (Debian packages fluidsynth, fluid-soundfont-gm, musescore-general-soundfont): %w\n%s", err, out)
	}
	defer os.Remove(wav)
	return decode(wav)
}

// grand returns a key of the sampled grand, resampled from the nearest of its
// keys, a semitone away at most.
func (b Bank) grand(key, velocity int) ([]float64, error) {
	layer := layers[len(layers)-1].layer
	for i := len(layers) - 1; i >= 0; i-- {
		if velocity <= layers[i].top {
			layer = layers[i].layer
		}
	}
	near := (key + 1) / 3 * 3 // C, D sharp, F sharp and A
	octave := near/12 - 1
	file := fmt.Sprintf("%s%dv%d.ogg", [...]string{"C", "D#", "F#", "A"}[near%12/3], octave, layer)
	folder := filepath.Join(b.Folder, fmt.Sprintf("grand-%d", layer))
	if _, err := os.Stat(folder); err != nil {
		if err := b.fetch(layer, folder); err != nil {
			return nil, err
		}
	}
	x, err := decode(filepath.Join(folder, "package", "audio", file))
	if err != nil || near == key {
		return x, err
	}
	return resampled(x, math.Exp2(float64(key-near)/12)), nil
}

// fetch gets one layer of the grand from npm.
func (b Bank) fetch(layer int, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	name := fmt.Sprintf("@audio-samples/piano-velocity%d@1.0.5", layer)
	pack := exec.Command("npm", "pack", "--silent", name)
	pack.Dir = folder
	if out, err := pack.CombinedOutput(); err != nil {
		return fmt.Errorf("npm pack %s: %w\n%s", name, err, out)
	}
	unpack := exec.Command("tar", "xzf", fmt.Sprintf("audio-samples-piano-velocity%d-1.0.5.tgz", layer))
	unpack.Dir = folder
	return unpack.Run()
}

// resampled plays x faster by a factor, by cubic interpolation.
func resampled(x []float64, faster float64) []float64 {
	out := make([]float64, 0, len(x))
	for at := 1.0; int(at)+2 < len(x); at += faster {
		i := int(at)
		f := at - float64(i)
		a, b, c, d := x[i-1], x[i], x[i+1], x[i+2]
		out = append(out, b+0.5*f*(c-a+f*(2*a-5*b+4*c-d+f*(3*(b-c)+d-a))))
	}
	return out
}

// decode reads any sound file with sox, both sides together.
func decode(name string) ([]float64, error) {
	out, err := exec.Command("sox", name, "-t", "raw", "-e", "float", "-b", "32", "-L", "-c", "1", "-r", fmt.Sprint(Rate), "-").Output()
	if err != nil {
		return nil, fmt.Errorf("sox %s: %w", name, err)
	}
	return floats(out), nil
}

func floats(raw []byte) []float64 {
	x := make([]float64, len(raw)/4)
	for i := range x {
		x[i] = float64(math.Float32frombits(binary.LittleEndian.Uint32(raw[4*i:])))
	}
	return x
}

func readFloats(name string) ([]float64, error) {
	raw, err := os.ReadFile(name)
	return floats(raw), err
}

func writeFloats(name string, x []float64) error {
	raw := make([]byte, 0, 4*len(x))
	for _, s := range x {
		raw = binary.LittleEndian.AppendUint32(raw, math.Float32bits(float32(s)))
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	return os.WriteFile(name, raw, 0o644)
}
