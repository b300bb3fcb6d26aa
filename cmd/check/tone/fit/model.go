package main

import (
	"bytes"
	"fmt"
	"math"

	"agremens/cmd/check/tone"
	"agremens/synth"
)

// part is a partial or a resonance of the case: in dB and dB a second.
type part struct {
	level, touch float64
	fall         float64 // log2 of dB a second
	after, late  float64 // late: log2 of dB a second
}

type model struct {
	partials [synth.Registers][synth.Partials]part
	knocks   [synth.Registers][synth.Knocks]part
}

// newModel begins with a plain string.
func newModel() *model {
	m := &model{}
	for r := range synth.Registers {
		for i, n := range synth.GrandPartials {
			hz := n * hzOf(36+6*r)
			m.partials[r][i] = part{
				level: -10*math.Log10(n) - hz/300, touch: hz / 250, after: -18,
				fall: math.Log2(8 + 4*float64(r) + hz/150), late: math.Log2(3 + 2*float64(r) + hz/500),
			}
		}
		for i := range synth.Knocks {
			m.knocks[r][i] = part{level: -30, fall: math.Log2(synth.KnockFall), after: -200, late: math.Log2(synth.KnockFall)}
		}
	}
	return m
}

func hzOf(key int) float64 { return 440 * math.Exp2(float64(key-69)/12) }

// at is the part's level in dB at a time in seconds.
func (p part) at(t float64) float64 {
	fast := p.level - math.Exp2(p.fall)*t
	slow := p.level + p.after - math.Exp2(p.late)*t
	return 10 * math.Log10(math.Pow(10, fast/10)+math.Pow(10, slow/10))
}

// move corrects a register by what its notes, at the four strengths, lack.
func (m *model) move(r, key int, lack [len(tone.Strengths)]tone.Mel) {
	frames := len(lack[0])
	whole := 0.0 // of the strings, to set the case against
	for _, p := range m.partials[r] {
		whole += math.Pow(10, p.level/10)
	}
	whole = 10 * math.Log10(whole)
	hz := hzOf(key)
	type sounding struct {
		p     *part
		gains [][40]float64
		plus  float64
		knock bool
	}
	var all []sounding
	for i, n := range synth.GrandPartials {
		if n*hz > 12000 {
			break
		}
		s := sounding{p: &m.partials[r][i]}
		to := n
		if i+1 < synth.Partials {
			to = math.Ceil((n + synth.GrandPartials[i+1]) / 2)
		}
		from := n
		if i > 0 {
			from = math.Ceil((n + synth.GrandPartials[i-1]) / 2)
		}
		for k := from; k < math.Max(to, n+1); k++ {
			s.gains = append(s.gains, tone.BandGains(k*hz*math.Sqrt(1+k*k*stretch(key))))
		}
		all = append(all, s)
	}
	for i, hz := range synth.GrandKnocks {
		all = append(all, sounding{p: &m.knocks[r][i], gains: [][40]float64{tone.BandGains(hz)}, plus: whole, knock: true})
	}
	energy := make([][40]float64, frames)
	for f := range energy {
		for _, s := range all {
			e := math.Pow(10, (s.p.at(tone.FrameSeconds(f))+s.plus)/10)
			for _, g := range s.gains {
				for b := range g {
					energy[f][b] += e * g[b]
				}
			}
		}
	}
	for _, s := range all {
		before := *s.p
		target := make([]float64, frames)
		var early [len(tone.Strengths)]float64
		for f := range frames {
			e := math.Pow(10, (before.at(tone.FrameSeconds(f))+s.plus)/10)
			sum, weight := 0.0, 0.0
			var each [len(tone.Strengths)]float64
			for _, g := range s.gains {
				for b := range g {
					if g[b] == 0 {
						continue
					}
					share := math.Sqrt(math.Min(1, e*g[b]*float64(len(s.gains))/(energy[f][b]+1e-12)))
					weight += g[b]
					for i := range lack {
						each[i] += g[b] * share * lack[i][f][b]
						sum += g[b] * share * lack[i][f][b] / float64(len(lack))
					}
				}
			}
			if weight == 0 {
				weight = 1
			}
			target[f] = before.at(tone.FrameSeconds(f)) + 0.7*sum/weight
			if f < 14 {
				for i := range each {
					early[i] += each[i] / weight / 14
				}
			}
		}
		s.p.refit(target, s.knock)
		slope, squares := 0.0, 0.0
		for i, strength := range tone.Strengths {
			slope += (strength - 0.6) * early[i]
			squares += (strength - 0.6) * (strength - 0.6)
		}
		if !s.knock {
			s.p.touch = clamp(s.p.touch+0.6*slope/squares, -20, 60)
		}
	}
}

func stretch(key int) float64 {
	return 3.2e-4 * (math.Exp2(float64(key-60)/8) + 0.25*math.Exp2(float64(40-key)/9))
}

// refit moves the part so that it runs through a track of levels.
func (p *part) refit(track []float64, single bool) {
	miss := func(q part) float64 {
		sum := 0.0
		for f := 0; f < len(track); f += 3 {
			d := q.at(tone.FrameSeconds(f)) - track[f]
			if track[f] < p.level-75 {
				d = math.Max(d, 0)
			}
			sum += d * d
		}
		return sum
	}
	best := miss(*p)
	for step := 1.0; step > 0.1; step *= 0.6 {
		for range 4 {
			for k := range 4 {
				if single && k > 0 {
					break
				}
				for _, sign := range []float64{-1, 1} {
					q := *p
					switch k {
					case 0:
						q.level += 3 * sign * step
					case 1:
						q.fall = clamp(q.fall+0.3*sign*step, 2, 9)
					case 2:
						q.after = clamp(q.after+3*sign*step, -45, -2)
					case 3:
						q.late = q.late + 0.3*sign*step
					}
					q.level = clamp(q.level, -110, 20)
					q.late = clamp(q.late, 1, q.fall)
					if e := miss(q); e < best {
						best, *p = e, q
					}
				}
			}
		}
	}
}

// correct makes a register ring longer and sound brighter by so many octaves.
func (m *model) correct(r int, longer, brighter float64) {
	for i, n := range synth.GrandPartials {
		p := &m.partials[r][i]
		p.fall = clamp(p.fall-0.7*longer, 2, 9)
		p.late = math.Min(p.late, p.fall)
		p.level += 4 * brighter * math.Min(math.Log2(n), 3)
	}
}

// smooth draws neighbouring registers together a little.
func (m *model) smooth() {
	const pull = 0.15
	old := *m
	draw := func(x *part, a, b part) {
		x.level += pull * ((a.level+b.level)/2 - x.level)
		x.touch += pull * ((a.touch+b.touch)/2 - x.touch)
		x.fall += pull * ((a.fall+b.fall)/2 - x.fall)
		x.after += pull * ((a.after+b.after)/2 - x.after)
		x.late += pull * ((a.late+b.late)/2 - x.late)
	}
	for r := 1; r < synth.Registers-1; r++ {
		for i, n := range synth.GrandPartials {
			if n*hzOf(36+6*(r+1)) < 12000 {
				draw(&m.partials[r][i], old.partials[r-1][i], old.partials[r+1][i])
			}
		}
		for i := range synth.Knocks {
			draw(&m.knocks[r][i], old.knocks[r-1][i], old.knocks[r+1][i])
		}
	}
}

// tables rounds the model to what the program keeps.
func (m *model) tables() *synth.Grand {
	g := &synth.Grand{}
	for r := range synth.Registers {
		top := -200.0
		for _, p := range m.partials[r] {
			top = math.Max(top, p.level)
		}
		for i, p := range m.partials[r] {
			g.Level[r][i] = eighth(2 * (p.level - top))
			g.Touch[r][i] = eighth(2 * p.touch)
			g.Fall[r][i] = eighth(8 * p.fall)
			g.After[r][i] = eighth(2 * p.after)
			g.Late[r][i] = eighth(8 * p.late)
		}
		for i, p := range m.knocks[r] {
			g.Knock[r][i] = eighth(2 * p.level)
		}
	}
	return g
}

func eighth(x float64) int8 { return int8(math.Round(clamp(x, -127, 127))) }

// source writes the tables as Go.
func (m *model) source(without string) []byte {
	g := m.tables()
	var b bytes.Buffer
	b.WriteString("// Code generated by cmd/check/tone/fit; DO NOT EDIT.\n\npackage synth\n\n")
	if without != "" {
		fmt.Fprintf(&b, "// without %s\n", without)
	}
	b.WriteString("// grand runs through the middle of three recorded pianos (cmd/check/tone).\nvar grand = Grand{\n")
	partials := func(name string, t [synth.Registers][synth.Partials]int8) {
		fmt.Fprintf(&b, "\t%s: [Registers][Partials]int8{\n", name)
		for _, row := range t {
			b.WriteString("\t\t{" + listed(row[:]) + "},\n")
		}
		b.WriteString("\t},\n")
	}
	knocks := func(name string, t [synth.Registers][synth.Knocks]int8) {
		fmt.Fprintf(&b, "\t%s: [Registers][Knocks]int8{\n", name)
		for _, row := range t {
			b.WriteString("\t\t{" + listed(row[:]) + "},\n")
		}
		b.WriteString("\t},\n")
	}
	partials("Level", g.Level)
	partials("Touch", g.Touch)
	partials("Fall", g.Fall)
	partials("After", g.After)
	partials("Late", g.Late)
	knocks("Knock", g.Knock)
	b.WriteString("}\n")
	return b.Bytes()
}

func listed(row []int8) string {
	s := ""
	for i, x := range row {
		if i > 0 {
			s += ", "
		}
		s += fmt.Sprint(x)
	}
	return s
}
