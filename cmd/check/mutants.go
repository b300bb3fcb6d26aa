package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
)

// Mutation testing asks whether the tests would notice a fault: gremlins
// changes one operator at a time, and a mutant that no test notices has lived.
// The edge of a comparison (< for <=) is left out: between floats it is no
// fault worth a test.
const gremlins = "github.com/go-gremlins/gremlins/cmd/gremlins@v0.6.0"

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
	flags.Parse(args)
	pkgs := flags.Args()
	if len(pkgs) == 0 {
		pkgs = judges
	}
	if err := c.quietly([]string{"GOBIN=" + c.bin("")}, "go", "install", gremlins); err != nil {
		fmt.Println(err)
		return 1
	}
	source, err := c.copySource()
	if err != nil {
		fmt.Println(err)
		return 1
	}
	defer os.RemoveAll(source)
	fmt.Printf("%-24s %8s %8s %10s %9s %8s %8s\n", "package", "mutants", "invalid", "covered %", "killed %", "lived", "hanging")
	code := 0
	var lived []string
	for _, pkg := range pkgs {
		pkg = filepath.ToSlash(filepath.Clean(pkg))
		only, err := c.leaveOut(pkg, *since, *files)
		if err != nil {
			fmt.Println(err)
			return 1
		}
		r, err := c.mutate(source, pkg, only, *workers)
		if err != nil {
			fmt.Printf("%-24s %v\n", pkg, err)
			code = 1
			continue
		}
		fmt.Printf("%-24s %8d %8d %10.1f %9.1f %8d %8d", pkg, r.all(), r.invalid, r.covered(), r.efficacy(), r.lived, r.hanging)
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

// leaveOut returns the expressions for the files that are not mutated: those
// of the packages below, and those not asked for.
func (c *check) leaveOut(pkg, since, files string) ([]string, error) {
	out := []string{"/"}
	asked, err := regexp.Compile(files)
	if err != nil {
		return nil, err
	}
	changed := ""
	if since != "" {
		b, err := c.command(nil, "git", "diff", "--name-only", since, "--", pkg).Output()
		if err != nil {
			return nil, fmt.Errorf("git diff %s: %w", since, err)
		}
		changed = "\n" + string(b)
	}
	all, err := filepath.Glob(filepath.Join(c.root, pkg, "*.go"))
	if err != nil {
		return nil, err
	}
	left := 0
	for _, path := range all {
		name := filepath.Base(path)
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		if !asked.MatchString(name) || since != "" && !strings.Contains(changed, "\n"+pkg+"/"+name+"\n") {
			out = append(out, "^"+regexp.QuoteMeta(name)+"$")
			continue
		}
		left++
	}
	if left == 0 {
		return nil, fmt.Errorf("%s: no file to mutate", pkg)
	}
	return out, nil
}

// mutate runs the mutants of one package in a copy of the source.
func (c *check) mutate(source, pkg string, leaveOut []string, workers int) (result, error) {
	state, err := os.MkdirTemp(c.work, "mutants-")
	if err != nil {
		return result{}, err
	}
	defer os.RemoveAll(state)
	env, err := c.standIn(state, pkg)
	if err != nil {
		return result{}, err
	}
	report := filepath.Join(state, "report.json")
	args := []string{"unleash", "--conditionals-boundary=false", "--output=" + report,
		"--workers=" + strconv.Itoa(workers), "--timeout-coefficient=1000"}
	for _, e := range leaveOut {
		args = append(args, "--exclude-files="+e)
	}
	cmd := exec.Command(c.bin("gremlins"), append(args, "./"+pkg)...)
	cmd.Dir = source
	cmd.Env = append(os.Environ(), env...)
	if out, err := cmd.CombinedOutput(); err != nil {
		return result{}, fmt.Errorf("gremlins: %w\n%s", err, out)
	}
	b, err := os.ReadFile(report)
	if err != nil {
		return result{}, errors.New("gremlins found nothing to change")
	}
	r, err := readReport(b, pkg)
	hanging, _ := filepath.Glob(filepath.Join(state, "test-*-hung"))
	r.hanging = len(hanging)
	return r, err
}
