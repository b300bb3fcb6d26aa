// Package site turns the files of the page into what a browser is sent:
// compressed, named by content where asked, with the headers the page needs.
package site

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"mime"
	"path"
	"slices"
	"strings"

	"github.com/andybalholm/brotli"
)

// Quality is how hard to compress.
type Quality int

// Quick takes about a second for the whole page, Smallest half a minute. Plain
// does not compress.
const (
	Plain    Quality = -1
	Quick    Quality = 4
	Smallest Quality = brotli.BestCompression
)

// Options say how to pack.
type Options struct {
	// HashNames gives every file but the entry points a name that changes
	// with its content, and rewrites the references to it.
	HashNames bool
	Quality   Quality
}

// File is one file as it is served.
type File struct {
	Path string // slash-separated, below the root of the site
	Type string // for Content-Type
	Raw  []byte
	// Brotli and Gzip are nil where they would not be smaller.
	Brotli, Gzip []byte
	Hash         string // of the raw content, hexadecimal
	// Lasting files never change under their name.
	Lasting bool
}

// Site is a packed set of files.
type Site struct{ files map[string]*File }

// Files returns the files sorted by path.
func (s *Site) Files() []*File {
	return slices.SortedFunc(maps.Values(s.files), func(a, b *File) int { return strings.Compare(a.Path, b.Path) })
}

// Pack packs files, given by path. It fails when two files end under one
// name or index.html is missing.
func Pack(files map[string][]byte, o Options) (*Site, error) {
	if files["index.html"] == nil {
		return nil, fmt.Errorf("site: there is no index.html")
	}
	names := map[string]string{}
	if o.HashNames {
		var err error
		if files, names, err = hashNames(files); err != nil {
			return nil, err
		}
	}
	if worker := files["sw.js"]; worker != nil {
		files["sw.js"] = bytes.Replace(worker, []byte("VERSION = ''"), []byte("VERSION = '"+version(files)+"'"), 1)
	}
	lasting := map[string]bool{}
	for from, to := range names {
		lasting[to] = from != to
	}
	s := &Site{files: map[string]*File{}}
	for name, raw := range files {
		f := &File{Path: name, Type: contentType(name), Raw: raw, Hash: hash(raw), Lasting: lasting[name]}
		if o.Quality != Plain && compressible(f.Type) {
			f.Brotli = ifSmaller(raw, brotliOf(raw, o.Quality))
			f.Gzip = ifSmaller(raw, gzipOf(raw, o.Quality))
		}
		s.files[name] = f
	}
	return s, nil
}

// version names what a set of files holds.
func version(files map[string][]byte) string {
	var all []byte
	for _, name := range slices.Sorted(maps.Keys(files)) {
		all = append(all, name+" "+hash(files[name])+"\n"...)
	}
	return hash(all)
}

// types names the types that Go's mime package takes from the system, which
// may lack or contradict them.
var types = map[string]string{
	".css":         "text/css; charset=utf-8",
	".html":        "text/html; charset=utf-8",
	".ico":         "image/x-icon",
	".js":          "text/javascript; charset=utf-8",
	".json":        "application/json",
	".png":         "image/png",
	".svg":         "image/svg+xml",
	".txt":         "text/plain; charset=utf-8",
	".wasm":        "application/wasm",
	".webmanifest": "application/manifest+json",
	".woff2":       "font/woff2",
}

func contentType(name string) string {
	ext := path.Ext(name)
	if t := types[ext]; t != "" {
		return t
	}
	if t := mime.TypeByExtension(ext); t != "" {
		return t
	}
	return "application/octet-stream"
}

func compressible(contentType string) bool {
	t, _, _ := strings.Cut(contentType, ";")
	switch t {
	case "image/png", "image/x-icon", "font/woff2":
		return false
	}
	return true
}

func brotliOf(raw []byte, q Quality) []byte {
	var b bytes.Buffer
	w := brotli.NewWriterOptions(&b, brotli.WriterOptions{Quality: int(q), LGWin: 24})
	w.Write(raw) // a bytes.Buffer does not fail
	w.Close()
	return b.Bytes()
}

func gzipOf(raw []byte, q Quality) []byte {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, min(int(q), gzip.BestCompression))
	if err != nil {
		panic("site: " + err.Error())
	}
	w.Write(raw)
	w.Close()
	return b.Bytes()
}

func ifSmaller(raw, packed []byte) []byte {
	if len(packed) >= len(raw) {
		return nil
	}
	return packed
}

func hash(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:8])
}
