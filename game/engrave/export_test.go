package engrave

// Shape cuts an accidental into the layers that collisions are judged by.
func Shape(it *Item) []Box {
	boxes := layers(&head{acc: it.Glyph}, float64(it.Scale))
	for i := range boxes {
		boxes[i] = boxes[i].placed(1, it.X, it.Y)
	}
	return boxes
}
