// Package program builds programs for the browser, small.
package program

import (
	"fmt"
	"io"
	"os"
	"os/exec"
)

// fast are the packages that keep the compiler's inlining: what sounds, what
// draws and what runs below both. Everywhere else a call costs a little more
// time, and the copies it saves are a tenth of the program.
var fast = []string{
	"runtime/...", "internal/runtime/...", "internal/abi", "internal/bytealg", "internal/byteorder", "internal/chacha8rand",
	"internal/cpu", "internal/goarch", "internal/race", "internal/stringslite", "internal/sync", "sync/...", "syscall/js",
	"math", "math/bits", "unicode/utf8", "encoding/binary", "golang.org/x/image/...",
	ebiten, ebiten + "/internal/affine", ebiten + "/internal/atlas", ebiten + "/internal/buffered", ebiten + "/internal/clock",
	ebiten + "/internal/graphics", ebiten + "/internal/graphicscommand", ebiten + "/internal/graphicsdriver/...",
	ebiten + "/internal/inputstate", ebiten + "/internal/mipmap", ebiten + "/internal/restorable", ebiten + "/internal/ui",
	"github.com/ebitengine/oto/v3/...",
	"agremens/synth/...", "agremens/game/stage", "agremens/realize/music",
}

const ebiten = "github.com/hajimehoshi/ebiten/v2"

// Flags are what go build is given.
func Flags() []string {
	flags := []string{"-trimpath", "-ldflags=-s -w", "-gcflags=all=-l"}
	for _, p := range fast {
		flags = append(flags, "-gcflags="+p+"=") // the last one that matches counts
	}
	return flags
}

// Build builds the package pkg, as seen from the folder dir, into the file
// target and returns it without its line tables. What the compiler says goes
// to errs. The go command knows by itself when there is nothing to do.
func Build(dir, pkg, target string, errs io.Writer) ([]byte, error) {
	return build(dir, pkg, target, errs, Flags())
}

// BuildNamed is Build of the same program with the names of its functions in
// it, as [Functions] reads them.
func BuildNamed(dir, pkg, target string, errs io.Writer) ([]byte, error) {
	return build(dir, pkg, target, errs, append(Flags(), "-ldflags=-w"))
}

// BuildParts is Build of the same program cut in two by [Split]: first says by
// a function's name whether the program needs it to begin.
func BuildParts(dir, pkg, target string, first func(name string) bool, errs io.Writer) (begin, rest []byte, err error) {
	module, err := BuildNamed(dir, pkg, target, errs)
	if err != nil {
		return nil, nil, err
	}
	functions, err := Functions(module)
	if err != nil {
		return nil, nil, err
	}
	return Split(module, func(i int) bool { return first(functions[i].Name) })
}

func build(dir, pkg, target string, errs io.Writer, flags []string) ([]byte, error) {
	cmd := exec.Command("go", append(append([]string{"build"}, flags...), "-o", target, pkg)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	cmd.Stderr = errs
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("building the browser program: %w — the compiler's message stands above", err)
	}
	body, err := os.ReadFile(target)
	if err != nil {
		return nil, err
	}
	DropLines(body)
	return body, nil
}
