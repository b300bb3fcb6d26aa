package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// event is one line of go test -json.
type event struct {
	Action, Package, Test, Output string
	Elapsed                       float64
}

// goTest runs go test, shows the output of packages that failed and counts
// the tests. A run without a test counts as failed.
func (c *check) goTest(env []string, args ...string) tally {
	cmd := c.command(env, "go", append([]string{"test", "-json"}, args...)...)
	cmd.Stderr = c.out
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		return one(err)
	}
	if err := cmd.Start(); err != nil {
		return one(err)
	}
	t := countTests(pipe, c.out)
	if err := cmd.Wait(); err != nil && t.failed == 0 {
		return one(fmt.Errorf("go test: %w", err))
	}
	if t.passed+t.failed == 0 {
		return one(fmt.Errorf("go test ran no test"))
	}
	return t
}

// countTests reads go test -json: top-level tests are counted, and for each
// package that failed its output is copied to w.
func countTests(r io.Reader, w io.Writer) tally {
	var t tally
	output := map[string]*strings.Builder{}
	failedIn := map[string]int{}
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<24)
	for lines.Scan() {
		var e event
		if json.Unmarshal(lines.Bytes(), &e) != nil {
			fmt.Fprintln(w, lines.Text()) // a build error, say
			continue
		}
		if output[e.Package] == nil {
			output[e.Package] = &strings.Builder{}
		}
		top := e.Test != "" && !strings.Contains(e.Test, "/")
		switch e.Action {
		case "build-output":
			fmt.Fprint(w, e.Output)
		case "output":
			output[e.Package].WriteString(e.Output)
		case "pass":
			if top {
				t.passed++
			} else if e.Test == "" {
				fmt.Fprintf(w, "ok    %-44s %6.1f s\n", e.Package, e.Elapsed)
			}
		case "skip":
			if top {
				t.skipped++
				fmt.Fprintf(w, "skip  %s %s\n", e.Package, e.Test)
			}
		case "fail":
			if top {
				t.failed++
				failedIn[e.Package]++
			} else if e.Test == "" {
				if failedIn[e.Package] == 0 {
					t.failed++ // it did not build, or died outside a test
				}
				fmt.Fprintf(w, "FAIL  %s\n%s", e.Package, output[e.Package])
			}
		}
	}
	return t
}
