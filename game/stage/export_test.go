package stage

import "agremens/game/engrave"

// Layers is the number of layers.
const Layers = layers

// Visible finds the items of a layer in view.
func Visible(items []engrave.Item, layer int, left, right, top, bottom float32) []int32 {
	return sortItems(items).appendVisible(nil, layer, view{left, right, top, bottom})
}

// Packer returns the place method of a new packer.
func Packer(size int) func(width, height int) (x, y int, ok bool) {
	p := &packer{size: size}
	return p.place
}
