package packet

import (
	"bytes"
	"fmt"

	"rsc.io/qr"
)

// MaxSquare is how many bytes of a link one QR code takes here: more
// would make its modules too small to be read off a tablet's screen.
const MaxSquare = 1270

// Square draws text as a QR code (ISO/IEC 18004) in SVG, black on white
// with the four free modules around that readers need. It fails with
// [ErrLarge] where the text does not fit.
func Square(text string) ([]byte, error) {
	if len(text) > MaxSquare {
		return nil, ErrLarge
	}
	code, err := qr.Encode(text, qr.L)
	if err != nil {
		return nil, fmt.Errorf("%w: %v", ErrLarge, err)
	}
	const quiet = 4
	size := code.Size + 2*quiet
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h%dv%dH0z"/><path d="`, size, size, size, size)
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			if !code.Black(x, y) {
				continue
			}
			from := x
			for x < code.Size && code.Black(x, y) {
				x++
			}
			fmt.Fprintf(&b, "M%d %dh%dv1H%dz", from+quiet, y+quiet, x-from, from+quiet)
		}
	}
	b.WriteString(`"/></svg>`)
	return b.Bytes(), nil
}
