package main

import (
	"context"
	_ "embed"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"agremens/cmd/agremens/po"
	"agremens/cmd/agremens/program"
	"agremens/cmd/agremens/site"
	"agremens/web"
)

// lookEvery is how often the source is looked at. Its few hundred files take
// some milliseconds, and a list of times needs no library.
const lookEvery = 300 * time.Millisecond

// reloading is put into the page while its source is watched.
//
//go:embed watch.js
var reloading []byte

// forgetting takes the place of the service worker, which would show what an
// earlier server left on the device.
//
//go:embed watch-sw.js
var forgetting []byte

// watchedPage builds the page quickly, from the files as they are on disk, and
// again whenever one of them changes, until the context is done. What cannot
// be built is said, and the page before it stays.
func watchedPage(stop context.Context, errs io.Writer) (http.Handler, error) {
	root, err := sourceFolder()
	if err != nil {
		return nil, err
	}
	seen := sourceTimes(root)
	l := &live{begun: time.Now().Unix(), changed: make(chan struct{})}
	handler, err := quickPage(root, errs)
	if err != nil {
		return nil, err
	}
	l.handler = handler
	go func() {
		for {
			select {
			case <-stop.Done():
				return
			case <-time.After(lookEvery):
			}
			now := sourceTimes(root)
			if maps.Equal(now, seen) {
				continue
			}
			seen = now
			began := time.Now()
			handler, err := quickPage(root, errs)
			if err != nil {
				fmt.Fprintf(errs, "agremens: %v\n", err)
				continue
			}
			fmt.Fprintf(errs, "agremens: built anew in %.1f s\n", time.Since(began).Seconds())
			l.show(handler)
		}
	}()
	return l, nil
}

// quickPage builds the page from the source in root without what only makes it
// smaller.
func quickPage(root string, errs io.Writer) (http.Handler, error) {
	folder := os.DirFS(filepath.Join(root, "web"))
	files, err := web.FilesOf(folder)
	if err != nil {
		return nil, err
	}
	sources, err := web.WordsOf(folder)
	if err != nil {
		return nil, err
	}
	catalogues, err := po.FilesOf(sources)
	if err != nil {
		return nil, err
	}
	maps.Copy(files, catalogues)
	if err := addManual(files, folder); err != nil {
		return nil, err
	}
	whole, err := program.Quick(root, browserPackage, builtProgram(root, "watched.wasm"), errs)
	if err != nil {
		return nil, err
	}
	ear, err := listener(errs)
	if err != nil {
		return nil, err
	}
	if files, err = completed(files, program.Parts{Begin: whole}, ear); err != nil {
		return nil, err
	}
	const first = "<script"
	files["index.html"] = []byte(strings.Replace(string(files["index.html"]), first, "<script defer src=\"watch.js\"></script>\n"+first, 1))
	files["watch.js"], files["sw.js"] = reloading, forgetting
	s, err := site.Pack(files, site.Options{Quality: site.Plain})
	if err != nil {
		return nil, err
	}
	return site.Handler(s), nil
}

// live serves the page as it was built last. At /watch it tells its version,
// and again each time there is another.
type live struct {
	begun int64 // seconds since 1970: another server, another version

	mu      sync.Mutex
	handler http.Handler
	builds  int
	changed chan struct{} // closed at the next build
}

func (l *live) show(handler http.Handler) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.handler = handler
	l.builds++
	close(l.changed)
	l.changed = make(chan struct{})
}

func (l *live) now() (handler http.Handler, version string, changed chan struct{}) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.handler, fmt.Sprintf("%d.%d", l.begun, l.builds), l.changed
}

func (l *live) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	handler, version, changed := l.now()
	if r.URL.Path != "/watch" {
		handler.ServeHTTP(w, r)
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	answer := http.NewResponseController(w)
	_ = answer.SetReadDeadline(time.Time{}) // nothing more is asked on this line
	for {
		fmt.Fprintf(w, "data: %s\n\n", version)
		if answer.Flush() != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-changed:
		}
		_, version, changed = l.now()
	}
}

// sourceTimes returns when each file that the page is built from was written,
// in nanoseconds since 1970. Files that come and go meanwhile are left out.
func sourceTimes(root string) map[string]int64 {
	kinds := []string{".go", ".mod", ".sum", ".html", ".css", ".js", ".po", ".abc", ".md", ".txt", ".svg", ".png", ".webmanifest"}
	times := map[string]int64{}
	_ = filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return nil
		case d.IsDir():
			if base := d.Name(); name != root && (strings.HasPrefix(base, ".") || base == "testdata" || base == "node_modules" || base == "e2e") {
				return filepath.SkipDir
			}
			return nil
		case strings.HasSuffix(name, "_test.go") || !slices.Contains(kinds, filepath.Ext(name)):
			return nil
		}
		if info, err := d.Info(); err == nil {
			times[name] = info.ModTime().UnixNano()
		}
		return nil
	})
	return times
}
