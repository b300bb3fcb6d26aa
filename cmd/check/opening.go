package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

const reader = "./realize/codec/musicxml"

// benchOpening opens the reference scores natively, as WebAssembly in Node and
// with a general reader from npm in Node, and prints the three side by side.
func benchOpening(c *check) tally {
	scores, err := c.referenceScores()
	if err != nil {
		fmt.Println(err)
		return tally{skipped: 1}
	}
	native, err := c.openingSpeed(nil)
	if err != nil {
		return one(err)
	}
	exec, err := c.nodeExec()
	if err != nil {
		return one(err)
	}
	wasm, err := c.openingSpeed(js, "-exec="+exec)
	if err != nil {
		return one(err)
	}
	npm, mb, err := c.npmSpeed(scores)
	if err != nil {
		return one(err)
	}
	fmt.Printf("\nopening %d scores, %.1f MB, to the passage:\n", len(scores), mb)
	for _, row := range []struct {
		name string
		ms   float64
	}{{"native", native}, {"WebAssembly in Node", wasm}, {"opensheetmusicdisplay (reader) in Node", npm}} {
		fmt.Printf("  %-40s %7.1f ms a MB\n", row.name, row.ms)
	}
	return one(nil)
}

func (c *check) referenceScores() ([]string, error) {
	folder := os.Getenv("AGREMENS_REFERENCE")
	if folder == "" {
		folder = filepath.Join(c.root, "..", "shared", "reference")
	}
	scores, err := filepath.Glob(filepath.Join(folder, "scores", "*.musicxml"))
	if err == nil && len(scores) == 0 {
		err = fmt.Errorf("no reference scores at %s", folder)
	}
	return scores, err
}

// openingSpeed runs the benchmark that opens all scores and returns its ms a MB.
func (c *check) openingSpeed(env []string, args ...string) (float64, error) {
	args = append([]string{"test", "-run=^$", "-bench=^BenchmarkOpenAll$", "-benchtime=3x"}, args...)
	out, err := c.openly(env, "go", append(args, reader)...)
	if err != nil {
		return 0, err
	}
	m := regexp.MustCompile(`([0-9.]+) ms/MB`).FindSubmatch(out)
	if m == nil {
		return 0, fmt.Errorf("the benchmark printed no ms/MB")
	}
	var ms float64
	_, err = fmt.Sscan(string(m[1]), &ms)
	return ms, err
}

// npmSpeed reads the same files with the npm package that the tests compare
// with, in one process, as often.
func (c *check) npmSpeed(scores []string) (ms, mb float64, err error) {
	script := filepath.Join(reader, "testdata", "independent", "read.js")
	cmd := c.command([]string{c.nodePath()}, "node", append([]string{script, "--quiet"}, scores...)...)
	out, err := cmd.Output()
	if err != nil {
		return 0, 0, fmt.Errorf("node %s: %w", script, err)
	}
	var read map[string]struct{ Ms, Bytes float64 }
	if err := json.Unmarshal(out, &read); err != nil {
		return 0, 0, err
	}
	for _, r := range read {
		ms += r.Ms
		mb += r.Bytes / (1 << 20)
	}
	return ms / mb, mb, nil
}

// nodeExec is the program that runs WebAssembly tests in Node.
func (c *check) nodeExec() (string, error) {
	goroot, err := c.command(nil, "go", "env", "GOROOT").Output()
	return filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "go_js_wasm_exec"), err
}

// nodePath lets node find the packages of the end-to-end tests.
func (c *check) nodePath() string {
	return "NODE_PATH=" + filepath.Join(c.root, "web", "e2e", "node_modules")
}
