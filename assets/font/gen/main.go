// Command gen writes the tables of package font: outlines.bin and tables.go.
//
// It takes the glyphs listed in glyphs.txt from the SMuFL font Bravura (npm
// @vexflow-fonts/bravura) and letters from EB Garamond (npm
// @fontsource/eb-garamond), both under the SIL Open Font License, and checks
// every outline against the box the SMuFL metadata gives for its name.
//
//	go run ./assets/font/gen -music DIR -text DIR
//
// DIR is where each package was unpacked; without them npm fetches both.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
)

// Versions are pinned so that the tables come out the same.
const (
	musicPackage = "@vexflow-fonts/bravura@1.0.2"
	textPackage  = "@fontsource/eb-garamond@5.3.0"
)

func main() {
	music := flag.String("music", "", "unpacked "+musicPackage)
	text := flag.String("text", "", "unpacked "+textPackage)
	out := flag.String("out", ".", "directory of package font")
	flag.Parse()
	if err := run(*music, *text, *out); err != nil {
		log.Fatal("gen: ", err)
	}
}

func run(music, text, out string) error {
	for _, p := range []struct {
		dir  *string
		name string
	}{{&music, musicPackage}, {&text, textPackage}} {
		if *p.dir != "" {
			continue
		}
		dir, err := fetch(p.name)
		if err != nil {
			return err
		}
		defer os.RemoveAll(filepath.Dir(dir))
		*p.dir = dir
	}
	t, err := readMusic(music, filepath.Join(out, "glyphs.txt"))
	if err != nil {
		return err
	}
	for _, file := range []string{"eb-garamond-latin-400-normal.woff", "eb-garamond-latin-400-italic.woff"} {
		if err := t.addText(filepath.Join(text, "files", file)); err != nil {
			return err
		}
	}
	return t.write(out)
}

// fetch unpacks an npm package into a temporary directory.
func fetch(name string) (string, error) {
	dir, err := os.MkdirTemp("", "font")
	if err != nil {
		return "", err
	}
	cmd := exec.Command("sh", "-c", `npm pack --silent "$1" && tar xzf *.tgz`, "sh", name)
	cmd.Dir, cmd.Stderr = dir, os.Stderr
	if err := cmd.Run(); err != nil {
		return "", fmt.Errorf("fetch %s: %w", name, err)
	}
	return filepath.Join(dir, "package"), nil
}
