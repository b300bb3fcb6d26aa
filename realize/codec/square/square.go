// Package square reads QR codes (ISO/IEC 18004) off pictures in which they
// stand turned, in perspective, blurred or in uneven light. It finds the three
// large marks, then the small one in the fourth corner, samples the modules
// through the perspective these four give, and corrects what was misread.
package square

// Picture is an image in grey, a byte a pixel, 0 black, row by row.
type Picture struct {
	Wide, High int
	Grey       []byte
}

// Bounds of what is tried: codes in a picture, marks in it, and threes of them.
const (
	maxCodes   = 8
	maxMarks   = 24
	maxTriples = 24
)

// Read returns what the codes in a picture say, in no order; none where none
// can be read. Bytes of a picture that is smaller than it says are white.
func Read(p Picture) (said [][]byte) {
	if p.Wide < 21 || p.High < 21 || len(p.Grey) < p.Wide*p.High {
		return nil
	}
	b := threshold(p)
	marks := b.marks()
	used := map[int]bool{}
	for _, t := range triples(marks) {
		if used[t.at[0]] || used[t.at[1]] || used[t.at[2]] {
			continue
		}
		if text, ok := b.read(t); ok {
			said = append(said, text)
			for _, i := range t.at {
				used[i] = true
			}
			if len(said) == maxCodes {
				break
			}
		}
	}
	return said
}

// bitmap is a picture in black and white.
type bitmap struct {
	wide, high int
	black      []bool
}

// at is whether there is black at a point; outside there is none.
func (b *bitmap) at(p point) bool {
	x, y := int(p.x), int(p.y)
	return p.x >= 0 && p.y >= 0 && x < b.wide && y < b.high && b.black[y*b.wide+x]
}

// threshold takes for black what is darker than its surroundings, an eighth of
// the picture wide, so that a shadow over half a code does no harm.
func threshold(p Picture) *bitmap {
	w, h := p.Wide, p.High
	// sums[y][x] is the sum of all above and left of there.
	sums := make([]uint32, (w+1)*(h+1))
	for y := range h {
		row := uint32(0)
		for x := range w {
			row += uint32(p.Grey[y*w+x])
			sums[(y+1)*(w+1)+x+1] = sums[y*(w+1)+x+1] + row
		}
	}
	b := &bitmap{w, h, make([]bool, w*h)}
	around := max(w, h)/16 + 1
	for y := range h {
		y0, y1 := max(y-around, 0), min(y+around+1, h)
		for x := range w {
			x0, x1 := max(x-around, 0), min(x+around+1, w)
			sum := sums[y1*(w+1)+x1] - sums[y0*(w+1)+x1] - sums[y1*(w+1)+x0] + sums[y0*(w+1)+x0]
			area := uint32((y1 - y0) * (x1 - x0))
			b.black[y*w+x] = uint64(p.Grey[y*w+x])*100*uint64(area) < uint64(sum)*darker
		}
	}
	return b
}

// darker is how dark black is, in hundredths of what is around it.
const darker = 93
