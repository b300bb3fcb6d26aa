package main

import (
	"bytes"
	"encoding/xml"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/web"
)

// The page shows music before there is a program: one picture, well formed,
// and small enough not to keep the page waiting.
func TestThePageOpensWithMusic(t *testing.T) {
	files, err := web.Files()
	require.NoError(t, err)
	before := len(files["index.html"])
	require.NoError(t, drawWelcome(files))
	page := files["index.html"]
	_, rest, found := bytes.Cut(page, []byte(`<div class="first"`))
	require.True(t, found)
	from, to := bytes.Index(rest, []byte("<svg")), bytes.Index(rest, []byte("</svg>"))
	require.True(t, 0 < from && from < to)
	picture := rest[from : to+len("</svg>")]
	assert.Less(t, len(page)-before, 60_000)
	elements := 0
	for read := xml.NewDecoder(bytes.NewReader(picture)); ; elements++ {
		if _, err := read.Token(); err == io.EOF {
			break
		} else {
			require.NoError(t, err)
		}
	}
	assert.Greater(t, elements, 100)
	assert.NotContains(t, string(picture), "#000")
	assert.Error(t, drawWelcome(files), "there is no place for a second one")
}
