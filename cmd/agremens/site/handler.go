package site

import (
	"bytes"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// Policy is the Content-Security-Policy of the page: everything from the
// page's own host, nothing inline but pictures (web/seen.js), and WebAssembly
// allowed to compile. All but its last part stands in the page too, for hosts
// that send no headers.
const Policy = PagePolicy + "; frame-ancestors 'none'"

// PagePolicy is the part of [Policy] that a page can state itself.
const PagePolicy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; " +
	"connect-src 'self'; img-src 'self' data:; worker-src 'self'; manifest-src 'self'; " +
	"base-uri 'none'; form-action 'none'"

// Permissions allows the page to ask for MIDI keyboards and the microphone, and
// denies it what it never uses.
const Permissions = "midi=(self), microphone=(self), " + never

// NoPermissions is what all else gets, the manual's pages too: nothing there
// opens a microphone.
const NoPermissions = "midi=(), microphone=(), " + never

const never = "camera=(), display-capture=(), geolocation=(), payment=(), usb=(), serial=(), hid=(), bluetooth=()"

// Handler serves s. Cross-origin isolation gives the page finer time stamps.
func Handler(s *Site) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", Policy)
		h.Set("Permissions-Policy", permissions(r.URL.Path))
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Embedder-Policy", "require-corp")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "only GET and HEAD are answered", http.StatusMethodNotAllowed)
			return
		}
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			name = "index.html"
		}
		f := s.files[name]
		if f == nil {
			http.NotFound(w, r)
			return
		}
		body, encoding := f.Raw, ""
		switch accept := r.Header.Get("Accept-Encoding"); {
		case f.Brotli != nil && accepts(accept, "br"):
			body, encoding = f.Brotli, "br"
		case f.Gzip != nil && accepts(accept, "gzip"):
			body, encoding = f.Gzip, "gzip"
		}
		h.Set("Content-Type", f.Type)
		h.Set("Vary", "Accept-Encoding")
		h.Set("ETag", `"`+f.Hash+encoding+`"`)
		h.Set("Cache-Control", "no-cache")
		if f.Lasting {
			h.Set("Cache-Control", "public, max-age=31536000, immutable")
		}
		if encoding != "" {
			h.Set("Content-Encoding", encoding)
		}
		http.ServeContent(steady{w, http.NewResponseController(w)}, r, "", time.Time{}, bytes.NewReader(body))
	})
}

// permissions are those of a path.
func permissions(path string) string {
	if path == "/" || path == "/index.html" {
		return Permissions
	}
	return NoPermissions
}

// patience is how long a reader may take over one write, 32 kB.
var patience = 30 * time.Second

// steady lets a reader go that stops reading; one that is merely slow may take
// as long as it needs.
type steady struct {
	http.ResponseWriter
	connection *http.ResponseController
}

func (s steady) Write(p []byte) (int, error) {
	// What is not a connection, as in a test, has no deadlines.
	_ = s.connection.SetWriteDeadline(time.Now().Add(patience))
	return s.ResponseWriter.Write(p)
}

// accepts reports whether an Accept-Encoding header allows a coding.
func accepts(header, coding string) bool {
	for part := range strings.SplitSeq(header, ",") {
		name, params, _ := strings.Cut(strings.TrimSpace(part), ";")
		if !strings.EqualFold(strings.TrimSpace(name), coding) {
			continue
		}
		q, found := strings.CutPrefix(strings.TrimSpace(params), "q=")
		weight, err := strconv.ParseFloat(q, 64)
		return !found || err != nil || weight > 0
	}
	return false
}
