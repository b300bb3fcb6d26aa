package main

import (
	"flag"
	"fmt"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
)

// Mutation testing asks whether the tests would notice a fault: one operator
// at a time is changed. The edge of a comparison (< for <=) is left out:
// between floats it is no fault worth a test.

// floor is what a package's tests have to reach, in percent: the share of
// mutants that some test runs through, and of those the share that is killed.
type floor struct{ covered, killed float64 }

// judges hold what a student is told about her playing, and what a link from
// outside may bring; they are asked for most, and asked where none is named.
var judges = []string{"synth/clock", "game/round", "game/practice", "game/diary", "realize/tap", "realize/codec/packet"}

func floorOf(pkg string) floor {
	if slices.Contains(judges, pkg) {
		return floor{95, 90}
	}
	return floor{0, 85}
}

// mutants runs the mutants of the packages named in args and returns the exit
// code: 1 where one of them is below its floor.
func (c *check) mutants(args []string) int {
	flags := flag.NewFlagSet("mutants", flag.ExitOnError)
	since := flags.String("since", "", "only files that changed since this revision")
	files := flags.String("files", "", "only files whose name matches this expression")
	workers := flags.Int("workers", max(1, runtime.NumCPU()/2), "how many mutants are tested at a time")
	step := flags.Int("step", 1, "only every so many-th mutant: a sample")
	flags.Parse(args)
	pkgs := flags.Args()
	if len(pkgs) == 0 {
		pkgs = judges
	}
	fmt.Printf("%-24s %8s %10s %9s %8s %8s\n", "package", "mutants", "covered %", "killed %", "lived", "hanging")
	code := 0
	var lived []string
	for _, pkg := range pkgs {
		pkg = filepath.ToSlash(filepath.Clean(pkg))
		use, err := c.asked(pkg, *since, *files)
		if err != nil {
			fmt.Println(err)
			return 1
		}
		r, err := c.mutate(pkg, use, max(1, *workers), max(1, *step))
		if err != nil {
			fmt.Printf("%-24s %v\n", pkg, err)
			code = 1
			continue
		}
		fmt.Printf("%-24s %8d %10.1f %9.1f %8d %8d", pkg, r.all(), r.covered(), r.efficacy(), r.lived, r.hanging)
		if want := floorOf(pkg); r.covered() < want.covered || r.efficacy() < want.killed {
			fmt.Printf("   below %.0f %% covered, %.0f %% killed", want.covered, want.killed)
			code = 1
		}
		fmt.Println()
		lived = append(lived, r.left...)
	}
	if len(lived) > 0 {
		fmt.Printf("\nlived, or run by no test:\n%s\n", strings.Join(lived, "\n"))
	}
	return code
}

// asked returns which files of pkg are mutated: those whose name matches files
// and, where since is a revision, that changed since.
func (c *check) asked(pkg, since, files string) (func(file string) bool, error) {
	name, err := regexp.Compile(files)
	if err != nil || since == "" {
		return func(file string) bool { return name.MatchString(file) }, err
	}
	out, err := c.command(nil, "git", "diff", "--name-only", since, "--", pkg).Output()
	if err != nil {
		return nil, fmt.Errorf("git diff %s: %w", since, err)
	}
	changed := strings.Fields(string(out))
	return func(file string) bool {
		return name.MatchString(file) && slices.Contains(changed, pkg+"/"+file)
	}, nil
}
