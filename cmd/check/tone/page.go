package tone

import (
	"fmt"
	"html"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"

	"agremens/synth"
	"agremens/synth/tuning"
)

// pictured are the keys whose spectra and decays the page shows.
var pictured = [...]int{36, 48, 60, 72, 84}

// colours are ours, then the recordings'.
var colours = [...]string{"#000", "#c33", "#37b", "#3a5", "#a6a"}

// page writes one page to look at and to hear: for every instrument spectra and
// decays beside the recordings, and two passages with their pictures.
func (b Bank) page(name string) error {
	var out strings.Builder
	out.WriteString(`<!DOCTYPE html><meta charset="utf-8"><title>Sounds</title>
<style>body{font:15px sans-serif;margin:2em}svg{background:#fafafa;margin:2px}img{width:720px;height:200px}figure{display:inline-block;margin:4px}figcaption{font-size:12px}</style>
<h1>Sounds beside recordings</h1><p>Black is ours. Spectra: dB in 40 bands from 60 Hz to 12 kHz over the first half second. Decays: dB over 2.5 s. Levels are made equal.</p>
`)
	for _, i := range instruments() {
		fmt.Fprintf(&out, "<h2>%s</h2>\n", html.EscapeString(i.Name))
		sources := Of(recordedAs[i.Key], false)
		if len(sources) == 0 {
			out.WriteString("<p>Nothing recorded to compare with.</p>\n")
		}
		for n, s := range sources {
			fmt.Fprintf(&out, `<span style="color:%s">%s</span> `, colours[n+1], html.EscapeString(s.Name))
		}
		out.WriteString("<br>\n")
		for _, key := range pictured {
			sounds := [][]float64{held(string(i.Key), key, Strengths[1])}
			for _, s := range sources {
				x, err := b.Note(s, key, Strengths[1])
				if err != nil {
					return err
				}
				sounds = append(sounds, x)
			}
			fmt.Fprintf(&out, "<figure>%s<br>%s<figcaption>key %d</figcaption></figure>\n", lines(sounds, spectrumLine), lines(sounds, decayLine), key)
		}
		for n, seq := range []synth.Sequence{Passage(), Chords()} {
			file := fmt.Sprintf("%s-%d", i.Key, n+1)
			stereo := synth.RenderSequence(Rate, i.Key, tuning.Tuning{}, seq)
			if err := os.WriteFile(filepath.Join(b.Folder, file+".wav"), synth.WAV(Rate, stereo), 0o644); err != nil {
				return err
			}
			if err := spectrogram(filepath.Join(b.Folder, file+".png"), stereo); err != nil {
				return err
			}
			fmt.Fprintf(&out, `<p><img src="%s.png" alt=""><br><audio controls src="%s.wav"></audio></p>`+"\n", file, file)
		}
	}
	return os.WriteFile(name, []byte(out.String()), 0o644)
}

// Chords is the second passage: chords, a bass and repeated notes.
func Chords() synth.Sequence {
	const quarter = Rate / 2
	var notes []synth.Note
	for bar, chord := range [][4]int{{36, 60, 64, 67}, {41, 60, 65, 69}, {43, 59, 65, 67}, {36, 60, 64, 72}} {
		at := int64(bar * 2 * quarter)
		for _, key := range chord {
			notes = append(notes, synth.Note{Start: at, End: at + quarter*3/2, Key: key, Strength: 0.6})
		}
		for i := range 5 {
			start := at + quarter + int64(i*quarter/5)
			notes = append(notes, synth.Note{Start: start, End: start + quarter/6, Key: 79, Strength: 0.5 + 0.1*float32(i)})
		}
	}
	return synth.Sequence{Notes: notes, Length: 9 * quarter}
}

// spectrumLine is a sound's level in each band over its first half second.
func spectrumLine(x []float64) []float64 {
	m := MelOf(x)
	line := make([]float64, bands)
	for b := range line {
		for f := range 20 {
			line[b] += math.Pow(10, m[f][b]/10) / 20
		}
		line[b] = 10 * math.Log10(line[b])
	}
	return line
}

// decayLine is its level every 20 ms over 2.5 s.
func decayLine(x []float64) []float64 {
	env := levels(x[:min(len(x), int(compare*Rate))], Rate/50)
	for i := range env {
		env[i] = 20 * math.Log10(env[i]+1e-9)
	}
	return env
}

// lines draws a line for each sound, their maxima at the top and 60 dB below.
func lines(sounds [][]float64, of func([]float64) []float64) string {
	const width, height = 260, 130
	var svg strings.Builder
	fmt.Fprintf(&svg, `<svg width="%d" height="%d">`, width, height)
	for n := len(sounds) - 1; n >= 0; n-- {
		line := of(sounds[n])
		top := math.Inf(-1)
		for _, l := range line {
			top = max(top, l)
		}
		fmt.Fprintf(&svg, `<polyline fill="none" stroke="%s" stroke-width="%.1f" points="`, colours[n], 1+0.8*float64(count(n == 0)))
		for i, l := range line {
			fmt.Fprintf(&svg, "%.0f,%.0f ", float64(i)*width/float64(len(line)), min(height, 4+(top-l)*(height-8)/60))
		}
		svg.WriteString(`"/>`)
	}
	return svg.String() + "</svg>"
}

// spectrogram writes a picture of both sides together, low notes at the bottom.
func spectrogram(name string, stereo []float32) error {
	const step, size, rows = Rate / 100, 4096, 200
	x := make([]float64, len(stereo)/2)
	for i := range x {
		x[i] = float64(stereo[2*i]+stereo[2*i+1]) / 2
	}
	frames := len(x) / step
	img := image.NewGray(image.Rect(0, 0, frames, rows))
	buf := make([]complex128, size)
	for f := range frames {
		spectrum(buf, x, f*step-size/2)
		for row := range rows {
			hz := 50 * math.Pow(12000.0/50, float64(row)/rows)
			p := buf[int(hz*size/Rate)]
			db := 10 * math.Log10(real(p)*real(p)+imag(p)*imag(p)+1e-12)
			img.SetGray(f, rows-1-row, color.Gray{Y: uint8(255 - min(255, max(0, (db+40)*255/90)))})
		}
	}
	out, err := os.Create(name)
	if err != nil {
		return err
	}
	defer out.Close()
	return png.Encode(out, img)
}
