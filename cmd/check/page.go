package main

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
)

// buildPage builds the command and writes the static site once.
func buildPage(c *check) tally {
	if err := c.quietly(nil, "go", "build", "-o", c.bin("agremens"), "./cmd/agremens"); err != nil {
		return one(err)
	}
	site := filepath.Join(c.work, "site")
	if err := os.RemoveAll(site); err != nil { // or what was built before is weighed too
		return one(err)
	}
	_, err := c.openly(nil, c.bin("agremens"), "build", "-quick", "-o", site)
	return one(err)
}

// releasePage writes the site as it is released, packed as small as it goes.
func releasePage(c *check) tally {
	return one(c.quietly(nil, c.bin("agremens"), "build", "-o", filepath.Join(c.work, "weighed")))
}

// servePage starts the server that the end-to-end tests use.
func servePage(c *check) tally {
	cmd := c.command(nil, c.bin("agremens"), "serve", "-addr", "127.0.0.1:0")
	line, err := started(cmd)
	if err != nil {
		return one(fmt.Errorf("the server did not start: %w", err))
	}
	c.server, c.url = cmd, line
	fmt.Fprintln(c.out, c.url)
	return one(nil)
}

// startBrowsers starts the two Chromiums that all end-to-end tests share: one
// that opens pages quickly, and one as everybody has it for what is measured.
func startBrowsers(c *check) tally {
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		return one(err)
	}
	cmd := c.command([]string{"AGREMENS_CHROMIUM=" + chromium}, "node", filepath.Join("web", "e2e", "browsers.mjs"))
	line, err := started(cmd)
	if err != nil {
		return one(fmt.Errorf("the browsers did not start: %w", err))
	}
	c.browsers, c.shared = cmd, strings.Fields(line)
	return one(nil)
}

// started starts a command that goes on running and returns the first line it
// prints, which says that it is ready.
func started(cmd *exec.Cmd) (string, error) {
	cmd.Stderr = os.Stdout
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		return "", err
	}
	if err := cmd.Start(); err != nil {
		return "", err
	}
	line, err := bufio.NewReader(pipe).ReadString('\n')
	return strings.TrimSpace(line), err
}

// stopSession stops what steps have left running for others.
func (c *check) stopSession() {
	for _, cmd := range []*exec.Cmd{c.browsers, c.server} {
		if cmd != nil {
			cmd.Process.Signal(syscall.SIGTERM)
			cmd.Wait()
		}
	}
}

// stopWhenTold leaves nothing running behind a check that is broken off.
func (c *check) stopWhenTold() {
	told := make(chan os.Signal, 1)
	signal.Notify(told, os.Interrupt, syscall.SIGTERM)
	go func() {
		<-told
		c.stopSession()
		os.Exit(130)
	}()
}

// endToEnd returns the run of one file of end-to-end tests against the
// served page, with more of the environment as "NAME=value". Of a file that
// has tests of both tiers, see web/e2e/tier.mjs, it runs those for every change.
func endToEnd(file string, more ...string) func(*check) tally {
	return func(c *check) tally {
		chromium, err := exec.LookPath("chromium")
		if err != nil {
			return one(err)
		}
		env := slices.Concat([]string{
			"AGREMENS_URL=" + c.url,
			"AGREMENS_CHROMIUM=" + chromium,
			"AGREMENS_OUT=" + filepath.Join(c.work, "screens"),
			"AGREMENS_SITE=" + filepath.Join(c.work, "site"),
			"AGREMENS_TIER=quick",
		}, c.shared, more)
		out, err := c.openly(env, "node", "--test", "--test-reporter=tap", "--test-timeout=900000", filepath.Join("web", "e2e", file))
		t := tally{passed: count(out, "pass"), failed: count(out, "fail") + count(out, "cancelled"), skipped: count(out, "skipped")}
		if err != nil && t.failed == 0 || t.passed+t.failed+t.skipped == 0 {
			return one(fmt.Errorf("%s ran no test to its end (%v)", file, err))
		}
		return t
	}
}

// slowly is endToEnd for the tests that the same file keeps for the slow tier.
func slowly(file string, more ...string) func(*check) tally {
	return endToEnd(file, append(more, "AGREMENS_TIER=slow")...)
}

// wholly is endToEnd for both kinds of a file's tests at once.
func wholly(file string) func(*check) tally {
	return endToEnd(file, "AGREMENS_TIER=both")
}

// count reads a closing line of node's test runner, "# pass 3".
func count(out []byte, word string) int {
	m := regexp.MustCompile(`(?m)^# ` + word + ` (\d+)$`).FindSubmatch(out)
	if m == nil {
		return 0
	}
	n, _ := strconv.Atoi(string(m[1]))
	return n
}
