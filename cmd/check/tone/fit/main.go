// Command fit writes the tables of the modern piano (synth/piano_tables.go): it
// moves levels and decays until rendered notes look, to the measure of package
// tone, like the middle of the recorded pianos.
//
//	go run ./cmd/check/tone/fit -folder /work/sound-build -out synth/piano_tables.go
//	go run ./cmd/check/tone/fit -folder … -without fluid      judge it by a piano it did not see
package main

import (
	"flag"
	"fmt"
	"log"
	"math"
	"os"
	"slices"

	"agremens/cmd/check/tone"
	"agremens/synth"
)

func main() {
	folder := flag.String("folder", "", "where the recordings are, or go")
	without := flag.String("without", "", "leave this piano out")
	out := flag.String("out", "", "file for the tables; empty: none")
	rounds := flag.Int("rounds", 12, "how often the tables are moved")
	flag.Parse()
	if err := run(tone.Bank{Folder: *folder}, *without, *out, *rounds); err != nil {
		log.Fatal(err)
	}
}

func run(bank tone.Bank, without, out string, rounds int) error {
	var keys []int
	for r := range synth.Registers {
		keys = append(keys, 36+6*r)
	}
	var seen, unseen []tone.Source
	for _, s := range tone.Sources {
		switch {
		case s.Of != "piano" || s.Judge:
		case s.Name == without:
			unseen = append(unseen, s)
		default:
			seen = append(seen, s)
		}
	}
	for _, s := range append(slices.Clone(seen), unseen...) {
		if err := bank.Make(s, keys); err != nil {
			return err
		}
	}
	m := newModel()
	var targets [synth.Registers][len(tone.Strengths)]tone.Mel
	for r, key := range keys {
		for i, strength := range tone.Strengths {
			var pictures []tone.Mel
			for _, s := range seen {
				x, err := bank.Note(s, key, strength)
				if err != nil {
					return err
				}
				pictures = append(pictures, tone.MelOf(x))
			}
			targets[r][i] = middle(pictures)
		}
	}
	for round := range rounds {
		g := m.tables()
		sum, n := 0.0, 0.0
		for r, key := range keys {
			var errs [len(tone.Strengths)]tone.Mel
			for i, strength := range tone.Strengths {
				ours := tone.MelOf(mono(synth.RenderGrand(tone.Rate, g, key, strength, tone.Rate*26/10)))
				sum += tone.Apart(ours, targets[r][i])
				n++
				errs[i] = difference(targets[r][i], ours)
			}
			m.move(r, key, errs)
		}
		if round < rounds-2 {
			m.smooth()
		}
		fmt.Printf("round %d: %.2f dB from the middle\n", round, sum/n)
	}
	if err := bring(m, bank, seen, between(keys)); err != nil {
		return err
	}
	for _, s := range unseen {
		if err := judge(m.tables(), bank, seen, s); err != nil {
			return err
		}
	}
	if out == "" {
		return nil
	}
	return os.WriteFile(out, m.source(without), 0o644)
}

// judge prints how far the tables are from a piano they did not see, beside how
// far the seen ones are from it.
func judge(g *synth.Grand, bank tone.Bank, seen []tone.Source, unseen tone.Source) error {
	if err := bank.Make(unseen, tone.Keys[:]); err != nil {
		return err
	}
	ours, theirs, near, n := 0.0, 0.0, 0, 0
	for _, key := range tone.Keys {
		for _, strength := range tone.Strengths {
			picture := func(s tone.Source) (tone.Mel, error) {
				x, err := bank.Note(s, key, strength)
				return tone.MelOf(x), err
			}
			there, err := picture(unseen)
			if err != nil {
				return err
			}
			o := tone.Apart(there, tone.MelOf(mono(synth.RenderGrand(tone.Rate, g, key, strength, tone.Rate*26/10))))
			t := 0.0
			for _, s := range seen {
				m, err := picture(s)
				if err != nil {
					return err
				}
				t += tone.Apart(there, m) / float64(len(seen))
			}
			ours, theirs, n = ours+o, theirs+t, n+1
			if o <= t {
				near++
			}
		}
	}
	fmt.Printf("%s, left out: the others are %.1f dB from it, ours %.1f; ours nearer at %d of %d\n", unseen.Name, theirs/float64(n), ours/float64(n), near, n)
	return nil
}

func mono(stereo []float32) []float64 {
	x := make([]float64, len(stereo)/2)
	for i := range x {
		x[i] = float64(stereo[2*i]+stereo[2*i+1]) / 2
	}
	return x
}

// middle is the mean of pictures brought to one level.
func middle(pictures []tone.Mel) tone.Mel {
	out := make(tone.Mel, len(pictures[0]))
	var level []float64
	for _, p := range pictures {
		sum, n := 0.0, 0.0
		for _, row := range p {
			for _, l := range row {
				sum += l
				n++
			}
		}
		level = append(level, sum/n)
	}
	for f := range out {
		out[f] = make([]float64, len(pictures[0][f]))
		for b := range out[f] {
			for i, p := range pictures {
				out[f][b] += (p[f][b] - level[i]) / float64(len(pictures))
			}
		}
	}
	return out
}

// difference is a-b without the difference of their levels.
func difference(a, b tone.Mel) tone.Mel {
	out := make(tone.Mel, len(a))
	mean, n := 0.0, 0.0
	for f := range a {
		out[f] = make([]float64, len(a[f]))
		for i := range a[f] {
			out[f][i] = a[f][i] - b[f][i]
			mean += out[f][i]
			n++
		}
	}
	for f := range out {
		for i := range out[f] {
			out[f][i] -= mean / n
		}
	}
	return out
}

func clamp(x, low, high float64) float64 { return math.Min(math.Max(x, low), high) }
