package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
)

// goPackage is what the go command says of one of our packages.
type goPackage struct {
	ImportPath string
	GoFiles    []string
	Deps       []string
	TestImports, XTestImports,
	TestGoFiles, XTestGoFiles []string
}

func (p goPackage) tested() bool { return len(p.TestGoFiles)+len(p.XTestGoFiles) > 0 }

func (p goPackage) sameFiles(q goPackage) bool {
	return slices.Equal(p.GoFiles, q.GoFiles) && slices.Equal(p.TestGoFiles, q.TestGoFiles) && slices.Equal(p.XTestGoFiles, q.XTestGoFiles)
}

// uses reports whether p or its tests need a module or package.
func (p goPackage) uses(path string) bool {
	for _, list := range [][]string{p.Deps, p.TestImports, p.XTestImports} {
		if slices.ContainsFunc(list, func(d string) bool { return d == path || strings.HasPrefix(d, path+"/") }) {
			return true
		}
	}
	return false
}

func (p goPackage) below(folder string) bool {
	return p.ImportPath == "agremens/"+folder || strings.HasPrefix(p.ImportPath, "agremens/"+folder+"/")
}

// packages lists our packages as they are with the given environment.
func (c *check) packages(env ...string) ([]goPackage, error) {
	cmd := c.command(env, "go", "list", "-e", "-json=ImportPath,GoFiles,Deps,TestImports,XTestImports,TestGoFiles,XTestGoFiles", "./...")
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	var all []goPackage
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p goPackage
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		if len(p.GoFiles) > 0 || p.tested() {
			all = append(all, p)
		}
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("go list found no package")
	}
	return all, nil
}

// browserOnly reports whether a package can be tested in a browser only: it
// draws, plays or touches the page.
func browserOnly(p goPackage) bool {
	return p.uses("github.com/hajimehoshi/ebiten/v2") || p.uses("github.com/ebitengine/oto/v3") || p.below("web/dom")
}

// native lists the packages that build without a browser, display or sound card.
func (c *check) native() ([]string, error) {
	all, err := c.packages()
	return paths(all, func(p goPackage) bool { return !browserOnly(p) }), err
}

// pure lists the packages that must also work as WebAssembly under Node: not
// those that want a page when they are built for the browser.
func (c *check) pure() ([]string, error) {
	all, err := c.packages("GOOS=js", "GOARCH=wasm")
	return paths(all, func(p goPackage) bool {
		return p.tested() && !browserOnly(p) && !p.below("cmd") && !p.below("web")
	}), err
}

// otherInBrowser lists the packages that are built from other files for the
// browser than natively, or cannot be built natively at all.
func (c *check) otherInBrowser() ([]string, error) {
	here, err := c.packages()
	if err != nil {
		return nil, err
	}
	native := map[string]goPackage{}
	for _, p := range here {
		native[p.ImportPath] = p
	}
	all, err := c.packages("GOOS=js", "GOARCH=wasm")
	return paths(all, func(p goPackage) bool { return browserOnly(p) || !p.sameFiles(native[p.ImportPath]) }), err
}

// inBrowser lists the packages whose tests run in a browser.
func (c *check) inBrowser() ([]string, error) {
	all, err := c.packages("GOOS=js", "GOARCH=wasm")
	return paths(all, func(p goPackage) bool { return p.tested() && browserOnly(p) }), err
}

func paths(all []goPackage, keep func(goPackage) bool) []string {
	var kept []string
	for _, p := range all {
		if keep(p) {
			kept = append(kept, p.ImportPath)
		}
	}
	return kept
}
