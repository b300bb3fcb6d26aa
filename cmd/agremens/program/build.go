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
	"agremens/synth/...", "agremens/game/stage", "agremens/realize/music", "agremens/realize/hear",
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
	body, _, err := build(dir, pkg, target, errs, Flags())
	return body, err
}

// BuildNamed is Build of the same program with the names of its functions in
// it, as [Functions] reads them.
func BuildNamed(dir, pkg, target string, errs io.Writer) ([]byte, error) {
	body, _, err := build(dir, pkg, target, errs, append(Flags(), "-ldflags=-w"))
	return body, err
}

// Quick builds the program in one part and leaves it as the compiler made it:
// for whoever changes it and wants to see.
func Quick(dir, pkg, target string, errs io.Writer) ([]byte, error) {
	if err := compile(dir, pkg, target, errs, Flags()); err != nil {
		return nil, err
	}
	return os.ReadFile(target)
}

// Parts is a program that was built to be loaded in two parts.
type Parts struct {
	// Begin is the first part, or the whole program where it has no Rest.
	Begin, Rest []byte
	// Uncut says why there is no Rest. The program runs all the same; a first
	// visit waits longer for it.
	Uncut error
	// Lines says that the line tables were not found, and so are still there.
	Lines bool
}

// BuildParts is Build of the same program cut in two by [Split]: first says by
// a function's name whether the program needs it to begin. The cut stands on
// what a release of Go writes; where it fails the program stays in one part.
// The error is that of building it.
func BuildParts(dir, pkg, target string, first func(name string) bool, errs io.Writer) (Parts, error) {
	module, dropped, err := build(dir, pkg, target, errs, append(Flags(), "-ldflags=-w"))
	if err != nil {
		return Parts{}, err
	}
	ShortenNames(module)
	p := Cut(module, first)
	p.Lines = !dropped
	return p, nil
}

// Cut cuts a module that was built with its names, or leaves it whole and says
// why.
func Cut(module []byte, first func(name string) bool) (p Parts) {
	defer func() {
		// A module of a kind that nobody has seen yet may lead anywhere.
		if fault := recover(); fault != nil {
			p = Parts{Begin: module, Uncut: fmt.Errorf("program: the cut failed: %v", fault)}
		}
	}()
	functions, err := Functions(module)
	if err == nil {
		p.Begin, p.Rest, err = Split(module, func(i int) bool { return first(functions[i].Name) })
	}
	if err == nil {
		p.Begin, err = joined(p.Begin)
	}
	if err != nil {
		return Parts{Begin: module, Uncut: err}
	}
	return p
}

func build(dir, pkg, target string, errs io.Writer, flags []string) (body []byte, dropped bool, err error) {
	if err := compile(dir, pkg, target, errs, flags); err != nil {
		return nil, false, err
	}
	if body, err = os.ReadFile(target); err != nil {
		return nil, false, err
	}
	return body, DropLines(body), nil
}

func compile(dir, pkg, target string, errs io.Writer, flags []string) error {
	cmd := exec.Command("go", append(append([]string{"build"}, flags...), "-o", target, pkg)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	cmd.Stderr = errs
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("building the browser program: %w — the compiler's message stands above", err)
	}
	return nil
}
