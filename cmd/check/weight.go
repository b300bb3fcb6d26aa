package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/andybalholm/brotli"

	"agremens/cmd/agremens/program"
)

// Budgets, as so many times the bare program: of what is waited for before
// the program begins, which keeps what is wanted, and of all that is sent, the
// rest while nobody waits, which stands where it is, so that it does not grow.
const (
	budget    = 1.25
	budgetAll = 1.9
)

const barePackage = "./cmd/check/testdata/bare"

// weight fails when a first visit has become too heavy: everything in the
// built site that a visitor is sent, as brotli 11, beside a program that only
// fills a frame and plays silence, built and compressed the same way, in one
// part.
func weight(c *check) tally {
	folder := filepath.Join(c.work, "weighed")
	if err := os.RemoveAll(folder); err != nil {
		return one(err)
	}
	// Packing is slow: the bare program is made meanwhile.
	type made struct {
		bytes int
		err   error
	}
	bare := make(chan made, 1)
	go func() {
		b, err := program.Build(c.root, barePackage, filepath.Join(c.work, "bare.wasm"), os.Stdout)
		bare <- made{packed(b), err}
	}()
	built := c.quietly(nil, c.bin("agremens"), "build", "-o", folder)
	least := <-bare
	if err := errors.Join(built, least.err); err != nil {
		return one(err)
	}
	parts, err := sentParts(folder)
	if err != nil {
		return one(err)
	}
	if !slices.ContainsFunc(parts, func(p part) bool { return strings.HasPrefix(p.name, "agremens-rest-") }) {
		return one(fmt.Errorf("the program was not cut in two: DEVELOPERS.md, “The next release of Go”, says what to look at"))
	}
	waited, all := 0, 0
	for _, p := range parts {
		fmt.Printf("  %-44s %9d\n", p.name, p.bytes)
		all += p.bytes
		if !later.MatchString(p.name) {
			waited += p.bytes
		}
	}
	ratio, ratioAll := float64(waited)/float64(least.bytes), float64(all)/float64(least.bytes)
	fmt.Printf("  %-44s %9d\n", "the bare program", least.bytes)
	fmt.Printf("  %-44s %9d   ratio %.3f, at most %.2f\n", "before the program begins", waited, ratio, budget)
	fmt.Printf("  %-44s %9d   ratio %.3f, at most %.2f\n", "with the rest, which follows unawaited", all, ratioAll, budgetAll)
	if ratio > budget || ratioAll > budgetAll {
		return one(fmt.Errorf("a first visit is too heavy: go run ./cmd/check -only weight bench says by package what weighs, go run ./cmd/check first-visit sorts out what need not come first"))
	}
	return one(nil)
}

// later are the files that a page asks for when the program runs already.
var later = regexp.MustCompile(`^(agremens-rest-|icon-\d|manifest-|sw\.js|worklet-)`)

// part is a file and how many bytes of it are sent.
type part struct {
	name  string
	bytes int
}

// sentParts lists what a visitor is sent who comes for the first time: all
// of the site but what only another language asks for.
func sentParts(folder string) ([]part, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var parts []part
	for _, e := range entries {
		name := e.Name()
		if strings.HasSuffix(name, ".br") || strings.HasSuffix(name, ".gz") || strings.HasPrefix(name, "words-") && strings.HasSuffix(name, ".txt") {
			continue
		}
		sent, err := os.Stat(filepath.Join(folder, name+".br"))
		if err != nil {
			if sent, err = os.Stat(filepath.Join(folder, name)); err != nil {
				return nil, err
			}
		}
		parts = append(parts, part{name, int(sent.Size())})
	}
	if len(parts) == 0 {
		return nil, fmt.Errorf("nothing was built in %s", folder)
	}
	return parts, nil
}

// packed returns how many bytes brotli makes of b at its best.
func packed(b []byte) int { return len(pack(b)) }

func pack(b []byte) []byte { return compress(b, brotli.BestCompression) }

func compress(b []byte, quality int) []byte {
	var out bytes.Buffer
	w := brotli.NewWriterOptions(&out, brotli.WriterOptions{Quality: quality, LGWin: 24})
	w.Write(b) // a bytes.Buffer does not fail
	w.Close()
	return out.Bytes()
}
