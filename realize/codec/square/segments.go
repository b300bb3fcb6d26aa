package square

import "rsc.io/qr/coding"

// alphabet is that of the mode for capital letters.
const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// bits are read from the highest of the first byte on; past is set where there
// are no more.
type bits struct {
	data []byte
	at   int
	past bool
}

func (b *bits) take(n int) (v int) {
	for range n {
		if b.at >= 8*len(b.data) {
			b.past = true
			return 0
		}
		v = v<<1 | int(b.data[b.at/8]>>(7-b.at%8)&1)
		b.at++
	}
	return v
}

// segments returns the text that data hold, in digits, capital letters or
// bytes; what stands in other writings is not read, and ok is false.
func segments(data []byte, v coding.Version) (text []byte, ok bool) {
	class := 0 // how many bits a length takes
	if v >= 10 {
		class = 1
	}
	if v >= 27 {
		class = 2
	}
	b := &bits{data: data}
	for 8*len(data)-b.at >= 4 && !b.past {
		switch b.take(4) {
		case 0:
			return text, len(text) > 0
		case 1:
			for n := b.take([]int{10, 12, 14}[class]); n > 0 && !b.past; n -= 3 {
				digits := min(n, 3)
				text = append(text, decimal(b.take([]int{0, 4, 7, 10}[digits]), digits)...)
			}
		case 2:
			for n := b.take([]int{9, 11, 13}[class]); n > 0 && !b.past; n -= 2 {
				if n == 1 {
					text = append(text, alphabet[b.take(6)%45])
					break
				}
				pair := b.take(11)
				text = append(text, alphabet[pair/45%45], alphabet[pair%45])
			}
		case 4:
			for n := b.take([]int{8, 16, 16}[class]); n > 0 && !b.past; n-- {
				text = append(text, byte(b.take(8)))
			}
		case 7: // which alphabet bytes are of: links are ASCII in all of them
			if b.take(8) >= 0x80 {
				b.take(8)
			}
		default:
			return nil, false
		}
	}
	return text, len(text) > 0 && !b.past
}

// decimal writes so many digits of a number.
func decimal(v, digits int) []byte {
	out := make([]byte, digits)
	for i := digits - 1; i >= 0; i-- {
		out[i] = '0' + byte(v%10)
		v /= 10
	}
	return out
}
