package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"
)

// result counts the mutants of a package.
type result struct {
	killed, lived, uncovered int

	hanging int      // of those killed: the tests did not end
	left    []string // where mutants lived or no test came by
}

func (r result) all() int          { return r.killed + r.lived + r.uncovered }
func (r result) covered() float64  { return percent(r.killed+r.lived, r.all()) }
func (r result) efficacy() float64 { return percent(r.killed, r.killed+r.lived) }

func percent(part, whole int) float64 {
	if whole == 0 {
		return 0
	}
	return 100 * float64(part) / float64(whole)
}

// Limits of one run of a mutant's tests.
const (
	leastCPU = 20        // seconds of processor before tests count as hanging;
	timesCPU = 10        // and so many times what they take without a fault
	memory   = 3 << 20   // KiB of addresses: a mutant may allocate for ever
	patience = time.Hour // for tests that hang without using the processor
)

// mutate runs the mutants of the files of one package that use says, every
// step-th of them, workers at a time.
func (c *check) mutate(pkg string, use func(file string) bool, workers, step int) (result, error) {
	dir, err := os.MkdirTemp(c.work, "mutants-")
	if err != nil {
		return result{}, err
	}
	defer os.RemoveAll(dir)
	s, err := c.switchOn(pkg, dir, use)
	if err != nil {
		return result{}, err
	}
	tests := filepath.Join(dir, "tests")
	if out, err := c.command(nil, "go", "test", "-overlay="+s.overlay, "-vet=off", "-c", "-o", tests, "./"+pkg).CombinedOutput(); err != nil {
		return result{}, fmt.Errorf("go test -c: %w\n%s", err, out)
	}
	t, err := c.trial(pkg, tests, dir)
	if err != nil {
		return result{}, err
	}
	met, err := t.meet()
	if err != nil {
		return result{}, err
	}
	var r result
	var todo []int
	for n, place := range s.places {
		switch {
		case n%step != 0:
		case met[n]:
			todo = append(todo, n)
		default:
			r.uncovered++
			r.left = append(r.left, place+", run by no test")
		}
	}
	verdicts := make([]verdict, len(todo))
	var wait sync.WaitGroup
	slots := make(chan struct{}, workers)
	for i, n := range todo {
		wait.Add(1)
		slots <- struct{}{}
		go func() {
			verdicts[i] = t.try(n)
			<-slots
			wait.Done()
		}()
	}
	wait.Wait()
	for i, n := range todo {
		switch verdicts[i] {
		case hung:
			r.hanging++
			r.killed++
		case killed:
			r.killed++
		default:
			r.lived++
			r.left = append(r.left, s.places[n]+", lived")
		}
	}
	return r, nil
}

type verdict int

const (
	lived verdict = iota
	killed
	hung
)

// trial runs the compiled tests of a package.
type trial struct {
	tests, folder string
	state         string // a folder for files
	flags         []string
	limit         int // seconds of processor
}

func (c *check) trial(pkg, tests, state string) (*trial, error) {
	imports, err := c.command(nil, "go", "list", "-f", "{{.TestImports}} {{.XTestImports}}", "./"+pkg).Output()
	if err != nil {
		return nil, fmt.Errorf("go list %s: %w", pkg, err)
	}
	t := &trial{tests: tests, folder: filepath.Join(c.root, pkg), state: state}
	if strings.Contains(string(imports), "pgregory.net/rapid") {
		t.flags = []string{"-rapid.seed=1", "-rapid.shrinktime=0s", "-rapid.nofailfile"}
	}
	return t, nil
}

// meet runs the tests with no mutant switched on, sets the limit, and returns
// which mutants they come by.
func (t *trial) meet() (map[int]bool, error) {
	file := filepath.Join(t.state, "met")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		return nil, err
	}
	cmd := t.command(24*3600, "CHECK_MUTANTS_MET="+file)
	if out, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("the tests fail without a fault: %w\n%s", err, out)
	}
	cpu := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	t.limit = max(leastCPU, timesCPU*int(cpu.Seconds()+1))
	b, err := os.ReadFile(file)
	met := map[int]bool{}
	for _, line := range strings.Fields(string(b)) {
		n, _ := strconv.Atoi(line)
		met[n] = true
	}
	return met, err
}

// try says what the tests say of a mutant. A limit of processor, and not of
// time, is one that a busy machine does not change.
func (t *trial) try(n int) verdict {
	cmd := t.command(t.limit, "CHECK_MUTANT="+strconv.Itoa(n))
	if cmd.Run() == nil {
		return lived
	}
	if status, ok := cmd.ProcessState.Sys().(syscall.WaitStatus); ok && status.Signaled() {
		return hung
	}
	return killed
}

func (t *trial) command(limit int, env string) *exec.Cmd {
	cmd := exec.Command("sh", "-c", fmt.Sprintf(`ulimit -t %d; ulimit -v %d; exec "$0" "$@"`, limit, memory),
		t.tests, "-test.failfast", "-test.timeout="+patience.String())
	cmd.Args = append(cmd.Args, t.flags...)
	cmd.Dir = t.folder
	// Without the reference scores, which not everybody has: the tests of a
	// package have to bite by themselves.
	cmd.Env = append(os.Environ(), "AGREMENS_REFERENCE="+filepath.Join(t.state, "none"), env)
	return cmd
}
