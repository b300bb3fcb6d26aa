package main

import (
	"crypto/sha256"
	"debug/buildinfo"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"runtime"
	"strings"
)

// debian is a program that tests run, and the Debian package that brings it.
type debian struct{ program, pkg string }

// always are the programs that the tests of every change run.
var always = []debian{
	{"chromium", "chromium"},
	{"node", "nodejs"},
	{"npm", "npm"},
	{"xmllint", "libxml2-utils"},
	{"sox", "sox"},
}

// engines are the programs that let other browsers be seen and heard without a
// screen or a sound card.
var engines = []debian{
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

// install returns a step that installs the Debian packages of the programs
// that are missing. Where all are there it asks no package manager.
func install(programs []debian) func(*check) tally {
	return func(c *check) tally {
		var missing []string
		for _, p := range programs {
			if _, err := exec.LookPath(p.program); err != nil {
				missing = append(missing, p.pkg)
			}
		}
		if len(missing) == 0 {
			fmt.Fprintln(c.out, "all programs are there")
			return one(nil)
		}
		if os.Geteuid() != 0 {
			return one(fmt.Errorf("missing: as root, run\n  apt-get update && apt-get install %s", strings.Join(missing, " ")))
		}
		fmt.Fprintln(c.out, "installing", strings.Join(missing, ", "))
		quiet := []string{"DEBIAN_FRONTEND=noninteractive"}
		if err := c.quietly(quiet, "apt-get", "update"); err != nil {
			return one(err)
		}
		// Without a disk flush for every file: a test machine can be made again.
		args := []string{"install", "-y", "--no-install-recommends", "-o", "DPkg::Options::=--force-unsafe-io"}
		return one(c.quietly(quiet, "apt-get", append(args, missing...)...))
	}
}

// installNode installs the packages of the end-to-end tests as locked, unless
// they are there as locked.
func installNode(c *check) tally {
	folder := filepath.Join(c.root, "web", "e2e")
	locked, err := os.ReadFile(filepath.Join(folder, "package-lock.json"))
	if err != nil {
		return one(err)
	}
	sum := fmt.Sprintf("%x", sha256.Sum256(locked))
	mark := filepath.Join(folder, "node_modules", ".locked") // goes with what it stands for
	if was, err := os.ReadFile(mark); err == nil && string(was) == sum {
		fmt.Fprintln(c.out, "all packages are there")
		return one(nil)
	}
	if err := c.quietly(nil, "npm", "ci", "--prefix", folder, "--no-audit", "--no-fund", "--ignore-scripts", "--omit=optional"); err != nil {
		return one(err)
	}
	return one(os.WriteFile(mark, []byte(sum), 0o644))
}

// tools are Go programs the tests run, pinned.
var tools = []string{
	"github.com/agnivade/wasmbrowsertest@v0.11.0",
	"honnef.co/go/tools/cmd/staticcheck@v0.8.2",
}

// installTools installs the pinned tools below the work folder, but for those
// that are there in the pinned version, built by this version of Go.
func installTools(c *check) tally {
	var errs []error
	for _, tool := range tools {
		pkg, version, _ := strings.Cut(tool, "@")
		info, err := buildinfo.ReadFile(c.bin(path.Base(pkg)))
		if err == nil && info.Main.Version == version && info.GoVersion == runtime.Version() {
			continue
		}
		errs = append(errs, c.quietly([]string{"GOBIN=" + c.bin("")}, "go", "install", tool))
	}
	return one(errors.Join(errs...))
}

// bin returns the path of an installed tool.
func (c *check) bin(tool string) string { return filepath.Join(c.work, "bin", tool) }
