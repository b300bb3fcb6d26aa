//go:build js

package dom

import "syscall/js"

// Installed reports whether the page runs from the home screen.
func Installed() bool {
	return global.Call("matchMedia", "(display-mode: standalone)").Get("matches").Bool() ||
		global.Get("navigator").Get("standalone").Truthy()
}

// CanInstall reports whether the browser has offered a place on the home
// screen; boot.js keeps its offer.
func CanInstall() bool { return global.Get("agremens").Get("install").Truthy() }

// OnInstallable calls f when the browser makes its offer.
func OnInstallable(f func()) {
	global.Call("addEventListener", "agremens-install", js.FuncOf(func(js.Value, []js.Value) any {
		go f()
		return nil
	}))
}

// Install lets the browser ask the user; each offer can be taken up once. It
// must be called while a press is being handled, or soon after.
func Install() error {
	offer := global.Get("agremens").Get("install")
	global.Get("agremens").Set("install", nil)
	return try(func() { offer.Call("prompt") })
}

// Coarse reports whether the device is worked with fingers.
func Coarse() bool { return global.Call("matchMedia", "(pointer: coarse)").Get("matches").Bool() }
