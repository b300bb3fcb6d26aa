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
	"slices"
	"strings"
)

//go:embed index.html *.css *.js *.svg *.png *.webmanifest page/*.html style/*.css words/*.po manual/*.md manual/*.css manual/*.png
var embedded embed.FS

// Files returns the page's files by name, all at the top level: index.html
// with its parts put in, style.css followed by the styles of the parts in the
// order of their names, and the rest as they are. It fails when a part that is
// asked for is missing, or one that is there is never asked for.
func Files() (map[string][]byte, error) { return FilesOf(embedded) }

// FilesOf is [Files] of a folder that holds what this package's does.
func FilesOf(folder fs.FS) (map[string][]byte, error) {
	files, err := read(folder, ".", ".html", ".css", ".js", ".svg", ".png", ".webmanifest")
	if err != nil {
		return nil, err
	}
	page, err := read(folder, "page", ".html")
	if err != nil {
		return nil, err
	}
	style, err := read(folder, "style", ".css")
	if err != nil {
		return nil, err
	}
	index, err := assemble(files["index.html"], page)
	if err != nil {
		return nil, err
	}
	files["index.html"] = index
	entries, err := fs.ReadDir(folder, "style") // sorted by name
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		files["style.css"] = append(append(files["style.css"], '\n'), style[e.Name()]...)
	}
	return files, nil
}

// Folder holds what this package's does.
func Folder() fs.FS { return embedded }

// Manual is the user's manual: its text in Markdown by language, and its style
// and pictures by name.
type Manual struct{ Texts, Beside map[string][]byte }

// ManualOf reads the manual of a folder that holds what this package's does.
func ManualOf(folder fs.FS) (Manual, error) {
	texts, err := read(folder, "manual", ".md")
	if err != nil {
		return Manual{}, err
	}
	m := Manual{Texts: map[string][]byte{}}
	for name, text := range texts {
		m.Texts[strings.TrimSuffix(name, ".md")] = text
	}
	m.Beside, err = read(folder, "manual", ".css", ".png")
	return m, err
}

// Words returns the translations of the texts by language, as PO files.
func Words() (map[string][]byte, error) { return WordsOf(embedded) }

// WordsOf is [Words] of a folder that holds what this package's does.
func WordsOf(folder fs.FS) (map[string][]byte, error) {
	files, err := read(folder, "words", ".po")
	if err != nil {
		return nil, err
	}
	byLanguage := map[string][]byte{}
	for name, file := range files {
		byLanguage[strings.TrimSuffix(name, ".po")] = file
	}
	return byLanguage, nil
}

// read returns the files of one folder whose names end in one of these.
func read(from fs.FS, dir string, ends ...string) (map[string][]byte, error) {
	entries, err := fs.ReadDir(from, dir)
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for _, e := range entries {
		if e.IsDir() || !slices.Contains(ends, path.Ext(e.Name())) {
			continue
		}
		if files[e.Name()], err = fs.ReadFile(from, path.Join(dir, e.Name())); err != nil {
			return nil, err
		}
	}
	return files, nil
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
