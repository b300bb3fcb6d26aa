package site

import (
	"bytes"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
)

// entryPoints keep their names: they are asked for by these names from outside.
var entryPoints = []string{"index.html", "sw.js", "favicon.ico", "robots.txt", "manual-en.html", "manual-de.html"}

// hashNames gives files names that change with their content and rewrites
// the references in text files: a file's name in quotes, in url( ) or as the
// last part of a path in quotes. It returns the files under their new names
// and the new name of each.
func hashNames(files map[string][]byte) (renamed map[string][]byte, names map[string]string, err error) {
	names = map[string]string{}
	renamed = map[string][]byte{}
	var open []string // being renamed, to notice a circle
	var rename func(name string) error
	rename = func(name string) error {
		if _, done := names[name]; done {
			return nil
		}
		if slices.Contains(open, name) {
			return fmt.Errorf("site: %s refer to each other in a circle", strings.Join(open, ", "))
		}
		open = append(open, name)
		body := files[name]
		if textual(name) {
			for other := range files {
				if other == name || slices.Contains(entryPoints, other) || !refers(body, other) {
					continue
				}
				if err := rename(other); err != nil {
					return err
				}
				body = reference(other).ReplaceAll(body, []byte("${1}"+names[other]+"${2}"))
			}
		}
		open = open[:len(open)-1]
		to := name
		if !slices.Contains(entryPoints, name) {
			ext := path.Ext(name)
			to = strings.TrimSuffix(name, ext) + "-" + hash(body) + ext
		}
		if renamed[to] != nil {
			return fmt.Errorf("site: two files would be named %s", to)
		}
		names[name], renamed[to] = to, body
		return nil
	}
	for name := range files {
		if err := rename(name); err != nil {
			return nil, nil, err
		}
	}
	return renamed, names, nil
}

func textual(name string) bool {
	switch path.Ext(name) {
	case ".html", ".css", ".js", ".webmanifest":
		// The toolchain's loader refers to none of ours.
		return name != "wasm_exec.js"
	}
	return false
}

// reference matches a file's name where it stands for the file.
func reference(name string) *regexp.Regexp {
	return regexp.MustCompile("([\"'`(](?:\\./|/)?)" + regexp.QuoteMeta(name) + "([\"'`)?#])")
}

func refers(body []byte, name string) bool {
	return bytes.Contains(body, []byte(name)) && reference(name).Match(body)
}
