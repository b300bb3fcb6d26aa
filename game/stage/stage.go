//go:build js

package stage

import "github.com/hajimehoshi/ebiten/v2"

// game is what Ebiten calls.
type game struct {
	source        func() Frame
	frame         Frame
	painter       painter
	width, height float64 // device pixels
}

// current is the running game; Ebiten allows one.
var current *game

// Start draws what source returns, whenever [Refresh] asks for it and
// continuously while a frame says that it is playing. It does not return
// until the program ends.
func Start(source func() Frame) error {
	current = &game{source: source}
	ebiten.SetScreenClearedEveryFrame(false) // every frame covers all of it
	//lint:ignore SA1019 nothing else leaves an idle page undrawn
	ebiten.SetFPSMode(ebiten.FPSModeVsyncOffMinimum)
	return ebiten.RunGameWithOptions(current, &ebiten.RunGameOptions{
		InitUnfocused:     true,
		ScreenTransparent: true,
	})
}

// Refresh asks for one frame.
//
//lint:ignore SA1019 it belongs to FPSModeVsyncOffMinimum
func Refresh() { ebiten.ScheduleFrame() }

// Size returns the stage in device pixels; 0, 0 before the first frame.
func Size() (width, height float64) {
	if current == nil {
		return 0, 0
	}
	return current.width, current.height
}

// Update does nothing: time is the source's.
func (g *game) Update() error { return nil }

// Layout is not called; LayoutF is.
func (g *game) Layout(int, int) (int, int) { panic("stage: Layout called") }

// LayoutF makes a pixel of ours one of the screen's. The factor is that of
// the page's opening; the page reports a size that makes up for later zoom.
func (g *game) LayoutF(width, height float64) (float64, float64) {
	s := ebiten.Monitor().DeviceScaleFactor()
	g.width, g.height = max(1, width*s), max(1, height*s)
	return g.width, g.height
}

// Draw shows the moment.
func (g *game) Draw(screen *ebiten.Image) {
	g.frame = g.source()
	g.painter.paint(&g.frame, g.width, g.height)
	g.painter.draw(screen)
	if g.frame.Playing {
		Refresh()
	}
}
