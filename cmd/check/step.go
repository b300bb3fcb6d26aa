package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
)

// check is one run of the command.
type check struct {
	root   string // of the source
	work   string // where tools and results go; not under version control
	server *exec.Cmd
	url    string // of the served page, once it is served
}

// step is one thing that is checked.
type step struct {
	name  string
	needs []string // names of steps it cannot do without
	run   func(*check) tally
}

// tally counts tests.
type tally struct{ passed, failed, skipped int }

func (t *tally) add(u tally) {
	t.passed += u.passed
	t.failed += u.failed
	t.skipped += u.skipped
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
		fmt.Println(err)
		return tally{failed: 1}
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
		os.Stdout.Write(out)
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// openly runs a command, shows what it prints and returns it.
func (c *check) openly(env []string, name string, args ...string) ([]byte, error) {
	var out bytes.Buffer
	cmd := c.command(env, name, args...)
	cmd.Stdout = io.MultiWriter(os.Stdout, &out)
	cmd.Stderr = os.Stdout
	if err := cmd.Run(); err != nil {
		return out.Bytes(), fmt.Errorf("%s: %w", name, err)
	}
	return out.Bytes(), nil
}
