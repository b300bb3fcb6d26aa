package main

import (
	"errors"

	"agremens/game/engrave"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
)

// pageWidth of an SVG, in staff spaces.
const pageWidth = 110

func writeSVG(w written) ([]byte, error) {
	p := w.reading.Passage
	layout := engrave.Page(p, w.reading, pageWidth, engrave.Options{From: w.from, To: w.to, Played: true})
	return engrave.SVG(layout, engrave.SVGOptions{Paper: "white", Title: p.Title}), nil
}

// errWhole refuses an excerpt in a format that holds the whole passage.
var errWhole = errors.New("this format holds the whole passage — leave -measures away")

// writeMusicXML writes the passage with its ornaments as they are played.
func writeMusicXML(w written) ([]byte, error) {
	if w.request.measures != "" {
		return nil, errWhole
	}
	return musicxml.EncodeRealized(w.reading)
}

// writeABC writes the passage with its signs.
func writeABC(w written) ([]byte, error) {
	if w.request.measures != "" {
		return nil, errWhole
	}
	return []byte(abc.Encode(w.reading.Passage)), nil
}
