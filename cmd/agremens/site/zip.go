package site

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"path"
	"regexp"
	"strings"
)

// Zip returns the site as a zip file of what [Site.Write] writes. The files
// that hold compressed forms are stored as they are.
func (s *Site) Zip() ([]byte, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	add := func(name string, body []byte, method uint16) error {
		if body == nil {
			return nil
		}
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: method})
		if err != nil {
			return err
		}
		_, err = f.Write(body)
		return err
	}
	for _, f := range s.Files() {
		for _, form := range []struct {
			suffix string
			body   []byte
			method uint16
		}{{"", f.Raw, zip.Deflate}, {".br", f.Brotli, zip.Store}, {".gz", f.Gzip, zip.Store}} {
			if err := add(f.Path+form.suffix, form.body, form.method); err != nil {
				return nil, err
			}
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// hashed matches a name that changes with its content; see hashNames.
var hashed = regexp.MustCompile(`-[0-9a-f]{16}\.\w+$`)

// FromZip reads what [Site.Zip] wrote.
func FromZip(data []byte) (*Site, error) {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("site: %w", err)
	}
	bodies := map[string][]byte{}
	for _, f := range r.File {
		rc, err := f.Open()
		if err != nil {
			return nil, fmt.Errorf("site: %s: %w", f.Name, err)
		}
		bodies[f.Name], err = io.ReadAll(rc)
		rc.Close()
		if err != nil {
			return nil, fmt.Errorf("site: %s: %w", f.Name, err)
		}
	}
	if bodies["index.html"] == nil {
		return nil, fmt.Errorf("site: there is no index.html")
	}
	s := &Site{files: map[string]*File{}}
	for name, body := range bodies {
		if ext := path.Ext(name); (ext == ".br" || ext == ".gz") && bodies[strings.TrimSuffix(name, ext)] != nil {
			continue
		}
		s.files[name] = &File{
			Path: name, Type: contentType(name), Raw: body, Hash: hash(body),
			Brotli: bodies[name+".br"], Gzip: bodies[name+".gz"], Lasting: hashed.MatchString(name),
		}
	}
	return s, nil
}
