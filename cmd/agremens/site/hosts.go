package site

import (
	"net"
	"net/http"
	"net/netip"
)

// OnlyFor answers requests for the address that a server listens on and
// refuses others, so that no web site can reach a visitor's own server under
// a name of its own. A server that listens on all addresses is asked for by
// any number, or by the machine's name. The port is not looked at: a proxy on
// this machine may stand in front.
func OnlyFor(addr net.Addr, machine string, next http.Handler) http.Handler {
	own, err := netip.ParseAddrPort(addr.String())
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if err == nil && !asksFor(r.Host, own, machine) {
			http.Error(w, "this server does not answer for "+r.Host, http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func asksFor(host string, own netip.AddrPort, machine string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	ip, err := netip.ParseAddr(name)
	isIP := err == nil
	switch {
	case own.Addr().IsUnspecified():
		return isIP || name == "localhost" || name == machine || name == machine+".local"
	case own.Addr().IsLoopback():
		return name == "localhost" || isIP && ip.IsLoopback()
	}
	return isIP && ip == own.Addr()
}
