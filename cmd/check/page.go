package main

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
)

// buildPage builds the command and writes the static site once.
func buildPage(c *check) tally {
	if err := c.quietly(nil, "go", "build", "-o", c.bin("agremens"), "./cmd/agremens"); err != nil {
		return one(err)
	}
	_, err := c.openly(nil, c.bin("agremens"), "build", "-quick", "-o", filepath.Join(c.work, "site"))
	return one(err)
}

// servePage starts the server that the end-to-end tests use.
func servePage(c *check) tally {
	cmd := c.command(nil, c.bin("agremens"), "serve", "-addr", "127.0.0.1:0")
	cmd.Stderr = os.Stdout
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		return one(err)
	}
	if err := cmd.Start(); err != nil {
		return one(err)
	}
	line, err := bufio.NewReader(pipe).ReadString('\n')
	if err != nil {
		return one(fmt.Errorf("the server did not start: %w", err))
	}
	c.server, c.url = cmd, strings.TrimSpace(line)
	fmt.Println(c.url)
	return one(nil)
}

func (c *check) stopServer() {
	if c.server != nil {
		c.server.Process.Signal(syscall.SIGTERM)
		c.server.Wait()
	}
}

// endToEnd returns the run of one file of end-to-end tests against the
// served page, with more of the environment as "NAME=value".
func endToEnd(file string, more ...string) func(*check) tally {
	return func(c *check) tally {
		chromium, err := exec.LookPath("chromium")
		if err != nil {
			return one(err)
		}
		env := []string{
			"AGREMENS_URL=" + c.url,
			"AGREMENS_CHROMIUM=" + chromium,
			"AGREMENS_OUT=" + filepath.Join(c.work, "screens"),
			"AGREMENS_SITE=" + filepath.Join(c.work, "site"),
		}
		out, err := c.openly(append(env, more...), "node", "--test", "--test-reporter=tap", filepath.Join("web", "e2e", file))
		t := tally{passed: count(out, "pass"), failed: count(out, "fail") + count(out, "cancelled"), skipped: count(out, "skipped")}
		if err != nil && t.failed == 0 || t.passed+t.failed+t.skipped == 0 {
			return one(fmt.Errorf("%s ran no test to its end (%v)", file, err))
		}
		return t
	}
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
