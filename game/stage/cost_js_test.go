//go:build js

package stage_test

import (
	"fmt"
	"image/color"
	"runtime"
	"slices"
	"strings"
	"syscall/js"
	"testing"

	"agremens/game/engrave"
	"agremens/game/stage"
	"agremens/realize"
	"agremens/realize/codec/abc"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"
)

// What a frame costs: go test -bench Frames, in Chromium, prints the table.
// The reference scores cannot be read there, so a passage of our own stands
// for their busiest places: 1,814 items on a page 125 spaces wide and 96 high
// (counted over all of them), 454 in 128 spaces of a run.
const (
	busiestPage = 1814
	busiestRun  = 454
)

// places is how many places of the scroll are drawn, one a frame.
const places = 100

// crowded is a passage of two hands in thirty-seconds, signs and chords.
func crowded(b *testing.B) (page, run *engrave.Layout) {
	b.Helper()
	var text strings.Builder
	text.WriteString("X:1\nM:4/4\nL:1/32\nQ:1/4=60\nK:Eb\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\n")
	right := "!trill![egbe'][^fac'][g=bd'][ac'e'] [egbe'].[fac']!mordent![gbd'][ac'f']"
	left := "[C,,E,,G,,C,][D,,F,,A,,][E,,G,,^B,,][F,,A,,C,] [C,,E,,G,,C,].[D,,F,,A,,][E,,G,,B,,][F,,A,,C,]"
	for voice, notes := range map[string]string{"R": right, "L": left} {
		fmt.Fprintf(&text, "[V:%s]", voice)
		for range 24 {
			text.WriteString(strings.Repeat(notes+" ", 4) + "|")
		}
		text.WriteString("\n")
	}
	p, _, err := abc.Decode(text.String())
	require.NoError(b, err)
	r := realize.Read(p, realize.Taste{})
	return engrave.Page(p, r, 125, engrave.Options{Played: true}), engrave.Run(p, r, engrave.Options{Played: true})
}

// BenchmarkFrames shows, beside an Ebiten program that draws nothing, the time
// that the page's thread spends on a frame and our share of it, and what is
// allocated: ours is the difference to the program that draws one cell.
func BenchmarkFrames(b *testing.B) {
	page, run := crowded(b)
	const scale, width, height = 8, 1024, 768
	inView := func(l *engrave.Layout, x, y float64) int {
		n := 0
		for i := range l.Items {
			box := l.Items[i].Bounds()
			if box.Right > x && box.Left < x+width/scale && box.Bottom > y && box.Top < y+height/scale {
				n++
			}
		}
		return n
	}
	require.GreaterOrEqual(b, inView(page, -2, 40), busiestPage)
	require.GreaterOrEqual(b, inView(run, 100, run.Top), busiestRun)
	var painter stage.Painter
	target := ebiten.NewImage(width, height)
	defer target.Deallocate()
	scroll := func(l *engrave.Layout, down float64) func(n int) {
		f := stage.Frame{Layout: l, Scale: scale, Theme: plain(), Playing: down == 0, Pinned: down == 0, Line: down == 0, LineX: 300, ScrollX: -2, ScrollY: l.Top}
		return func(n int) {
			at := float64(n % places)
			f.ScrollY = l.Top + at*down
			if down == 0 {
				f.ScrollX = 100 + at*0.13
			}
			painter.Paint(target, &f)
		}
	}
	b.Log("milliseconds a frame at p50, p95 and p99")
	for _, c := range []struct {
		name string
		draw func(n int)
	}{
		{"an empty Ebiten program", func(int) {}},
		{"one that fills and draws one cell", oneCell(target)},
		{fmt.Sprintf("the page, %d items in view", inView(page, -2, 40)), scroll(page, 0.25)},
		{fmt.Sprintf("the run, %d items in view", inView(run, 100, run.Top)), scroll(run, 0)},
	} {
		measure(c.draw, places) // every glyph and place is made once
		m := measure(c.draw, 2*places)
		b.Logf("%-32s whole %s   ours %s   %.1f allocations a frame", c.name, quantiles(m.whole), quantiles(m.ours), m.allocs)
	}
	for b.Loop() { // the figures are above
	}
}

// oneCell is the least that anything drawn takes of Ebiten: a frame filled and
// one call for triangles.
func oneCell(target *ebiten.Image) func(int) {
	paper := color.NRGBA{A: 0xff}
	texture := ebiten.NewImage(8, 8)
	vertices := []ebiten.Vertex{{ColorA: 1}, {DstX: 8, SrcX: 8, ColorA: 1}, {DstY: 8, SrcY: 8, ColorA: 1}}
	indices := []uint32{0, 1, 2}
	options := &ebiten.DrawTrianglesOptions{Filter: ebiten.FilterLinear, DisableMipmaps: true}
	return func(int) {
		target.Fill(&paper)
		target.DrawTriangles32(vertices, indices, texture, options)
	}
}

type measured struct {
	whole, ours []float64 // ms
	allocs      float64   // a frame, Ebiten's and the probe's included
}

// measure lets Ebiten draw so many frames.
func measure(draw func(n int), frames int) measured {
	m := measured{whole: make([]float64, 0, frames), ours: make([]float64, 0, frames)}
	now := js.Global().Get("performance").Get("now").Call("bind", js.Global().Get("performance"))
	done := make(chan bool)
	begun := 0.0
	// Runs when the browser has come out of Ebiten's callback.
	after := js.FuncOf(func(js.Value, []js.Value) any {
		m.whole = append(m.whole, now.Invoke().Float()-begun)
		return nil
	})
	// It is not released: the last frame's call may still be on its way.
	var before, end runtime.MemStats
	n := 0
	hook.Store(&hooks{
		update: func() {
			begun = now.Invoke().Float()
			js.Global().Call("queueMicrotask", after)
		},
		draw: func() {
			if n == 0 {
				runtime.ReadMemStats(&before)
			}
			from := now.Invoke().Float()
			draw(n)
			m.ours = append(m.ours, now.Invoke().Float()-from)
			if n++; n == frames {
				runtime.ReadMemStats(&end)
				hook.Store(nil)
				close(done)
			}
		},
	})
	<-done
	m.allocs = float64(end.Mallocs-before.Mallocs) / float64(frames-1)
	return m
}

func quantiles(ms []float64) string {
	s := slices.Clone(ms)
	slices.Sort(s)
	if len(s) == 0 {
		return "none"
	}
	at := func(q float64) float64 { return s[min(int(q*float64(len(s))), len(s)-1)] }
	return fmt.Sprintf("%5.2f %5.2f %5.2f", at(0.5), at(0.95), at(0.99))
}
