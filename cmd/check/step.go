package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
)

// check is what a step works with. Steps that run at the same time share the
// session and print to writers of their own.
type check struct {
	root string    // of the source
	work string    // where tools and results go; not under version control
	out  io.Writer // where the step prints
	*session
}

// session is what some steps start for others.
type session struct {
	server   *exec.Cmd
	url      string // of the served page, once it is served
	browsers *exec.Cmd
	shared   []string // environment entries that lead to the shared browsers
}

// step is one thing that is checked.
type step struct {
	name     string
	needs    []string // names of steps it cannot do without
	measures bool     // it measures time or sound: nothing may run beside it
	run      func(*check) tally
}

// tally counts tests. why is what the step itself has to say of a failure.
type tally struct {
	passed, failed, skipped int
	why                     string
}

func (t *tally) add(u tally) {
	t.passed += u.passed
	t.failed += u.failed
	t.skipped += u.skipped
	t.why += u.why
}

func (t tally) String() string {
	s := fmt.Sprintf("%d passed, %d failed", t.passed, t.failed)
	if t.skipped > 0 {
		s += fmt.Sprintf(", %d skipped", t.skipped)
	}
	return s
}

// one is the tally of a step that is a single test.
func one(err error) tally {
	if err != nil {
		return tally{failed: 1, why: err.Error() + "\n"}
	}
	return tally{passed: 1}
}

// command prepares a command in the source folder, with extra environment
// entries "NAME=value".
func (c *check) command(env []string, name string, args ...string) *exec.Cmd {
	cmd := exec.Command(name, args...)
	cmd.Dir = c.root
	cmd.Env = append(os.Environ(), env...)
	cmd.Stdin = nil
	return cmd
}

// quietly runs a command and shows what it printed only if it failed.
func (c *check) quietly(env []string, name string, args ...string) error {
	out, err := c.command(env, name, args...).CombinedOutput()
	if err != nil {
		c.out.Write(out)
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// openly runs a command, shows what it prints and returns it.
func (c *check) openly(env []string, name string, args ...string) ([]byte, error) {
	var out bytes.Buffer
	cmd := c.command(env, name, args...)
	cmd.Stdout = io.MultiWriter(c.out, &out)
	cmd.Stderr = c.out
	if err := cmd.Run(); err != nil {
		return out.Bytes(), fmt.Errorf("%s: %w", name, err)
	}
	return out.Bytes(), nil
}
