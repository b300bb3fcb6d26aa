package main

import (
	"errors"

	"agremens/game/engrave"
	"agremens/realize/codec/abc"
)

// pageWidth of an SVG, in staff spaces.
const pageWidth = 110

func writeSVG(w written) ([]byte, error) {
	p := w.reading.Passage
	layout := engrave.Page(p, w.reading, pageWidth, engrave.Options{From: w.from, To: w.to, Played: true})
	return engrave.SVG(layout, engrave.SVGOptions{Paper: "white", Title: p.Title}), nil
}

func writeABC(w written) ([]byte, error) {
	if w.request.measures != "" {
		return nil, errors.New("abc holds the whole passage — leave -measures away")
	}
	return []byte(abc.Encode(w.reading.Passage)), nil
}
