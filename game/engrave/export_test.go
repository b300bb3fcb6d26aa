package engrave

// Shape cuts an accidental into the bands that collisions are judged by.
func Shape(it *Item) []Box {
	boxes := shapes(&head{acc: it.Glyph}, float64(it.Scale))
	for i := range boxes {
		boxes[i] = boxes[i].placed(1, it.X, it.Y)
	}
	return boxes
}

// At returns a point of a KindCurve's middle line, t from 0 to 1.
func (it *Item) At(t float64) (x, y float64) { return it.curve(t) }

// WriteOut is writeOut.
var WriteOut = writeOut
