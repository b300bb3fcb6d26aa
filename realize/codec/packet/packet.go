// Package packet writes what a lesson sends home and what comes back, a
// [Task] or a [Report], as a short line of letters that fits into a link, a
// QR code or a file.
//
// A packet is a kind, a version, a checksum and compressed lines of "name
// value", all in the letters that links may hold. Whoever reads it leaves out
// lines he does not know, so that an older program opens a newer packet of
// the same version; the version changes only with the compression's
// dictionary or the meaning of a line.
package packet

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"strings"

	"agremens/realize/words"
)

// Kind says what a packet holds.
type Kind byte

// Kinds of packets.
const (
	TaskKind   Kind = 't'
	ReportKind Kind = 'r'
)

// version is that of the packets written here; all up to it are read.
const version = 1

// Bounds of what is read.
const (
	MaxLetters = 64 << 10 // of a packet
	maxText    = 1 << 20  // bytes unpacked
)

// What can be wrong with a packet. Words a person can use come from [Words].
var (
	ErrForeign = words.Errorf(nil, "this is not an Agremens task or report")
	ErrCut     = words.Errorf(nil, "a part of it is missing or changed")
	ErrNewer   = words.Errorf(nil, "a newer program wrote it")
	ErrLarge   = words.Errorf(nil, "it is too large")
	ErrBroken  = words.Errorf(nil, "its content makes no sense")
)

// Words says in a sentence what is wrong with a packet, and how to mend it.
func Words(err error, c *words.Catalogue) string {
	switch {
	case errors.Is(err, ErrForeign):
		return c.Say("This is not an Agremens task or report.")
	case errors.Is(err, ErrCut):
		return c.Say("A part is missing: it was probably cut off on its way. Copy it whole, or ask for the file instead.")
	case errors.Is(err, ErrNewer):
		return c.Say("It was made with a newer version of the program: reload this page while the network is on, then open it again.")
	case errors.Is(err, ErrLarge):
		return c.Say("It is larger than any task or report can be.")
	}
	return c.Say("It arrived whole, but makes no sense to this program: please have it made again.")
}

// head is the kind, the version and the checksum of the rest.
const head = 2 + 4

// pack compresses text; the result holds only A–Z, a–z, 0–9, "-" and "_".
func pack(kind Kind, text string) string {
	b := bytes.NewBuffer([]byte{byte(kind), version, 0, 0, 0, 0})
	w, err := flate.NewWriterDict(b, flate.BestCompression, []byte(dictionary))
	if err != nil {
		panic("packet: " + err.Error()) // only for a level that does not exist
	}
	io.WriteString(w, text) // a bytes.Buffer does not fail
	w.Close()
	out := b.Bytes()
	binary.BigEndian.PutUint32(out[2:], crc32.ChecksumIEEE(out[head:]))
	return base64.RawURLEncoding.EncodeToString(out)
}

// unpack returns the lines of a packet of a kind. Errors wrap one of those
// above.
func unpack(kind Kind, letters string) (string, error) {
	raw, err := open(letters)
	if err != nil {
		return "", err
	}
	if Kind(raw[0]) != kind {
		return "", ErrForeign
	}
	r := flate.NewReaderDict(bytes.NewReader(raw[head:]), []byte(dictionary))
	text, err := io.ReadAll(io.LimitReader(r, maxText+1))
	switch {
	case err != nil:
		return "", fmt.Errorf("%w: %v", ErrBroken, err)
	case len(text) > maxText:
		return "", ErrLarge
	}
	return string(text), nil
}

// KindOf tells what a packet holds without unpacking it.
func KindOf(letters string) (Kind, error) {
	raw, err := open(letters)
	if err != nil {
		return 0, err
	}
	return Kind(raw[0]), nil
}

// open decodes the letters and checks the head. Line breaks and blanks, which
// mail puts in, are left out.
func open(letters string) ([]byte, error) {
	if len(letters) > MaxLetters {
		return nil, ErrLarge
	}
	letters = strings.Join(strings.Fields(letters), "")
	cut := len(letters)%4 == 1 // no number of bytes has so many letters
	if cut {
		letters = letters[:len(letters)-1]
	}
	raw, err := base64.RawURLEncoding.DecodeString(letters)
	if err != nil || len(raw) < 1 || Kind(raw[0]) != TaskKind && Kind(raw[0]) != ReportKind {
		return nil, ErrForeign
	}
	switch {
	case cut || len(raw) < head:
		return nil, ErrCut
	case raw[1] > version:
		return nil, ErrNewer
	case raw[1] == 0:
		return nil, ErrForeign
	case binary.BigEndian.Uint32(raw[2:]) != crc32.ChecksumIEEE(raw[head:]):
		return nil, ErrCut
	}
	return raw, nil
}
