package web_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/web"
)

func TestFilesAreWhole(t *testing.T) {
	files, err := web.Files()
	require.NoError(t, err)
	index := string(files["index.html"])
	assert.NotContains(t, index, "<!-- part:")
	assert.Contains(t, index, `id="listen"`)
	for _, name := range []string{"style.css", "words.js", "boot.js", "rest.js", "fault.js", "audio.js", "worklet.js", "sw.js", "manifest.webmanifest", "icon.svg"} {
		assert.NotEmpty(t, files[name], name)
	}
}

// An id that stands twice would let a control answer for another.
func TestIDsAreUnique(t *testing.T) {
	files, err := web.Files()
	require.NoError(t, err)
	seen := map[string]bool{}
	ids := regexp.MustCompile(`\sid="([^"]+)"`).FindAllStringSubmatch(string(files["index.html"]), -1)
	require.Greater(t, len(ids), 40)
	for _, id := range ids {
		assert.False(t, seen[id[1]], "id %q stands twice", id[1])
		seen[id[1]] = true
	}
}

// The content security policy forbids both.
func TestNothingInline(t *testing.T) {
	files, err := web.Files()
	require.NoError(t, err)
	index := string(files["index.html"])
	assert.NotContains(t, index, " style=")
	assert.NotContains(t, regexp.MustCompile(`<script( defer)? src=`).ReplaceAllString(index, ""), "<script")
	assert.NotRegexp(t, `\son[a-z]+="`, index)
}

// A question mark without an answer, or an answer nobody can reach, is no help.
func TestHelp(t *testing.T) {
	files, err := web.Files()
	require.NoError(t, err)
	index := string(files["index.html"])
	asked, answered := map[string]bool{}, map[string]bool{}
	for _, m := range regexp.MustCompile(`<button class="what" type="button" data-help="([a-z]+)" aria-label="Help: [^"]+">`).FindAllStringSubmatch(index, -1) {
		asked[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`<section id="help-([a-z]+)" hidden>\s*<h2 tabindex="-1">[^<]+</h2>`).FindAllStringSubmatch(index, -1) {
		answered[m[1]] = true
	}
	require.Greater(t, len(asked), 10)
	assert.Equal(t, asked, answered)
	assert.Equal(t, strings.Count(index, "data-help="), strings.Count(index, `aria-label="Help: `))
}
