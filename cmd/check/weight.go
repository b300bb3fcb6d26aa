package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"agremens/cmd/agremens/program"
)

// Budgets, as so many times the bare program: of what is waited for before
// the program begins, and of all that is sent, the rest while nobody waits.
const (
	budget    = 1.25
	budgetAll = 2.05 // a class of students, its weeks, and what is played to the program came in
)

const barePackage = "./cmd/check/testdata/bare"

// weight fails when a first visit has become too heavy: everything in the
// built site that a visitor is sent, as brotli 11, beside a program that only
// fills a frame and plays silence, as the toolchain builds it with the same
// flags: without lines, but in one part and not written short as ours is.
func weight(c *check) tally {
	// Packing is slow: the bare program is packed meanwhile.
	bare := make(chan weighed, 1)
	go func() {
		body, err := program.Build(c.root, barePackage, filepath.Join(c.work, "bare.wasm"), c.out)
		if err != nil {
			bare <- weighed{err: err}
			return
		}
		bytes, err := c.packed(body)
		bare <- weighed{bytes, err}
	}()
	parts, err := c.sentParts(filepath.Join(c.work, "site"))
	least := <-bare
	if err := errors.Join(err, least.err); err != nil {
		return one(err)
	}
	if !slices.ContainsFunc(parts, func(p part) bool { return strings.HasPrefix(p.name, "agremens-rest-") }) {
		return one(fmt.Errorf("the program was not cut in two: DEVELOPERS.md, “The next release of Go”, says what to look at"))
	}
	waited, all := 0, 0
	for _, p := range parts {
		fmt.Fprintf(c.out, "  %-44s %9d\n", p.name, p.bytes)
		all += p.bytes
		if !later.MatchString(p.name) {
			waited += p.bytes
		}
	}
	ratio, ratioAll := float64(waited)/float64(least.bytes), float64(all)/float64(least.bytes)
	fmt.Fprintf(c.out, "  %-44s %9d\n", "the bare program", least.bytes)
	fmt.Fprintf(c.out, "  %-44s %9d   ratio %.3f, at most %.2f\n", "before the program begins", waited, ratio, budget)
	fmt.Fprintf(c.out, "  %-44s %9d   ratio %.3f, at most %.2f\n", "with the rest, which follows unawaited", all, ratioAll, budgetAll)
	listens, err := c.sent(filepath.Join(c.work, "site"), asked)
	if err != nil {
		return one(err)
	}
	for _, p := range listens {
		fmt.Fprintf(c.out, "  %-44s %9d   when a round is listened to\n", p.name, p.bytes)
	}
	if ratio > budget || ratioAll > budgetAll {
		return one(fmt.Errorf("a first visit is too heavy: go run ./cmd/check -only weight bench says by package what weighs, go run ./cmd/check first-visit sorts out what need not come first"))
	}
	return one(nil)
}

// weighed is how many bytes something comes to.
type weighed struct {
	bytes int
	err   error
}

// later are the files that a page asks for when the program runs already.
var later = regexp.MustCompile(`^(agremens-rest-|icon-\d|manifest-|sw\.js|worklet-)`)

// part is a file and how many bytes of it are sent.
type part struct {
	name  string
	bytes int
}

// asked reports whether a file is loaded when a round is to be listened to.
func asked(name string) bool { return strings.HasPrefix(name, "listen-") }

// sentParts lists what a visitor is sent who comes for the first time: all
// of the site but the manual, and what only another language or a round that is
// listened to asks for.
func (c *check) sentParts(folder string) ([]part, error) {
	return c.sent(folder, func(name string) bool {
		return !asked(name) && !strings.HasPrefix(name, "manual-") && !(strings.HasPrefix(name, "words-") && strings.HasSuffix(name, ".txt"))
	})
}

// sent lists the files of the site that are meant, and what is sent of each.
func (c *check) sent(folder string, meant func(name string) bool) ([]part, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var parts []part
	for _, e := range entries {
		name := e.Name()
		if strings.HasSuffix(name, ".br") || strings.HasSuffix(name, ".gz") || !meant(name) {
			continue
		}
		body, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			return nil, err
		}
		sent := len(body)
		if !strings.HasSuffix(name, ".png") { // which is compressed already
			packed, err := c.packed(body)
			if err != nil {
				return nil, err
			}
			sent = min(sent, packed)
		}
		parts = append(parts, part{name, sent})
	}
	if len(parts) == 0 {
		return nil, fmt.Errorf("nothing was built in %s", folder)
	}
	return parts, nil
}
