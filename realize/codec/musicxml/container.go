package musicxml

import (
	"archive/zip"
	"bytes"
	"io"
	"strconv"
	"strings"
)

// unpack returns the score inside a compressed container (.mxl), or data
// itself where it is no zip archive.
func (d *decoder) unpack(data []byte) ([]byte, error) {
	if !bytes.HasPrefix(data, []byte("PK\x03\x04")) && !bytes.HasPrefix(data, []byte("PK\x05\x06")) {
		return data, nil
	}
	// The directory is read into memory as a whole: count its entries first.
	if n := bytes.Count(data, []byte("PK\x01\x02")); n > maxZipEntries {
		return nil, fileError(ErrTooLarge, mendFetch, "this archive contains {n} files; a compressed score contains only a few", "{n}", strconv.Itoa(n))
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fileError(ErrBroken, mendFetch, "this compressed file is damaged or cut off")
	}
	name, err := d.rootFile(archive)
	if err != nil {
		return nil, err
	}
	for _, f := range archive.File {
		if f.Name == name {
			return inflate(f, maxFile)
		}
	}
	return nil, fileError(ErrBroken, mendFetch, "this compressed file names a score ({text}) that it does not contain", "{text}", clip(name))
}

// rootFile finds the score's name: what META-INF/container.xml says, else the
// first file that looks like one.
func (d *decoder) rootFile(archive *zip.Reader) (string, error) {
	first := ""
	for _, f := range archive.File {
		lower := strings.ToLower(f.Name)
		if f.Name == "META-INF/container.xml" {
			text, err := inflate(f, maxContainer)
			if err != nil {
				return "", err
			}
			if name := containerRoot(text); name != "" {
				return name, nil
			}
		}
		if first == "" && !strings.HasPrefix(lower, "meta-inf/") && !strings.HasPrefix(lower, "__macosx/") &&
			(strings.HasSuffix(lower, ".musicxml") || strings.HasSuffix(lower, ".xml")) {
			first = f.Name
		}
	}
	if first == "" {
		return "", fileError(ErrNotMusicXML, "choose a .mxl or .musicxml file", "this archive contains no score")
	}
	return first, nil
}

// containerRoot returns the full-path of the first MusicXML rootfile.
func containerRoot(text []byte) string {
	r := newReader(text, nil)
	name := ""
	_, err := r.root()
	if err != nil {
		return ""
	}
	// A damaged directory is no reason to refuse the score beside it.
	_ = r.each(func(e element) error {
		if e.name != "rootfiles" {
			return nil
		}
		return r.each(func(e element) error {
			kind := e.attr("media-type")
			if e.name == "rootfile" && name == "" && (kind == "" || strings.Contains(kind, "musicxml")) {
				name = e.attr("full-path")
			}
			return nil
		})
	})
	return name
}

func inflate(f *zip.File, limit int64) ([]byte, error) {
	tooLarge := fileError(ErrTooLarge, mendSplit, "unpacked, this file is larger than {n} MB", "{n}", strconv.Itoa(maxFile>>20))
	if f.UncompressedSize64 > uint64(limit) {
		return nil, tooLarge
	}
	rc, err := f.Open()
	if err != nil {
		return nil, fileError(ErrBroken, mendFetch, "this compressed file is damaged ({text})", "{text}", clip(f.Name))
	}
	defer rc.Close()
	// The size in the directory may lie.
	out, err := io.ReadAll(io.LimitReader(rc, limit+1))
	if int64(len(out)) > limit {
		return nil, tooLarge
	}
	if err != nil {
		return nil, fileError(ErrBroken, mendFetch, "this compressed file is damaged ({text})", "{text}", clip(f.Name))
	}
	return out, nil
}

// clip shortens foreign text for a message.
func clip(s string) string {
	const most = 40
	s = strings.ToValidUTF8(s, "?")
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
