package main

import (
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"os"
	"slices"
	"strings"
)

// hosts decides which Host headers are answered. A page from elsewhere that points its own name
// at this machine (DNS rebinding) must not be able to read a shop's data.
type hosts struct{ names []string }

// newHosts allows the machine's own name and the given ones.
func newHosts(names ...string) hosts {
	all := []string{"localhost"}
	if own, err := os.Hostname(); err == nil {
		own = strings.ToLower(own)
		all = append(all, own, own+".local")
	}
	for _, name := range names {
		if name != "" {
			all = append(all, strings.ToLower(name))
		}
	}
	slices.Sort(all)
	return hosts{slices.Compact(all)}
}

// allows reports whether a Host header names this server.
func (h hosts) allows(header string) bool {
	name := hostOnly(header)
	if addr, err := netip.ParseAddr(name); err == nil {
		return addr.IsLoopback() || slices.Contains(ownAddrs(), addr.WithZone("").Unmap()) || slices.Contains(h.names, name)
	}
	return slices.Contains(h.names, strings.TrimSuffix(strings.ToLower(name), "."))
}

// check refuses requests for other hosts with 421 (RFC 9110 section 15.5.20).
func (h hosts) check(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !h.allows(r.Host) {
			text := fmt.Sprintf("This server does not answer to the name %q. If it should, start it with --names.", hostOnly(r.Host))
			http.Error(w, text, http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// hostOnly takes port and brackets off a host.
func hostOnly(hostport string) string {
	if host, _, err := net.SplitHostPort(hostport); err == nil {
		return host
	}
	return strings.Trim(hostport, "[]")
}

// ownAddrs are the machine's addresses at this moment; they change with the network.
func ownAddrs() []netip.Addr {
	found, err := net.InterfaceAddrs()
	if err != nil {
		return nil // then only names and loopback are answered
	}
	var own []netip.Addr
	for _, a := range found {
		if prefix, err := netip.ParsePrefix(a.String()); err == nil {
			own = append(own, prefix.Addr().Unmap())
		}
	}
	return own
}
