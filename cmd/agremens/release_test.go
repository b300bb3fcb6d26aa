package main

import (
	"bufio"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The program for this machine serves the page from an empty folder, without
// the go command. It takes a minute: AGREMENS_RELEASE=1 asks for it.
func TestTheReleasedProgramServesThePage(t *testing.T) {
	if os.Getenv("AGREMENS_RELEASE") == "" {
		t.Skip("AGREMENS_RELEASE=1 makes a release and runs it")
	}
	dir := t.TempDir()
	own := runtime.GOOS + "-" + runtime.GOARCH
	code, out, errs := call("release", "-quick", "-only", own, "-o", dir)
	require.Equal(t, 0, code, errs)
	assert.Contains(t, out, "agremens-site.zip")

	server := exec.Command(filepath.Join(dir, "agremens-"+own), "-addr", "127.0.0.1:0")
	server.Dir, server.Env = t.TempDir(), []string{"PATH=", "HOME=" + t.TempDir()}
	pipe, err := server.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, server.Start())
	t.Cleanup(func() { _ = server.Process.Kill(); _ = server.Wait() })
	line, err := bufio.NewReader(pipe).ReadString('\n')
	require.NoError(t, err)
	url := strings.TrimSpace(line)
	get := func(name string) (string, http.Header) {
		res, err := http.Get(url + name)
		require.NoError(t, err)
		defer res.Body.Close()
		body, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		require.Equal(t, 200, res.StatusCode, name)
		return string(body), res.Header
	}
	index, _ := get("")
	for _, name := range regexp.MustCompile(`(?:src|href|data-wasm|data-rest)="([^"#:]+)"`).FindAllStringSubmatch(index, -1) {
		body, header := get(name[1])
		assert.NotEmpty(t, body, name[1])
		assert.Contains(t, header.Get("Cache-Control"), "immutable", name[1])
	}
}
