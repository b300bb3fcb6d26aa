package square_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"rsc.io/qr"
	"rsc.io/qr/coding"

	"agremens/realize/codec/square"
)

// scene is how a code is photographed.
type scene struct {
	wide, high int
	// corners are where its own corners stand in the picture, from the upper
	// left one clockwise, in pixels.
	corners [4][2]float64
	blur    float64 // radius in pixels
	noise   float64 // spread of the grey, of 255
	dark    float64 // how much darker the right edge is, 0 to 1
	light   float64 // grey of black, and of white 255 less it
	seed    uint64
}

// turned is a code of a width in the middle of a picture, turned by degrees and
// leaning away by a share of its size.
func turned(wide, high int, size, degrees, lean float64) scene {
	s := scene{wide: wide, high: high, light: 30, seed: 1}
	a := degrees * math.Pi / 180
	for i, c := range [4][2]float64{{-.5, -.5}, {.5, -.5}, {.5, .5}, {-.5, .5}} {
		// The upper edge is farther away.
		k := size * (1 - lean*(.5-c[1]))
		x, y := c[0]*k, c[1]*size*(1-lean/2)
		s.corners[i] = [2]float64{float64(wide)/2 + x*math.Cos(a) - y*math.Sin(a), float64(high)/2 + x*math.Sin(a) + y*math.Cos(a)}
	}
	return s
}

// photo takes the picture. black tells the modules of a code so many wide.
func (s scene) photo(size int, black func(x, y int) bool) square.Picture {
	// From the unit square to the corners (Heckbert, Fundamentals of Texture
	// Mapping, Berkeley 1989), turned round for each pixel by Cramer's rule.
	x0, y0, x1, y1 := s.corners[0][0], s.corners[0][1], s.corners[1][0], s.corners[1][1]
	x2, y2, x3, y3 := s.corners[2][0], s.corners[2][1], s.corners[3][0], s.corners[3][1]
	dx1, dx2, dx3 := x1-x2, x3-x2, x0-x1+x2-x3
	dy1, dy2, dy3 := y1-y2, y3-y2, y0-y1+y2-y3
	den := dx1*dy2 - dx2*dy1
	g, h := (dx3*dy2-dx2*dy3)/den, (dx1*dy3-dx3*dy1)/den
	a, b, c := x1-x0+g*x1, x3-x0+h*x3, x0
	d, e, f := y1-y0+g*y1, y3-y0+h*y3, y0
	of := func(px, py float64) float64 {
		m00, m01, m10, m11 := a-g*px, b-h*px, d-g*py, e-h*py
		r0, r1 := px-c, py-f
		det := m00*m11 - m01*m10
		u, v := (r0*m11-m01*r1)/det, (m00*r1-m10*r0)/det
		x, y := int(math.Floor(u*float64(size))), int(math.Floor(v*float64(size)))
		if u >= 0 && v >= 0 && x < size && y < size && black(x, y) {
			return s.light
		}
		return 255 - s.light
	}
	sharp := make([]float64, s.wide*s.high)
	for y := range s.high {
		for x := range s.wide {
			sum := 0.0
			for _, o := range [4][2]float64{{.25, .25}, {.75, .25}, {.25, .75}, {.75, .75}} {
				sum += of(float64(x)+o[0], float64(y)+o[1])
			}
			sharp[y*s.wide+x] = sum / 4
		}
	}
	soft := blurred(blurred(sharp, s.wide, s.high, s.blur, 1), s.high, s.wide, s.blur, s.wide)
	r := rand.New(rand.NewPCG(s.seed, 7))
	p := square.Picture{Wide: s.wide, High: s.high, Grey: make([]byte, s.wide*s.high)}
	for i, grey := range soft {
		grey *= 1 - s.dark*float64(i%s.wide)/float64(s.wide)
		p.Grey[i] = byte(min(max(grey+s.noise*r.NormFloat64(), 0), 255))
	}
	return p
}

// blurred runs a bell over lines of pixels, step apart; it returns them where
// they stood.
func blurred(in []float64, long, lines int, radius float64, step int) []float64 {
	if radius == 0 {
		return in
	}
	out := make([]float64, len(in))
	reach := int(3 * radius)
	for line := range lines {
		from := line * long
		if step > 1 {
			from = line
		}
		for i := range long {
			sum, weight := 0.0, 0.0
			for k := -reach; k <= reach; k++ {
				if j := i + k; j >= 0 && j < long {
					w := math.Exp(-float64(k*k) / (2 * radius * radius))
					sum, weight = sum+w*in[from+j*step], weight+w
				}
			}
			out[from+i*step] = sum / weight
		}
	}
	return out
}

// link is of the length of a task's or a report's.
func link(letters int) string {
	r := rand.New(rand.NewPCG(3, 9))
	const safe = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
	var b strings.Builder
	b.WriteString("https://practice.example.org/#report=")
	for b.Len() < letters {
		b.WriteByte(safe[r.IntN(len(safe))])
	}
	return b.String()
}

func TestCodesAreReadOffPhotos(t *testing.T) {
	with := func(s scene, change func(*scene)) scene { change(&s); return s }
	cases := []struct {
		name    string
		letters int
		scene   scene
	}{
		{"straight", 300, turned(640, 480, 400, 0, 0)},
		{"small", 60, turned(320, 240, 120, 0, 0)},
		{"long", 1270, turned(1200, 900, 800, 0, 0)},
		{"turned a little", 400, turned(900, 700, 500, 7, 0)},
		{"turned by a quarter", 400, turned(900, 700, 500, 90, 0)},
		{"on its head and aslant", 400, turned(900, 700, 480, 197, 0)},
		{"diamond", 400, turned(900, 900, 560, 45, 0)},
		{"leaning away", 400, turned(1000, 800, 600, 0, .2)},
		{"leaning and turned", 400, turned(1000, 800, 560, 30, .2)},
		{"leaning far", 200, turned(1000, 800, 560, -20, .35)},
		{"long, leaning and turned", 1270, turned(1600, 1200, 1000, 12, .12)},
		{"blurred", 400, with(turned(1000, 800, 600, 5, .1), func(s *scene) { s.blur = 2.2 })},
		{"noisy", 400, with(turned(1000, 800, 600, 5, .1), func(s *scene) { s.noise = 25; s.blur = 1 })},
		{"in a shadow", 400, with(turned(1000, 800, 600, 5, .1), func(s *scene) { s.dark = .75 })},
		{"pale", 400, with(turned(1000, 800, 600, 5, .1), func(s *scene) { s.light = 85; s.noise = 3 })},
		{"all of it", 700, with(turned(1400, 1000, 800, 14, .15), func(s *scene) { s.blur, s.noise, s.dark, s.light = 1.2, 10, .4, 50 })},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			text := link(c.letters)
			code, err := qr.Encode(text, qr.L)
			assert.NoError(t, err)
			got := square.Read(c.scene.photo(code.Size, code.Black))
			if assert.Len(t, got, 1) {
				assert.Equal(t, text, string(got[0]))
			}
		})
	}
}

func TestEveryVersionAndLevelIsRead(t *testing.T) {
	for v := coding.Version(1); v <= 40; v++ {
		if testing.Short() && v%5 != 1 {
			continue
		}
		for l := coding.L; l <= coding.H; l++ {
			plan, err := coding.NewPlan(v, l, coding.Mask(int(v)%8))
			assert.NoError(t, err)
			text := link(1 << 12)[:v.DataBytes(l)-3]
			code, err := plan.Encode(coding.String(text))
			assert.NoError(t, err)
			side := 4 * code.Size
			got := square.Read(turned(side+80, side+80, float64(side), 0, 0).photo(code.Size, code.Black))
			if assert.Len(t, got, 1, "version %d, level %v", v, l) {
				assert.Equal(t, text, string(got[0]))
			}
		}
	}
}

func TestWritingsOfDigitsAndCapitals(t *testing.T) {
	plan, err := coding.NewPlan(3, coding.M, 2)
	assert.NoError(t, err)
	code, err := plan.Encode(coding.Num("0170000012"), coding.Alpha("BAR 5-8:"), coding.String("trill"), coding.Alpha("A"), coding.Num("7"))
	assert.NoError(t, err)
	got := square.Read(turned(300, 300, 200, 3, 0).photo(code.Size, code.Black))
	if assert.Len(t, got, 1) {
		assert.Equal(t, "0170000012BAR 5-8:trillA7", string(got[0]))
	}
}

// As many wrong bytes as the standard says are put right, and no text comes of
// more: level L of version 5 has 26 check bytes for one block, so 13.
func TestWrongModulesArePutRight(t *testing.T) {
	text := link(100)
	plan, err := coding.NewPlan(5, coding.L, 0)
	assert.NoError(t, err)
	assert.Equal(t, []int{1, 26}, []int{plan.Blocks, plan.CheckBytes})
	code, err := plan.Encode(coding.String(text))
	assert.NoError(t, err)
	for _, wrong := range []uint{0, 1, 13, 14, 40} {
		black := func(x, y int) bool {
			p := plan.Pixel[y][x]
			flip := (p.Role() == coding.Data || p.Role() == coding.Check) && p.Offset()/8%3 == 0 && p.Offset()/24 < wrong && p.Offset()%8 == 2
			return code.Black(x, y) != flip
		}
		got := square.Read(turned(400, 400, 300, 0, 0).photo(code.Size, black))
		if wrong > 13 {
			assert.Empty(t, got, "%d wrong", wrong)
		} else if assert.Len(t, got, 1, "%d wrong", wrong) {
			assert.Equal(t, text, string(got[0]))
		}
	}
}

func TestTwoCodesInAPicture(t *testing.T) {
	one, _ := qr.Encode(link(80), qr.L)
	two, _ := qr.Encode(link(90), qr.L)
	left, right := turned(1000, 500, 300, 4, 0), turned(1000, 500, 300, -9, 0)
	for i := range 4 {
		left.corners[i][0] -= 240
		right.corners[i][0] += 240
	}
	p, q := left.photo(one.Size, one.Black), right.photo(two.Size, two.Black)
	for i := range p.Grey {
		p.Grey[i] = min(p.Grey[i], q.Grey[i])
	}
	var texts []string
	for _, text := range square.Read(p) {
		texts = append(texts, string(text))
	}
	assert.ElementsMatch(t, []string{link(80), link(90)}, texts)
}

func TestNothingIsReadWhereNothingIs(t *testing.T) {
	assert.Empty(t, square.Read(square.Picture{}))
	assert.Empty(t, square.Read(square.Picture{Wide: 100, High: 100, Grey: make([]byte, 50)}))
	for _, s := range []scene{turned(400, 300, 200, 0, 0), {wide: 400, high: 300, noise: 60, corners: turned(400, 300, 200, 0, 0).corners}} {
		assert.Empty(t, square.Read(s.photo(29, func(x, y int) bool { return (x*7+y*3)%5 == 0 })))
	}
}

func FuzzRead(f *testing.F) {
	code, _ := qr.Encode("A7", qr.L)
	p := turned(60, 60, 42, 0, 0).photo(code.Size, code.Black)
	f.Add(60, p.Grey)
	f.Add(0, []byte{})
	f.Fuzz(func(t *testing.T, wide int, grey []byte) {
		if wide <= 0 || wide > len(grey) {
			return
		}
		square.Read(square.Picture{Wide: wide, High: len(grey) / wide, Grey: grey})
	})
}

func BenchmarkRead(b *testing.B) {
	for _, letters := range []int{300, 1270} {
		b.Run(fmt.Sprint(letters, " letters in 1600 × 1200"), func(b *testing.B) {
			code, _ := qr.Encode(link(letters), qr.L)
			p := turned(1600, 1200, 900, 10, .1).photo(code.Size, code.Black)
			for b.Loop() {
				if len(square.Read(p)) != 1 {
					b.Fatal("it is not read")
				}
			}
		})
	}
}
