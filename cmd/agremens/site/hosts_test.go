package site_test

import (
	"net"
	"net/http"
	"net/http/httptest"
	"testing"

	"agremens/cmd/agremens/site"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOnlyTheListenersOwnNamesAreAnswered(t *testing.T) {
	for _, tc := range []struct {
		listens, host string
		status        int
	}{
		{"127.0.0.1:8017", "127.0.0.1:8017", 200},
		{"127.0.0.1:8017", "localhost:8017", 200},
		{"127.0.0.1:8017", "[::1]:8017", 200},
		{"127.0.0.1:8017", "127.0.0.1:9999", 200},
		{"127.0.0.1:8017", "example.org:8017", 421},
		{"127.0.0.1:8017", "example.org", 421},
		{"127.0.0.1:8017", "", 421},
		{"127.0.0.1:8017", "localhost", 200},
		{"192.168.1.5:8017", "192.168.1.5:8017", 200},
		{"192.168.1.5:8017", "192.168.1.6:8017", 421},
		{"192.168.1.5:8017", "studio:8017", 421},
		{"0.0.0.0:8017", "192.168.1.5:8017", 200},
		{"0.0.0.0:8017", "studio:8017", 200},
		{"0.0.0.0:8017", "studio.local:8017", 200},
		{"0.0.0.0:8017", "example.org:8017", 421},
		{"[::]:8017", "[fe80::1]:8017", 200},
	} {
		addr, err := net.ResolveTCPAddr("tcp", tc.listens)
		require.NoError(t, err)
		h := site.OnlyFor(addr, "studio", http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(200) }))
		r := httptest.NewRequest("GET", "/", nil)
		r.Host = tc.host
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		assert.Equal(t, tc.status, w.Code, "%s asked for as %q", tc.listens, tc.host)
	}
}
