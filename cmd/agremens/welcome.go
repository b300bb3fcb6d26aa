package main

import (
	"bytes"
	"fmt"

	"agremens/assets"
	"agremens/game/engrave"
	"agremens/realize"
	"agremens/realize/codec/abc"
)

// How the first built-in passage looks while the program is on its way: its
// first bars, in spaces of the staff and CSS pixels. The style makes the
// picture no wider than its column.
const (
	welcomeBars  = 4
	welcomeWidth = 76
	welcomeSpace = 8
)

// drawWelcome writes the opening of the first built-in passage into the page,
// as the program would engrave it, in the page's own ink.
func drawWelcome(files map[string][]byte) error {
	place := []byte("<!-- the first passage -->")
	if bytes.Count(files["index.html"], place) != 1 {
		return fmt.Errorf("web/index.html has no %s to put the first passage in", place)
	}
	passage, _, err := abc.Decode(assets.Passages()[0].ABC)
	if err != nil {
		return err
	}
	reading := realize.Read(passage, realize.Taste{})
	layout := engrave.Page(passage, reading, welcomeWidth, engrave.Options{To: welcomeBars, Played: true})
	options := engrave.SVGOptions{Space: welcomeSpace}
	for layer := range options.Ink {
		options.Ink[layer] = "currentColor"
	}
	files["index.html"] = bytes.Replace(files["index.html"], place, engrave.SVG(layout, options), 1)
	return nil
}
