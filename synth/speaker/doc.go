// Package speaker plays the engine's sound on the device, through oto. It
// exists in the browser only; elsewhere there is nothing to play on.
package speaker
