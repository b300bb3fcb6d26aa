// Command ear trains the network by which realize/hear judges whether a string
// was struck, and writes its weights as Go source.
//
//	go run ./cmd/ear -banks DIR,DIR... -o realize/hear/weights.go
//
// A bank is a folder of single notes of one instrument: audio.i16 (48 kHz,
// mono, 16 bit, little endian) and index.json, a list of
// {"midi","vel","start","len","on"}: the note's first sample and length in
// audio.i16, and the sample within it at which the sound begins; "own:piano" is
// an instrument of the program. The weights in the repository were trained on
// Salamander Grand (Alexander Holm, CC BY 3.0), FluidR3 with its harpsichord
// (Frank Wen, MIT), MuseScore General (S. Christian Collins, MIT) and three
// instruments of our own; the same banks and seed give the same weights. The
// music is drawn at random: no recording or score of anyone's is used.
package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
)

func main() {
	banks := flag.String("banks", "", "folders of sampled notes, with commas between")
	mixtures := flag.Int("mixtures", 300, "how many mixtures of 10 s to learn from")
	epochs := flag.Int("epochs", 8, "how often to go through them")
	seed := flag.Uint64("seed", 1, "of chance")
	out := flag.String("o", "weights.go", "write the weights to this file")
	flag.Parse()
	if err := train(strings.Split(*banks, ","), *mixtures, *epochs, *seed, *out); err != nil {
		fmt.Fprintln(os.Stderr, "ear:", err)
		os.Exit(1)
	}
}

func train(folders []string, mixtures, epochs int, seed uint64, out string) error {
	var banks []*bank
	for _, f := range folders {
		read := readBank
		if name, own := strings.CutPrefix(f, "own:"); own {
			f, read = name, ownBank
		}
		b, err := read(f)
		if err != nil {
			return err
		}
		banks = append(banks, b)
	}
	r := rand.New(rand.NewPCG(seed, 1))
	var learn, test examples
	for i := range mixtures {
		m := newMixture(banks[i%len(banks)], r)
		into := &learn
		if i%10 == 9 {
			into = &test
		}
		into.look(m, r)
		if i%20 == 19 {
			fmt.Printf("%d mixtures, %d views, %d strikes\n", i+1, len(learn.label), learn.strikes)
		}
	}
	n := newNet(&learn, r)
	for e := range epochs {
		n.epoch(&learn, e, epochs, r)
		fmt.Printf("epoch %d: %s; tested: %s\n", e+1, n.measure(&learn, 20000), n.measure(&test, 1<<30))
	}
	return os.WriteFile(out, n.source(), 0o644)
}
