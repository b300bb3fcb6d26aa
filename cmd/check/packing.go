package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"github.com/andybalholm/brotli"
)

// packed returns how many bytes brotli makes of b at its best. That takes a
// second a megabyte, so what it came to is kept by what b is.
func (c *check) packed(b []byte) (int, error) {
	name := filepath.Join(c.work, "packed", fmt.Sprintf("%x", sha256.Sum256(b)))
	if text, err := os.ReadFile(name); err == nil {
		if n, err := strconv.Atoi(string(text)); err == nil {
			return n, nil
		}
	}
	n := len(pack(b))
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return 0, err
	}
	return n, os.WriteFile(name, []byte(strconv.Itoa(n)), 0o644)
}

func pack(b []byte) []byte { return compress(b, brotli.BestCompression) }

func compress(b []byte, quality int) []byte {
	var out bytes.Buffer
	w := brotli.NewWriterOptions(&out, brotli.WriterOptions{Quality: quality, LGWin: 24})
	w.Write(b) // a bytes.Buffer does not fail
	w.Close()
	return out.Bytes()
}
