package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// targets are the systems that a program is made for, by the names in which
// people know them.
var targets = []struct{ name, os, arch string }{
	{"linux-amd64", "linux", "amd64"}, {"linux-arm64", "linux", "arm64"},
	{"macos-amd64", "darwin", "amd64"}, {"macos-arm64", "darwin", "arm64"},
	{"windows-amd64.exe", "windows", "amd64"}, {"windows-arm64.exe", "windows", "arm64"},
}

// release writes what can be given away: the site as a zip file for any web
// host, and for each system a program that holds the site and serves it
// without source, Go or network.
func release(args []string, out, errs io.Writer) error {
	set, parse := flags("release", errs)
	to := siteFlags(set)
	only := set.String("only", "", "build only the programs whose name contains this, such as linux-amd64 (default: all)")
	operands, err := parse(args)
	if err != nil {
		return err
	}
	if *to.dir == "" || len(operands) > 0 {
		return wrongUse{"release needs -o DIR"}
	}
	s, err := to.pack(errs)
	if err != nil {
		return err
	}
	archive, err := s.Zip()
	if err != nil {
		return err
	}
	zipped := filepath.Join(*to.dir, "agremens-site.zip")
	if err := os.WriteFile(zipped, archive, 0o644); err != nil {
		return err
	}
	fmt.Fprintf(out, "%-32s %9d bytes\n", zipped, len(archive))
	root, err := goTool("list", "-m", "-f", "{{.Dir}}", "agremens")
	if err != nil {
		return err
	}
	for _, t := range targets {
		if !strings.Contains(t.name, *only) {
			continue
		}
		name := filepath.Join(*to.dir, "agremens-"+t.name)
		if err := buildHolding(root, zipped, name, t.os, t.arch, errs); err != nil {
			return fmt.Errorf("%s: %w", t.name, err)
		}
		info, err := os.Stat(name)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "%-32s %9d bytes\n", name, info.Size())
	}
	return nil
}

// buildHolding builds this command with an archive in place of the empty one
// of package bundle.
func buildHolding(root, archive, target, goos, goarch string, errs io.Writer) error {
	archive, err := filepath.Abs(archive)
	if err != nil {
		return err
	}
	if target, err = filepath.Abs(target); err != nil {
		return err
	}
	overlay, err := json.Marshal(map[string]map[string]string{
		"Replace": {filepath.Join(root, "cmd", "agremens", "bundle", "site.zip"): archive},
	})
	if err != nil {
		return err
	}
	tmp, err := os.CreateTemp("", "agremens-overlay-*.json")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name())
	if _, err := tmp.Write(overlay); err != nil {
		return err
	}
	if err := tmp.Close(); err != nil {
		return err
	}
	build := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-overlay", tmp.Name(), "-o", target, "./cmd/agremens")
	build.Dir = root
	build.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch, "CGO_ENABLED=0")
	build.Stderr = errs
	return build.Run()
}
