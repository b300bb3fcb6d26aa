package musicxml

import (
	"archive/zip"
	"bytes"
	"io"
	"net/url"
	"path"
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
	f := d.rootFile(archive)
	if f == nil {
		return nil, fileError(ErrNotMusicXML, "choose a .mxl or .musicxml file", "this archive contains no score")
	}
	return inflate(f, maxFile)
}

// rootFile finds the score in an archive: the file that
// META-INF/container.xml names, however it spells the name; else the first
// whose contents begin as a score does. It returns nil where there is none.
func (d *decoder) rootFile(archive *zip.Reader) *zip.File {
	named := ""
	for _, f := range archive.File {
		if entryName(f.Name) != "meta-inf/container.xml" {
			continue
		}
		if text, err := inflate(f, maxContainer); err == nil {
			named = entryName(containerRoot(text))
		}
		break
	}
	var candidates []*zip.File
	for _, f := range archive.File {
		name := entryName(f.Name)
		switch {
		case named != "" && name == named:
			return f
		case strings.HasPrefix(name, "meta-inf/"), strings.HasPrefix(name, "__macosx/"), strings.HasPrefix(path.Base(name), "._"):
		case strings.HasSuffix(name, ".musicxml"), strings.HasSuffix(name, ".xml"):
			candidates = append(candidates, f)
		}
	}
	for _, f := range candidates {
		if beginsAsScore(f) {
			return f
		}
	}
	if len(candidates) > 0 {
		return candidates[0] // whose error says what it is
	}
	return nil
}

// entryName brings a name in an archive, or one that its table of contents
// gives, to a form in which two spellings of one name are equal: slashes
// forward, no leading "./" or "/", no percent signs, small letters.
func entryName(name string) string {
	if plain, err := url.PathUnescape(name); err == nil {
		name = plain
	}
	name = path.Clean("/" + strings.ReplaceAll(name, "\\", "/"))
	return strings.ToLower(strings.TrimPrefix(name, "/"))
}

// beginsAsScore looks for the root element of a score in the first bytes of a
// file, in UTF-8 or UTF-16.
func beginsAsScore(f *zip.File) bool {
	rc, err := f.Open()
	if err != nil {
		return false
	}
	defer rc.Close()
	head, _ := io.ReadAll(io.LimitReader(rc, maxContainer))
	head = bytes.ReplaceAll(head, []byte{0}, nil)
	return bytes.Contains(head, []byte("<score-partwise")) || bytes.Contains(head, []byte("<score-timewise"))
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
