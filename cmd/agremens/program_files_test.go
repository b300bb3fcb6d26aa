package main

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/cmd/agremens/program"
	"agremens/cmd/agremens/site"
	"agremens/web"
)

// A program that could not be cut is served in one part, and nothing asks for
// another.
func TestAPageOfOnePart(t *testing.T) {
	for name, p := range map[string]program.Parts{
		"two parts": {Begin: []byte("begin"), Rest: []byte("rest")},
		"one part":  {Begin: []byte("whole"), Uncut: errors.New("another Go")},
	} {
		t.Run(name, func(t *testing.T) {
			files, err := web.Files()
			require.NoError(t, err)
			require.NoError(t, addProgram(files, p))
			s, err := site.Pack(files, site.Options{HashNames: true, Quality: site.Plain})
			require.NoError(t, err)
			named := 0
			for _, f := range s.Files() {
				if f.Path == "index.html" || f.Path == "sw.js" {
					named += strings.Count(string(f.Raw), "agremens-rest")
				}
			}
			assert.Equal(t, map[bool]int{true: 2, false: 0}[p.Rest != nil], named, "once in the page, once in what is kept of it")
		})
	}
}
