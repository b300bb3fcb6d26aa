package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Gremlins calls the go command, and takes three things for what they are
// not: a mutant that does not compile (go test ends with 1) for one that was
// killed; tests that a busy machine makes slow for ones that hang; and what a
// coverage profile has no blocks for, the conditions of cases and the values
// of package variables, for code that no test runs. So it is given this
// program in place of go: standIn lays it out, and inPlaceOfGo is what it does
// when it is called.
const inPlaceOfGo = "in-place-of-go"

// Limits of one run of a mutant's tests.
const (
	leastCPU = 20        // seconds of processor before tests count as hanging;
	timesCPU = 10        // and so many times what they take without a fault
	memory   = 3 << 20   // KiB of addresses: a mutant may allocate for ever
	patience = time.Hour // for tests that hang without using the processor
)

// standIn prepares the stand-in for go in the folder state and returns the
// environment in which gremlins finds it.
func (c *check) standIn(state, pkg string) ([]string, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	real, err := exec.LookPath("go")
	if err != nil {
		return nil, err
	}
	bin := filepath.Join(state, "bin")
	if err := os.Mkdir(bin, 0o755); err != nil {
		return nil, err
	}
	script := fmt.Sprintf("#!/bin/sh\nexec %q %s \"$@\"\n", self, inPlaceOfGo)
	if err := os.WriteFile(filepath.Join(bin, "go"), []byte(script), 0o755); err != nil {
		return nil, err
	}
	imports, err := c.command(nil, real, "list", "-f", "{{.TestImports}} {{.XTestImports}}", "./"+pkg).Output()
	if err != nil {
		return nil, fmt.Errorf("go list %s: %w", pkg, err)
	}
	flags := ""
	if strings.Contains(string(imports), "pgregory.net/rapid") {
		flags = "-rapid.seed=1 -rapid.shrinktime=0s -rapid.nofailfile"
	}
	return []string{
		"PATH=" + bin + string(os.PathListSeparator) + os.Getenv("PATH"),
		"CHECK_STATE=" + state, "CHECK_GO=" + real, "CHECK_PATH=" + os.Getenv("PATH"), "CHECK_FLAGS=" + flags,
		// Without the reference scores, which not everybody has: the tests of
		// a package have to bite by themselves.
		"AGREMENS_REFERENCE=" + filepath.Join(state, "none"),
	}, nil
}

// copySource copies the source without what is generated, because gremlins
// copies the whole folder it is called in once more for each worker.
func (c *check) copySource() (string, error) {
	to := filepath.Join(c.work, "mutants-source")
	if err := os.RemoveAll(to); err != nil {
		return "", err
	}
	return to, filepath.WalkDir(c.root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(c.root, path)
		switch {
		case d.IsDir() && rel != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "node_modules"):
			return filepath.SkipDir
		case d.IsDir():
			return os.MkdirAll(filepath.Join(to, rel), 0o755)
		case !d.Type().IsRegular():
			return nil
		}
		b, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(to, rel), b, 0o644)
	})
}

// standInForGo does what go would do with args and returns the exit code.
func standInForGo(args []string) int {
	os.Setenv("PATH", os.Getenv("CHECK_PATH"))
	if i := slices.Index(args, "-coverprofile"); i > 0 && i+1 < len(args) {
		return coverInstead(args[i+1], strings.TrimSuffix(args[len(args)-1], "/..."))
	}
	if slices.Contains(args, "-failfast") {
		return testInstead(args[len(args)-1])
	}
	return exitCode(inherit(exec.Command(os.Getenv("CHECK_GO"), args...)).Run())
}

// coverInstead writes the profile of one package, widened, and how long its
// tests take.
func coverInstead(profile, pkg string) int {
	cmd := inherit(exec.Command(os.Getenv("CHECK_GO"), "test", "-cover", "-coverprofile", profile, pkg))
	cmd.Args = append(cmd.Args, strings.Fields(os.Getenv("CHECK_FLAGS"))...)
	if code := exitCode(cmd.Run()); code != 0 {
		return code
	}
	cpu := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	limit := max(leastCPU, timesCPU*int(cpu.Seconds()+1))
	if err := os.WriteFile(limitFile(), fmt.Append(nil, limit), 0o644); err != nil {
		return exitCode(err)
	}
	b, err := os.ReadFile(profile)
	if err != nil {
		return exitCode(err)
	}
	return exitCode(os.WriteFile(profile, widen(b, pkg), 0o644))
}

func limitFile() string { return filepath.Join(os.Getenv("CHECK_STATE"), "limit") }

// Exit codes that gremlins understands.
const (
	killed    = 1
	notViable = 2
)

// testInstead says what the tests of pkg, in this folder, say of the mutant:
// 0, killed or notViable. Of the same change, which gremlins makes twice where
// a minus is arithmetic and a sign, it tells again what it has found.
func testInstead(pkg string) int {
	known, err := knownFile()
	if err != nil {
		return exitCode(err)
	}
	if b, err := os.ReadFile(known); err == nil {
		code, _ := strconv.Atoi(string(b))
		return code
	}
	code := tryTests(pkg)
	if err := os.WriteFile(known, []byte(strconv.Itoa(code)), 0o644); err != nil {
		return exitCode(err)
	}
	return code
}

// knownFile names the file for what is known of the package as it now stands.
func knownFile() (string, error) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			return "", err
		}
		sum.Write(b)
	}
	return filepath.Join(os.Getenv("CHECK_STATE"), fmt.Sprintf("known-%x", sum.Sum(nil))), nil
}

// tryTests compiles the tests of pkg and runs them within the limits.
func tryTests(pkg string) int {
	f, err := os.CreateTemp(os.Getenv("CHECK_STATE"), "test-*")
	if err != nil {
		return exitCode(err)
	}
	f.Close()
	defer os.Remove(f.Name())
	compile := exec.Command(os.Getenv("CHECK_GO"), "test", "-c", "-vet=off", "-ldflags=-s -w", "-o", f.Name(), pkg)
	if compile.Run() != nil {
		return notViable
	}
	limit, err := os.ReadFile(limitFile())
	if err != nil {
		return exitCode(err)
	}
	run := exec.Command("sh", "-c", fmt.Sprintf(`ulimit -t %s -v %d; exec "$0" "$@"`, bytes.TrimSpace(limit), memory),
		f.Name(), "-test.failfast", "-test.timeout="+patience.String())
	run.Args = append(run.Args, strings.Fields(os.Getenv("CHECK_FLAGS"))...)
	if run.Run() == nil {
		return 0
	}
	if status, ok := run.ProcessState.Sys().(syscall.WaitStatus); ok && status.Signaled() {
		os.WriteFile(f.Name()+"-hung", nil, 0o644)
	}
	return killed
}

func inherit(cmd *exec.Cmd) *exec.Cmd {
	cmd.Stdin, cmd.Stdout, cmd.Stderr = nil, os.Stdout, os.Stderr
	return cmd
}

// exitCode is the exit code that err stands for.
func exitCode(err error) int {
	if err == nil {
		return 0
	}
	if e, ok := err.(*exec.ExitError); ok && e.ExitCode() > 0 {
		return e.ExitCode()
	}
	fmt.Fprintln(os.Stderr, err)
	return 3
}
