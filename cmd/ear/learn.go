package main

import (
	"bytes"
	"fmt"
	"go/format"
	"math"
	"math/rand/v2"
	"sort"

	"agremens/realize/hear"
)

// Frames within near of a strike show it; those further than far do not.
// Between the two the network is not told.
const (
	near = 1.5
	far  = 3.5
)

// examples are what the ear saw, with what was true.
type examples struct {
	views   []float32 // hear.Views of each
	label   []float32 // 1 struck, 0 not, -1 not told
	when    []float32 // frames to the strike; 100: none near
	weight  []float32
	strikes int
}

const rarely = 0.25 // share of the views without a strike that are kept

func (e *examples) look(m *mixture, r *rand.Rand) {
	of := map[int][]float64{}
	for _, s := range m.strikes {
		of[s.midi] = append(of[s.midi], s.at)
	}
	var asked []int
	ask := func(at float64) []int {
		asked = asked[:0]
		seen := map[int]bool{}
		add := func(k int) {
			if !seen[k] {
				seen[k] = true
				asked = append(asked, k)
			}
		}
		i := sort.Search(len(m.strikes), func(i int) bool { return m.strikes[i].at > at-0.4 })
		for ; i < len(m.strikes) && m.strikes[i].at < at+0.3; i++ {
			k := m.strikes[i].midi
			add(k)
			for _, d := range [...]int{-12, -2, -1, 1, 2, 12, 7, 19, -19, 24} {
				if r.IntN(3) == 0 {
					add(k + d)
				}
			}
		}
		add(36 + r.IntN(56))
		return asked
	}
	frame := hear.FrameSeconds(rate)
	hear.Lesson{Rate: rate, Cents: m.cents, Ask: ask, See: func(at float64, key int, view []float32) {
		d := 100.0
		for _, s := range of[key] {
			if x := (s - at) / frame; math.Abs(x) < math.Abs(d) {
				d = x
			}
		}
		label, weight := float32(0), float32(1)
		switch {
		case math.Abs(d) <= near:
			label = 1
			e.strikes++
		case math.Abs(d) <= far:
			label = -1
		default:
			if r.Float64() > rarely {
				return
			}
			weight = 1 / rarely
		}
		e.views = append(e.views, view...)
		e.label, e.when, e.weight = append(e.label, label), append(e.when, float32(d)), append(e.weight, weight)
	}}.Show(m.x)
}

const (
	in  = hear.Views
	mid = hear.Units
)

// net has one hidden layer and two outputs; Adam moves its parameters.
type net struct {
	mean, scale [in]float32
	p, m, v     []float32 // parameters: first layer, biases, second layer, biases
	g           []float32
	steps       int
}

const (
	bias1   = in * mid
	second  = bias1 + mid
	bias2   = second + 2*mid
	weights = bias2 + 2
)

func newNet(e *examples, r *rand.Rand) *net {
	n := &net{p: make([]float32, weights), m: make([]float32, weights), v: make([]float32, weights), g: make([]float32, weights)}
	count := float64(len(e.label))
	for i := range in {
		a, b := 0.0, 0.0
		for k := range e.label {
			x := float64(e.views[k*in+i])
			a += x
			b += x * x
		}
		a /= count
		n.mean[i], n.scale[i] = float32(a), float32(1/math.Sqrt(max(b/count-a*a, 0.01)))
	}
	for i := range bias1 {
		n.p[i] = float32(r.NormFloat64() * math.Sqrt(2/float64(in)))
	}
	for i := second; i < bias2; i++ {
		n.p[i] = float32(r.NormFloat64() * math.Sqrt(1/float64(mid)))
	}
	n.p[bias2] = -2
	return n
}

func (n *net) forward(x *[in]float32, h *[mid]float32) (odds, when float32) {
	odds, when = n.p[bias2], n.p[bias2+1]
	for j := range h {
		row := n.p[j*in : j*in+in]
		a, b := n.p[bias1+j], float32(0)
		for i := 0; i+1 < in; i += 2 {
			a += row[i] * x[i]
			b += row[i+1] * x[i+1]
		}
		if in%2 == 1 {
			a += row[in-1] * x[in-1]
		}
		a += b
		if a < 0 {
			a *= 0.1
		}
		h[j] = a
		odds += n.p[second+j] * a
		when += n.p[second+mid+j] * a
	}
	return odds, when
}

func (n *net) load(e *examples, k int, x *[in]float32) {
	v := e.views[k*in : k*in+in]
	for i := range x {
		x[i] = (v[i] - n.mean[i]) * n.scale[i]
	}
}

const batch = 64

func (n *net) epoch(e *examples, number, of int, r *rand.Rand) {
	order := r.Perm(len(e.label))
	var x [in]float32
	var h [mid]float32
	for start := 0; start+batch <= len(order); start += batch {
		clear(n.g)
		for _, k := range order[start : start+batch] {
			n.load(e, k, &x)
			odds, when := n.forward(&x, &h)
			var dOdds, dWhen float32
			if e.label[k] >= 0 {
				dOdds = e.weight[k] * (1/(1+float32(math.Exp(-float64(odds)))) - e.label[k])
			}
			if d := e.when[k]; d < 4 && d > -4 {
				dWhen = 0.5 * max(-1, min(1, when-d))
			}
			if dOdds == 0 && dWhen == 0 {
				continue
			}
			n.g[bias2] += dOdds
			n.g[bias2+1] += dWhen
			for j := range h {
				n.g[second+j] += dOdds * h[j]
				n.g[second+mid+j] += dWhen * h[j]
				d := dOdds*n.p[second+j] + dWhen*n.p[second+mid+j]
				if h[j] < 0 {
					d *= 0.1
				}
				n.g[bias1+j] += d
				row := n.g[j*in : j*in+in]
				for i := range row {
					row[i] += d * x[i]
				}
			}
		}
		n.steps++
		done := (float64(number) + float64(start)/float64(len(order))) / float64(of)
		n.adam(float32(0.002 * (0.02 + 0.98*0.5*(1+math.Cos(math.Pi*done)))))
	}
}

func (n *net) adam(speed float32) {
	c1, c2 := 1-math.Pow(0.9, float64(n.steps)), 1-math.Pow(0.999, float64(n.steps))
	for i, g := range n.g {
		g /= batch
		if i < bias1 {
			g += 1e-4 * n.p[i]
		}
		n.m[i] = 0.9*n.m[i] + 0.1*g
		n.v[i] = 0.999*n.v[i] + 0.001*g*g
		n.p[i] -= speed * float32(float64(n.m[i])/c1/(math.Sqrt(float64(n.v[i])/c2)+1e-8))
	}
}

// measure says how well it does: loss, hits and false alarms at even odds, and
// the median error of the instant in frames.
func (n *net) measure(e *examples, most int) string {
	var x [in]float32
	var h [mid]float32
	loss, all, hits, strikes, alarms, none := 0.0, 0.0, 0, 0, 0.0, 0.0
	var off []float64
	for k := 0; k < min(most, len(e.label)); k++ {
		n.load(e, k, &x)
		odds, when := n.forward(&x, &h)
		w := float64(e.weight[k])
		switch e.label[k] {
		case 1:
			strikes++
			if odds > 0 {
				hits++
			}
			off = append(off, math.Abs(float64(when-e.when[k])))
			loss += w * math.Log1p(math.Exp(-float64(odds)))
		case 0:
			none += w
			if odds > 0 {
				alarms += w
			}
			loss += w * math.Log1p(math.Exp(float64(odds)))
		}
		all += w
	}
	sort.Float64s(off)
	return fmt.Sprintf("loss %.4f, %.1f %% of strikes, %.2f %% false, instant %.2f frames (90 %%: %.2f)",
		loss/all, 100*float64(hits)/float64(strikes), 100*alarms/none, off[len(off)/2], off[len(off)*9/10])
}

// source writes the network as Go, the means and scales of the views folded
// into the first layer.
func (n *net) source() []byte {
	var b bytes.Buffer
	b.WriteString("package hear\n\n// Written by cmd/ear. Rows of the first layer as signed bytes.\nconst firstWeights = \"\" +\n")
	var scales, biases [mid]float32
	for j := range mid {
		row := make([]float32, in)
		top, shift := float32(1e-9), n.p[bias1+j]
		for i := range row {
			row[i] = n.p[j*in+i] * n.scale[i]
			top = max(top, max(row[i], -row[i]))
		}
		scales[j] = top / 127
		bytes := make([]byte, in)
		for i, v := range row {
			q := math.Round(float64(v / scales[j]))
			bytes[i] = byte(int8(q))
			shift -= float32(q) * scales[j] * n.mean[i]
		}
		biases[j] = shift
		plus := " +"
		if j == mid-1 {
			plus = ""
		}
		fmt.Fprintf(&b, "\t%+q%s\n", rawString(bytes), plus)
	}
	fmt.Fprintf(&b, "\nvar (\n\tscales = [hiddenUnits]float32%s\n\tbiases = [hiddenUnits]float32%s\n", list(scales[:]), list(biases[:]))
	fmt.Fprintf(&b, "\toutWeights = [outputs][hiddenUnits]float32{\n\t\t%s,\n\t\t%s,\n\t}\n", list(n.p[second:second+mid]), list(n.p[second+mid:bias2]))
	fmt.Fprintf(&b, "\toutBiases = [outputs]float32%s\n)\n", list(n.p[bias2:]))
	out, err := format.Source(b.Bytes())
	if err != nil {
		panic(err)
	}
	return out
}

type rawString []byte

// Format writes the bytes as a Go string.
func (s rawString) Format(f fmt.State, _ rune) {
	fmt.Fprint(f, `"`)
	for _, c := range s {
		fmt.Fprintf(f, `\x%02x`, c)
	}
	fmt.Fprint(f, `"`)
}

func list(x []float32) string {
	var b bytes.Buffer
	b.WriteString("{")
	for i, v := range x {
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%.5g", v)
	}
	b.WriteString("}")
	return b.String()
}
