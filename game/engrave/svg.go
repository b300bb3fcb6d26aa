package engrave

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"agremens/assets/font"
)

// SVGOptions say how [SVG] draws.
type SVGOptions struct {
	// Space is the size of a staff space in user units (CSS pixels); 0 is 10.
	Space float64
	// Paper fills the background; "" leaves it clear.
	Paper string
	// Ink holds the colour of each layer; "" takes black.
	Ink [LayerMark + 1]string
	// Title is what a screen reader says.
	Title string
	// Head draws a run's pinned head before it.
	Head bool
}

// SVG draws a layout as a self-contained SVG 1.1 document: outlines only, no
// fonts, scripts or references to elsewhere.
func SVG(l *Layout, o SVGOptions) []byte {
	if o.Space <= 0 {
		o.Space = 10
	}
	const margin = 1
	left := l.Left - margin
	if o.Head {
		left -= l.HeadWidth
	}
	w, h := l.Right+margin-left, l.Bottom-l.Top+2*margin
	d := &svg{glyphs: map[font.Glyph]bool{}}
	fmt.Fprintf(&d.b, `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="%s" height="%s" viewBox="%s %s %s %s" role="img">`+"\n",
		num(w*o.Space), num(h*o.Space), num(left), num(l.Top-margin), num(w), num(h))
	if o.Title != "" {
		fmt.Fprintf(&d.b, "<title>%s</title>\n", escape(o.Title))
	}
	if o.Paper != "" {
		fmt.Fprintf(&d.b, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`+"\n", num(left), num(l.Top-margin), num(w), num(h), escape(o.Paper))
	}
	d.define(l.Items)
	if o.Head {
		d.define(l.Head)
		fmt.Fprintf(&d.b, `<g transform="translate(%s 0)">`+"\n", num(left))
		d.layers(l.Head, o)
		d.b.WriteString("</g>\n")
	}
	d.layers(l.Items, o)
	d.b.WriteString("</svg>\n")
	return d.b.Bytes()
}

type svg struct {
	b      bytes.Buffer
	glyphs map[font.Glyph]bool
}

// define writes the outlines the items use, once each.
func (d *svg) define(items []Item) {
	d.b.WriteString("<defs>\n")
	for i := range items {
		if it := &items[i]; it.Kind == KindGlyph && !d.glyphs[it.Glyph] {
			d.glyphs[it.Glyph] = true
			fmt.Fprintf(&d.b, `<path id="g%d" d="%s"/>`+"\n", it.Glyph, path(it.Glyph))
		}
	}
	d.b.WriteString("</defs>\n")
}

func path(g font.Glyph) string {
	var p pen
	p.glyph(&Item{Glyph: g, Scale: 1})
	return string(p)
}

// layers writes the items, one group for each layer.
func (d *svg) layers(items []Item, o SVGOptions) {
	for layer := LayerStaff; layer <= LayerMark; layer++ {
		begun := false
		for i := range items {
			if items[i].Layer != layer {
				continue
			}
			if !begun {
				ink := o.Ink[layer]
				if ink == "" {
					ink = "#000"
				}
				fmt.Fprintf(&d.b, `<g fill="%s">`+"\n", escape(ink))
				begun = true
			}
			d.item(&items[i])
		}
		if begun {
			d.b.WriteString("</g>\n")
		}
	}
}

func (d *svg) item(it *Item) {
	switch it.Kind {
	case KindGlyph:
		fmt.Fprintf(&d.b, `<use xlink:href="#g%d" transform="translate(%s %s)`, it.Glyph, num(it.X), num(it.Y))
		if it.Scale != 1 {
			fmt.Fprintf(&d.b, ` scale(%s)`, num(float64(it.Scale)))
		}
		d.b.WriteString(`"/>` + "\n")
	case KindCurve:
		a := it.Band()
		fmt.Fprintf(&d.b, `<path d="M%s %sC%s %s %s %s %s %sL%s %sC%s %s %s %s %s %sZ"/>`+"\n",
			num(a[0].X), num(a[0].Y), num(a[1].X), num(a[1].Y), num(a[2].X), num(a[2].Y), num(a[3].X), num(a[3].Y),
			num(a[4].X), num(a[4].Y), num(a[5].X), num(a[5].Y), num(a[6].X), num(a[6].Y), num(a[7].X), num(a[7].Y))
	default:
		if c, ok := it.corners(); ok {
			var p pen
			p.polygon(c)
			d.b.WriteString(`<path d="`)
			d.b.Write(p)
			d.b.WriteString("\"/>\n")
		}
	}
}

// num prints a length to a thousandth of a space.
func num(v float64) string {
	v = math.Round(v*1000) / 1000
	if v == 0 {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func escape(s string) string {
	var b bytes.Buffer
	for _, r := range s {
		switch r {
		case '<':
			b.WriteString("&lt;")
		case '>':
			b.WriteString("&gt;")
		case '&':
			b.WriteString("&amp;")
		case '"':
			b.WriteString("&quot;")
		default:
			if r >= ' ' {
				b.WriteRune(r)
			}
		}
	}
	return b.String()
}
