// Command check installs what the tests need and runs all of them.
//
//	go run ./cmd/check              everything
//	go run ./cmd/check -only WORD   the steps whose name holds the word
//	go run ./cmd/check bench        the benchmark tables, and the comparison with pianists
//	go run ./cmd/check slow         every kind of round, instruments, three browsers: a quarter of an hour
//	go run ./cmd/check mutants      faults put in one by one: do the tests of the judging packages notice?
//	go run ./cmd/check first-visit  writes anew which functions are loaded first: five minutes
//	go run ./cmd/check sound-long   the sound in every browser and the memory, for most of an hour
//
// It goes on after a failure, sums up at the end and exits 1 if anything
// failed.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	if len(os.Args) > 1 && os.Args[1] == inPlaceOfGo {
		os.Exit(standInForGo(os.Args[2:]))
	}
	only := flag.String("only", "", "run the steps whose name holds this word (what they need is run too)")
	list := flag.Bool("list", false, "list the steps")
	flag.Parse()
	root, err := sourceRoot()
	if err != nil {
		fmt.Fprintln(os.Stderr, "check:", err)
		os.Exit(2)
	}
	c := &check{root: root, work: filepath.Join(root, ".check")}
	if err := os.MkdirAll(filepath.Join(c.work, "bin"), 0o755); err != nil {
		fmt.Fprintln(os.Stderr, "check:", err)
		os.Exit(2)
	}
	steps := allSteps
	switch flag.Arg(0) {
	case "":
	case "bench":
		steps = benchSteps
	case "slow":
		steps = slowSteps
	case "sound-long":
		steps = longSteps
	case "first-visit":
		steps = firstSteps
	case "mutants":
		os.Exit(c.mutants(flag.Args()[1:]))
	default:
		fmt.Fprintf(os.Stderr, "check: there is no %q; say nothing, bench, slow, first-visit, mutants or sound-long\n", flag.Arg(0))
		os.Exit(2)
	}
	if *list {
		for _, s := range steps {
			fmt.Println(s.name)
		}
		return
	}
	os.Exit(c.runAll(choose(steps, *only)))
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
	for _, s := range steps {
		if strings.Contains(s.name, word) {
			wanted[s.name] = true
			for _, n := range s.needs {
				wanted[n] = true
			}
		}
	}
	var chosen []step
	for _, s := range steps {
		if wanted[s.name] {
			chosen = append(chosen, s)
		}
	}
	return chosen
}

// runAll runs steps in order and returns the exit code.
func (c *check) runAll(steps []step) int {
	defer c.stopServer()
	start := time.Now()
	var total tally
	broken := map[string]bool{}
	rows := []string{}
	for _, s := range steps {
		fmt.Printf("\n=== %s\n", s.name)
		began := time.Now()
		t := tally{failed: 1}
		if missing := firstIn(s.needs, broken); missing != "" {
			fmt.Printf("not run: it needs the step %q, which failed\n", missing)
		} else {
			t = s.run(c)
		}
		if t.failed > 0 {
			broken[s.name] = true
		}
		total.add(t)
		row := fmt.Sprintf("%-36s %7.1f s   %s", s.name, time.Since(began).Seconds(), t)
		fmt.Println("---", row)
		rows = append(rows, row)
	}
	fmt.Printf("\n%s\n%-36s %7.1f s\n\n", strings.Join(rows, "\n"), "together", time.Since(start).Seconds())
	if total == (tally{}) {
		fmt.Println("no step was chosen")
		return 2
	}
	fmt.Println(total)
	if total.failed > 0 {
		return 1
	}
	return 0
}

func firstIn(names []string, set map[string]bool) string {
	for _, n := range names {
		if set[n] {
			return n
		}
	}
	return ""
}
