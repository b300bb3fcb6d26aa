package main

import (
	"bytes"
	"fmt"
	"strings"

	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/score"
)

// decode reads a score of any format the program knows by its contents; the
// name is only for messages. Warnings come in words.
func decode(name string, data []byte, yield func()) (*score.Passage, []string, error) {
	if looksLikeABC(data) {
		p, warnings, err := abc.Decode(string(data))
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", name, err)
		}
		var words []string
		for _, w := range warnings {
			words = append(words, fmt.Sprint(w))
		}
		return p, words, nil
	}
	r, err := musicxml.Decode(data, yield)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	var words []string
	for _, w := range r.Warnings {
		words = append(words, w.Where+": "+w.What)
	}
	return r.Passage, words, nil
}

// looksLikeABC reports whether data begins as ABC text does: with a field or
// a comment, and holds a key field.
func looksLikeABC(data []byte) bool {
	text := strings.TrimLeft(string(data[:min(len(data), 4096)]), "\ufeff \t\r\n")
	if len(text) < 2 || bytes.HasPrefix(data, []byte("PK")) {
		return false
	}
	field := text[1] == ':' && (text[0] >= 'A' && text[0] <= 'Z')
	return (field || text[0] == '%') && (strings.HasPrefix(text, "K:") || strings.Contains(text, "\nK:"))
}
