// Command check installs what the tests need and runs them.
//
//	go run ./cmd/check              what every change must pass: some minutes
//	go run ./cmd/check slow         all the rest: other sizes, every kind of round, three browsers
//	go run ./cmd/check all          both but the other browsers, as continuous integration does
//	go run ./cmd/check bench        the benchmark tables, and the comparison with pianists
//	go run ./cmd/check mutants      faults put in one by one: do the tests of the judging packages notice?
//	go run ./cmd/check first-visit  writes anew which functions are loaded first: five minutes
//	go run ./cmd/check sound-long   the sound in every browser and the memory, for most of an hour
//
// With -only WORD it runs the steps whose name holds the word, and what they
// need; with -list it names the steps and how long each took last time.
//
// It goes on after a failure, sums up at the end and exits 1 if anything
// failed.
package main

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

func main() {
	only := flag.String("only", "", "run the steps whose name holds this word (what they need is run too)")
	list := flag.Bool("list", false, "list the steps, with the seconds each took last time")
	flag.Parse()
	c, err := begin()
	if err != nil {
		fmt.Fprintln(os.Stderr, "check:", err)
		os.Exit(2)
	}
	if flag.Arg(0) == "mutants" {
		os.Exit(c.mutants(flag.Args()[1:]))
	}
	steps, known := tiers[flag.Arg(0)]
	if !known {
		fmt.Fprintf(os.Stderr, "check: there is no %q; say nothing or one of: mutants %s\n", flag.Arg(0), strings.Join(slices.Sorted(maps.Keys(tiers)), " "))
		os.Exit(2)
	}
	steps = choose(steps, *only)
	if *list {
		c.listSteps(steps)
		return
	}
	os.Exit(c.runAll(steps))
}

// begin returns a check of the source around the current folder.
func begin() (*check, error) {
	root, err := sourceRoot()
	if err != nil {
		return nil, err
	}
	c := &check{root: root, work: filepath.Join(root, ".check"), out: os.Stdout, session: &session{}}
	return c, os.MkdirAll(filepath.Join(c.work, "bin"), 0o755)
}

// sourceRoot returns the folder that holds go.mod.
func sourceRoot() (string, error) {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return "", err
	}
	mod := strings.TrimSpace(string(out))
	if filepath.Base(mod) != "go.mod" {
		return "", fmt.Errorf("run this inside the source folder")
	}
	return filepath.Dir(mod), nil
}

// choose keeps the steps whose name holds word, and what they need.
func choose(steps []step, word string) []step {
	wanted := map[string]bool{}
	for _, s := range slices.Backward(steps) { // a step stands after what it needs
		if wanted[s.name] || strings.Contains(s.name, word) {
			wanted[s.name] = true
			for _, n := range s.needs {
				wanted[n] = true
			}
		}
	}
	return slices.DeleteFunc(slices.Clone(steps), func(s step) bool { return !wanted[s.name] })
}
