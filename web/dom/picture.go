//go:build js

package dom

import (
	"strconv"
	"syscall/js"
)

// Picture is a small drawing in one colour, that of the text around it.
type Picture struct {
	// Paths are outlines in the path language of SVG, each filled by itself.
	Paths []string
	// Left, Top, Width and Height are the part of the plane that is shown.
	Left, Top, Width, Height float64
	Unit                     float64 // CSS pixels to one of the plane
}

const svgNames = "http://www.w3.org/2000/svg"

// drawing makes the picture's element; it says nothing to a screen reader,
// which has the words beside it.
func (p *Picture) drawing() js.Value {
	svg := document.Call("createElementNS", svgNames, "svg")
	svg.Call("setAttribute", "viewBox", plain(p.Left)+" "+plain(p.Top)+" "+plain(p.Width)+" "+plain(p.Height))
	svg.Call("setAttribute", "width", plain(p.Width*p.Unit))
	svg.Call("setAttribute", "height", plain(p.Height*p.Unit))
	svg.Call("setAttribute", "aria-hidden", "true")
	svg.Call("setAttribute", "focusable", "false")
	for _, d := range p.Paths {
		path := document.Call("createElementNS", svgNames, "path")
		path.Call("setAttribute", "d", d)
		svg.Call("append", path)
	}
	return svg
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// SetPicture fills an element with a picture; nil empties it.
func SetPicture(id string, p *Picture) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	if p != nil && len(p.Paths) > 0 {
		e.Call("append", p.drawing())
	}
}
