package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// debian maps the programs that tests run to the Debian packages that bring them.
var debian = []struct{ program, pkg string }{
	{"chromium", "chromium"},
	{"node", "nodejs"},
	{"npm", "npm"},
	{"xmllint", "libxml2-utils"},
	{"sox", "sox"},
	{"firefox-esr", "firefox-esr"},
	{miniBrowser(), "libwebkit2gtk-4.1-0"},
	{"Xvfb", "xvfb"},
	{"pulseaudio", "pulseaudio"},
	{"parec", "pulseaudio-utils"},
	{"xdotool", "xdotool"},
	{"import", "imagemagick"},
}

// miniBrowser is where Debian keeps WebKitGTK's own small browser, which is on
// no path.
func miniBrowser() string {
	machine := map[string]string{"amd64": "x86_64", "arm64": "aarch64"}[runtime.GOARCH]
	return "/usr/lib/" + machine + "-linux-gnu/webkit2gtk-4.1/MiniBrowser"
}

// install installs the Debian packages that are missing.
func install(c *check) tally {
	var missing []string
	for _, d := range debian {
		if _, err := exec.LookPath(d.program); err != nil {
			missing = append(missing, d.pkg)
		}
	}
	if len(missing) == 0 {
		fmt.Println("all programs are there")
		return one(nil)
	}
	if os.Geteuid() != 0 {
		return one(fmt.Errorf("missing: as root, run\n  apt-get update && apt-get install %s", strings.Join(missing, " ")))
	}
	fmt.Println("installing", strings.Join(missing, ", "))
	quiet := []string{"DEBIAN_FRONTEND=noninteractive"}
	if err := c.quietly(quiet, "apt-get", "update"); err != nil {
		return one(err)
	}
	// Without a disk flush for every file: a test machine can be made again.
	args := []string{"install", "-y", "--no-install-recommends", "-o", "DPkg::Options::=--force-unsafe-io"}
	return one(c.quietly(quiet, "apt-get", append(args, missing...)...))
}

// installNode installs the packages of the end-to-end tests as locked.
func installNode(c *check) tally {
	return one(c.quietly(nil, "npm", "ci", "--prefix", filepath.Join("web", "e2e"), "--no-audit", "--no-fund", "--ignore-scripts", "--omit=optional"))
}

// tools are Go programs the tests run, pinned.
var tools = []string{
	"github.com/agnivade/wasmbrowsertest@v0.11.0",
	"honnef.co/go/tools/cmd/staticcheck@v0.8.2",
}

// installTools installs the pinned tools below the work folder.
func installTools(c *check) tally {
	var errs []error
	for _, tool := range tools {
		errs = append(errs, c.quietly([]string{"GOBIN=" + c.bin("")}, "go", "install", tool))
	}
	return one(errors.Join(errs...))
}

// bin returns the path of an installed tool.
func (c *check) bin(tool string) string { return filepath.Join(c.work, "bin", tool) }
