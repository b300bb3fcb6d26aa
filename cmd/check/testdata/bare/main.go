//go:build js

// Command bare is what ours is measured against: a frame filled with one
// colour by Ebiten and silence played by oto, and nothing else.
package main

import (
	"image/color"
	"time"

	"github.com/ebitengine/oto/v3"
	"github.com/hajimehoshi/ebiten/v2"
)

type game struct{}

func (game) Update() error              { return nil }
func (game) Draw(screen *ebiten.Image)  { screen.Fill(color.White) }
func (game) Layout(w, h int) (int, int) { return w, h }

type silence struct{}

func (silence) Read(p []byte) (int, error) { clear(p); return len(p), nil }

func main() {
	context, _, err := oto.NewContext(&oto.NewContextOptions{
		SampleRate: 48000, ChannelCount: 2, Format: oto.FormatFloat32LE,
		BufferSize: 8192 * time.Second / 48000,
	})
	if err != nil {
		panic(err)
	}
	context.NewPlayer(silence{}).Play()
	if err := ebiten.RunGame(game{}); err != nil {
		panic(err)
	}
}
