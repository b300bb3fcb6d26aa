//go:build js

package dom

import (
	"strconv"
	"strings"
	"syscall/js"
)

// StageSize returns the staff's place in CSS pixels.
func StageSize() (width, height float64) {
	stage, ok := element("stage")
	if !ok {
		return 0, 0
	}
	return stage.Get("clientWidth").Float(), stage.Get("clientHeight").Float()
}

// DevicePixelRatio returns device pixels per CSS pixel.
func DevicePixelRatio() float64 { return global.Get("devicePixelRatio").Float() }

// TextSize is how large text is beside what is usual, 1 for 16 pixels.
func TextSize() float64 {
	size, err := strconv.ParseFloat(strings.TrimSuffix(global.Call("getComputedStyle", root).Get("fontSize").String(), "px"), 64)
	if err != nil {
		return 1
	}
	return size / 16
}

// PreferDark reports whether the user asks for dark paper.
func PreferDark() bool { return media("(prefers-color-scheme: dark)") }

// MoreContrast reports whether the user asks for more contrast.
func MoreContrast() bool {
	return media("(prefers-contrast: more)") || media("(forced-colors: active)")
}

// ReducedMotion reports whether the user asks for less motion.
func ReducedMotion() bool { return media("(prefers-reduced-motion: reduce)") }

// Glass reports whether there is a touch screen.
func Glass() bool { return media("(any-pointer: coarse)") }

func media(query string) bool { return global.Call("matchMedia", query).Get("matches").Truthy() }

// OnLook calls f when the user's wish for dark paper, contrast or less motion
// changes, and when the stage or the pixel ratio changes size.
func OnLook(f func()) {
	handler := js.FuncOf(func(js.Value, []js.Value) any { f(); return nil })
	for _, q := range []string{"(prefers-color-scheme: dark)", "(prefers-contrast: more)", "(forced-colors: active)", "(prefers-reduced-motion: reduce)"} {
		global.Call("matchMedia", q).Call("addEventListener", "change", handler)
	}
	global.Call("addEventListener", "resize", handler)
}

// OnHidden calls f when the page is hidden or comes back.
func OnHidden(f func(hidden bool)) {
	document.Call("addEventListener", "visibilitychange", js.FuncOf(func(js.Value, []js.Value) any {
		f(document.Get("hidden").Truthy())
		return nil
	}))
}

var lock struct {
	wanted   bool
	sentinel js.Value
	watching bool
}

// WakeLock keeps the screen on, or lets it go dark again. Where the browser
// knows no such thing nothing happens.
func WakeLock(on bool) {
	lock.wanted = on
	if !global.Get("navigator").Get("wakeLock").Truthy() {
		return
	}
	if !lock.watching {
		lock.watching = true
		// The browser lets go by itself when the page is hidden.
		OnHidden(func(hidden bool) {
			if !hidden && lock.wanted {
				lock.sentinel = js.Value{}
				go holdScreen()
			}
		})
	}
	go holdScreen()
}

func holdScreen() {
	switch {
	case lock.wanted && lock.sentinel.IsUndefined():
		s, err := await(global.Get("navigator").Get("wakeLock").Call("request", "screen"))
		if err != nil {
			return // low battery or a hidden page: the round goes on
		}
		lock.sentinel = s
		if !lock.wanted {
			holdScreen()
		}
	case !lock.wanted && !lock.sentinel.IsUndefined():
		s := lock.sentinel
		lock.sentinel = js.Value{}
		_, _ = await(s.Call("release"))
	}
}
