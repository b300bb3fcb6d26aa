package site_test

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/cmd/agremens/site"
	"agremens/web"
)

var long = strings.Repeat("a line that repeats itself\n", 200)

func page() map[string][]byte {
	return map[string][]byte{
		"index.html":    []byte(`<script src="boot.js"></script><link href="./style.css"><img src="img/a.png"> a.png is mentioned`),
		"boot.js":       []byte("fetch('agremens.wasm') // " + long),
		"style.css":     []byte("#stage{}"),
		"agremens.wasm": []byte(long),
		"img/a.png":     []byte("not packed further"),
		"sw.js":         []byte(`const files = ["/boot.js", "style.css"]`),
	}
}

func TestPlainNamesKeepTheFiles(t *testing.T) {
	s, err := site.Pack(page(), site.Options{Quality: site.Quick})
	require.NoError(t, err)
	want := page()
	assert.Len(t, s.Files(), len(want))
	for _, f := range s.Files() {
		assert.Equal(t, string(want[f.Path]), string(f.Raw), f.Path)
		assert.False(t, f.Lasting, f.Path)
	}
}

func TestHashedNamesFollowEveryReference(t *testing.T) {
	s, err := site.Pack(page(), site.Options{HashNames: true, Quality: site.Quick})
	require.NoError(t, err)
	byKind := map[string]*site.File{}
	for _, f := range s.Files() {
		stem, _, _ := strings.Cut(f.Path, "-")
		byKind[stem] = f
	}
	index, boot, style := byKind["index.html"], byKind["boot"], byKind["style"]
	require.NotNil(t, index)
	require.NotNil(t, boot)
	require.NotNil(t, style)
	assert.Contains(t, string(index.Raw), `src="`+boot.Path+`"`)
	assert.Contains(t, string(index.Raw), `href="./`+style.Path+`"`)
	assert.Contains(t, string(index.Raw), `src="`+byKind["img/a"].Path+`"`)
	assert.Contains(t, string(index.Raw), "a.png is mentioned", "words are no references")
	assert.Contains(t, string(boot.Raw), "fetch('"+byKind["agremens"].Path+"')")
	assert.Contains(t, string(byKind["sw.js"].Raw), `["/`+boot.Path+`", "`+style.Path+`"]`)
	assert.True(t, boot.Lasting)
	assert.False(t, index.Lasting)
}

func TestHashedNamesChangeWithWhatTheyReferTo(t *testing.T) {
	name := func(program string) string {
		files := page()
		files["agremens.wasm"] = []byte(program)
		s, err := site.Pack(files, site.Options{HashNames: true, Quality: site.Quick})
		require.NoError(t, err)
		for _, f := range s.Files() {
			if strings.HasPrefix(f.Path, "boot-") {
				return f.Path
			}
		}
		t.Fatal("boot is missing")
		return ""
	}
	assert.NotEqual(t, name("one"), name("two"))
}

func TestPackRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		files map[string][]byte
		says  string
	}{
		{"no index", map[string][]byte{"a.js": nil}, "index.html"},
		{"a circle", map[string][]byte{"index.html": []byte("x"), "a.js": []byte("'b.js'"), "b.js": []byte("'a.js'")}, "circle"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := site.Pack(c.files, site.Options{HashNames: true, Quality: site.Quick})
			assert.ErrorContains(t, err, c.says)
		})
	}
}

func serve(t *testing.T) *httptest.Server {
	s, err := site.Pack(page(), site.Options{Quality: site.Quick})
	require.NoError(t, err)
	server := httptest.NewServer(site.Handler(s))
	t.Cleanup(server.Close)
	return server
}

func get(t *testing.T, url, header, value string) (*http.Response, []byte) {
	req, err := http.NewRequest("GET", url, nil)
	require.NoError(t, err)
	req.Header.Set("Accept-Encoding", "identity")
	if header != "" {
		req.Header.Set(header, value)
	}
	res, err := http.DefaultClient.Do(req)
	require.NoError(t, err)
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	return res, body
}

func TestHandlerHeaders(t *testing.T) {
	server := serve(t)
	for _, c := range []struct{ path, contentType string }{
		{"/", "text/html; charset=utf-8"},
		{"/?passage=trill&bars=1-4", "text/html; charset=utf-8"},
		{"/boot.js", "text/javascript; charset=utf-8"},
		{"/style.css", "text/css; charset=utf-8"},
		{"/agremens.wasm", "application/wasm"},
		{"/img/a.png", "image/png"},
	} {
		t.Run(c.path, func(t *testing.T) {
			res, _ := get(t, server.URL+c.path, "", "")
			assert.Equal(t, 200, res.StatusCode)
			assert.Equal(t, c.contentType, res.Header.Get("Content-Type"))
			assert.Equal(t, "nosniff", res.Header.Get("X-Content-Type-Options"))
			page := c.contentType == "text/html; charset=utf-8"
			for _, what := range []string{"midi", "microphone"} {
				assert.Equal(t, page, strings.Contains(res.Header.Get("Permissions-Policy"), what+"=(self)"), what)
				assert.Equal(t, !page, strings.Contains(res.Header.Get("Permissions-Policy"), what+"=()"), what)
			}
			assert.Equal(t, "same-origin", res.Header.Get("Cross-Origin-Opener-Policy"))
			assert.Equal(t, "require-corp", res.Header.Get("Cross-Origin-Embedder-Policy"))
			assert.Contains(t, res.Header.Get("Content-Security-Policy"), "script-src 'self' 'wasm-unsafe-eval';")
			assert.NotContains(t, res.Header.Get("Content-Security-Policy"), "unsafe-inline")
		})
	}
}

func TestHandlerEncodings(t *testing.T) {
	server := serve(t)
	for _, c := range []struct{ accept, encoding string }{
		{"gzip, deflate, br, zstd", "br"},
		{"gzip, br;q=0", "gzip"},
		{"gzip", "gzip"},
		{"identity", ""},
		{"brotli", ""},
	} {
		t.Run(c.accept, func(t *testing.T) {
			res, body := get(t, server.URL+"/agremens.wasm", "Accept-Encoding", c.accept)
			assert.Equal(t, c.encoding, res.Header.Get("Content-Encoding"))
			assert.Equal(t, "Accept-Encoding", res.Header.Get("Vary"))
			assert.Equal(t, long, string(unpack(t, c.encoding, body)))
		})
	}
}

func unpack(t *testing.T, encoding string, body []byte) []byte {
	var r io.Reader = bytes.NewReader(body)
	switch encoding {
	case "br":
		r = brotli.NewReader(r)
	case "gzip":
		z, err := gzip.NewReader(r)
		require.NoError(t, err)
		r = z
	}
	out, err := io.ReadAll(r)
	require.NoError(t, err)
	return out
}

func TestHandlerAnswersAKnownTagWithNothing(t *testing.T) {
	server := serve(t)
	first, _ := get(t, server.URL+"/boot.js", "", "")
	require.NotEmpty(t, first.Header.Get("ETag"))
	again, body := get(t, server.URL+"/boot.js", "If-None-Match", first.Header.Get("ETag"))
	assert.Equal(t, http.StatusNotModified, again.StatusCode)
	assert.Empty(t, body)
}

// What has its content's hash in its name may be kept for a year; the page
// itself is asked for anew each time.
func TestHandlerSaysWhatMayBeKept(t *testing.T) {
	packed, err := site.Pack(page(), site.Options{HashNames: true, Quality: site.Quick})
	require.NoError(t, err)
	server := httptest.NewServer(site.Handler(packed))
	t.Cleanup(server.Close)
	kept := 0
	for _, f := range packed.Files() {
		res, _ := get(t, server.URL+"/"+f.Path, "", "")
		want := "no-cache"
		if f.Path != "index.html" && f.Path != "sw.js" {
			assert.Contains(t, f.Path, f.Hash)
			want, kept = "public, max-age=31536000, immutable", kept+1
		}
		assert.Equal(t, want, res.Header.Get("Cache-Control"), f.Path)
	}
	assert.Equal(t, 4, kept)
}

func TestHandlerRefuses(t *testing.T) {
	server := serve(t)
	for _, path := range []string{"/nothing", "/img", "/img/", "/../go.mod"} {
		res, _ := get(t, server.URL+path, "", "")
		assert.Equal(t, 404, res.StatusCode, path)
	}
	res, err := http.Post(server.URL+"/", "text/plain", nil)
	require.NoError(t, err)
	res.Body.Close()
	assert.Equal(t, http.StatusMethodNotAllowed, res.StatusCode)
}

// Every answer, also a refusal, carries the headers that lock the page down.
func TestEveryAnswerIsLockedDown(t *testing.T) {
	server := serve(t)
	want := map[string]string{
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "no-referrer",
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Embedder-Policy": "require-corp",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Content-Security-Policy":      site.Policy,
	}
	for _, c := range []struct{ method, path string }{
		{"GET", "/"}, {"HEAD", "/boot.js"}, {"GET", "/sw.js"}, {"GET", "/agremens.wasm"}, {"GET", "/nothing"}, {"POST", "/"}, {"DELETE", "/boot.js"},
	} {
		t.Run(c.method+" "+c.path, func(t *testing.T) {
			req, err := http.NewRequest(c.method, server.URL+c.path, nil)
			require.NoError(t, err)
			res, err := http.DefaultClient.Do(req)
			require.NoError(t, err)
			res.Body.Close()
			for name, value := range want {
				assert.Equal(t, value, res.Header.Get(name), name)
			}
			assert.Contains(t, res.Header.Get("Permissions-Policy"), "camera=()")
			assert.Empty(t, res.Header.Get("Access-Control-Allow-Origin"))
			assert.Empty(t, res.Header.Get("Set-Cookie"))
		})
	}
}

// Everything the policy allows comes from the page's own host.
func TestPolicyNamesNoOtherHost(t *testing.T) {
	for directive := range strings.SplitSeq(site.Policy, ";") {
		fields := strings.Fields(directive)
		require.NotEmpty(t, fields)
		allowed := []string{"'none'", "'self'", "'wasm-unsafe-eval'"}
		if fields[0] == "img-src" {
			allowed = append(allowed, "data:") // the picture of the staff that the device itself keeps
		}
		for _, source := range fields[1:] {
			assert.Contains(t, allowed, source, directive)
		}
	}
	for _, needed := range []string{"default-src 'none'", "base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'"} {
		assert.Contains(t, site.Policy, needed)
	}
}

// Paths as they stand on the wire, which no client cleans up.
func TestNoPathLeavesTheSite(t *testing.T) {
	server := serve(t)
	for _, path := range []string{
		"/../go.mod", "/../../../../etc/passwd", "/img/../../go.mod", "/%2e%2e/go.mod", "/..%2fgo.mod", "/%2e%2e%2f%2e%2e%2fetc%2fpasswd",
		"//etc/passwd", "/etc/passwd", "/./../etc/passwd", "/..%5c..%5cetc%5cpasswd", "/boot.js/", "/boot.js/../../go.mod", "/boot.js%00",
		"/img", "/img/", "/.git/config", "/handler.go", "/site_test.go", "/boot.js.br", "/BOOT.JS",
	} {
		t.Run(path, func(t *testing.T) {
			conn, err := net.Dial("tcp", strings.TrimPrefix(server.URL, "http://"))
			require.NoError(t, err)
			defer conn.Close()
			_, err = io.WriteString(conn, "GET "+path+" HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")
			require.NoError(t, err)
			res, err := http.ReadResponse(bufio.NewReader(conn), nil)
			require.NoError(t, err)
			defer res.Body.Close()
			assert.Contains(t, []int{http.StatusNotFound, http.StatusBadRequest}, res.StatusCode)
		})
	}
}

func TestWriteLaysThePackedFormsBeside(t *testing.T) {
	s, err := site.Pack(page(), site.Options{Quality: site.Quick})
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, s.Write(dir))
	for _, c := range []struct{ suffix, encoding string }{{"", ""}, {".br", "br"}, {".gz", "gzip"}} {
		body, err := os.ReadFile(filepath.Join(dir, "agremens.wasm"+c.suffix))
		require.NoError(t, err)
		assert.Equal(t, long, string(unpack(t, c.encoding, body)), c.suffix)
	}
	assert.NoFileExists(t, filepath.Join(dir, "img", "a.png.br"), "a picture is packed already")
	left, err := filepath.Glob(filepath.Join(dir, ".partly-*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

// A host that sends no headers serves the same policy with the page.
func TestThePageStatesItsPolicy(t *testing.T) {
	files, err := web.Files()
	require.NoError(t, err)
	assert.Contains(t, string(files["index.html"]), `<meta http-equiv="Content-Security-Policy" content="`+site.PagePolicy+`">`)
}

// A reader that stops reading is let go; nothing is kept for it.
func TestStuckReadersAreLetGo(t *testing.T) {
	old := site.SetPatience(50 * time.Millisecond)
	t.Cleanup(func() { site.SetPatience(old) })
	big := page()
	big["img/a.png"] = make([]byte, 16<<20) // more than a connection holds on its way
	packed, err := site.Pack(big, site.Options{Quality: 1})
	require.NoError(t, err)
	done := make(chan struct{})
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		site.Handler(packed).ServeHTTP(w, r)
		close(done)
	}))
	t.Cleanup(server.Close)
	c, err := net.Dial("tcp", strings.TrimPrefix(server.URL, "http://"))
	require.NoError(t, err)
	defer c.Close()
	_, err = io.WriteString(c, "GET /img/a.png HTTP/1.1\r\nHost: x\r\n\r\n")
	require.NoError(t, err)
	select {
	case <-done: // though nothing was read
	case <-time.After(30 * time.Second):
		t.Fatal("the server still waits for the reader")
	}
}
