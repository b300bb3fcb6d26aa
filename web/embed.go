// Package web holds the page: its markup, style, scripts and icons. The
// program itself and the runtime's wasm_exec.js are added when it is built.
package web

import (
	"bytes"
	"embed"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strings"
)

//go:embed index.html *.css *.js *.svg *.png *.webmanifest
var top embed.FS

//go:embed page/*.html
var parts embed.FS

//go:embed style/*.css
var styles embed.FS

//go:embed words/*.po
var translations embed.FS

// Files returns the page's files by name, all at the top level: index.html
// with its parts put in, style.css followed by the styles of the parts in the
// order of their names, and the rest as they are. It fails when a part that is
// asked for is missing, or one that is there is never asked for.
func Files() (map[string][]byte, error) {
	files := map[string][]byte{}
	if err := read(top, ".", files); err != nil {
		return nil, err
	}
	page, style := map[string][]byte{}, map[string][]byte{}
	if err := read(parts, "page", page); err != nil {
		return nil, err
	}
	if err := read(styles, "style", style); err != nil {
		return nil, err
	}
	index, err := assemble(files["index.html"], page)
	if err != nil {
		return nil, err
	}
	files["index.html"] = index
	entries, err := fs.ReadDir(styles, "style") // sorted by name
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		files["style.css"] = append(append(files["style.css"], '\n'), style[e.Name()]...)
	}
	return files, nil
}

// Words returns the translations of the texts by language, as PO files.
func Words() (map[string][]byte, error) {
	files, byLanguage := map[string][]byte{}, map[string][]byte{}
	if err := read(translations, "words", files); err != nil {
		return nil, err
	}
	for name, file := range files {
		byLanguage[strings.TrimSuffix(name, ".po")] = file
	}
	return byLanguage, nil
}

func read(from fs.FS, dir string, into map[string][]byte) error {
	return fs.WalkDir(from, dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		into[path.Base(name)], err = fs.ReadFile(from, name)
		return err
	})
}

// partLine is a line of markup that stands for page/NAME.html.
var partLine = regexp.MustCompile(`(?m)^[ \t]*<!-- part: ([a-z-]+) -->\n`)

func assemble(markup []byte, page map[string][]byte) ([]byte, error) {
	used := map[string]bool{}
	var missing error
	for depth := 0; partLine.Match(markup); depth++ {
		if depth > 4 {
			return nil, fmt.Errorf("web: the parts of the page hold each other")
		}
		markup = partLine.ReplaceAllFunc(markup, func(line []byte) []byte {
			name := string(partLine.FindSubmatch(line)[1]) + ".html"
			part, ok := page[name]
			if !ok {
				missing = fmt.Errorf("web: the page asks for the part page/%s, which is not there", name)
			}
			used[name] = true
			return append(bytes.TrimRight(part, "\n"), '\n')
		})
		if missing != nil {
			return nil, missing
		}
	}
	for name := range page {
		if !used[name] {
			return nil, fmt.Errorf("web: page/%s is not part of the page: index.html needs a line <!-- part: … -->", name)
		}
	}
	return markup, nil
}
