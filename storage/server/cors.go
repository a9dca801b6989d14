package server

import (
	"fmt"
	"net/http"
	"net/netip"
	"net/url"
	"strings"

	"torchside/storage/wire"
)

// What a page of an allowed site may send and read (Fetch standard, section 3.3). Cookies are never asked for nor sent: who may do
// what is decided by the device's token alone.
const (
	crossMethods = "GET, POST, PUT, PATCH, DELETE"
	crossHeaders = "Authorization, Content-Type, Content-Encoding"
	crossReads   = "Date, Retry-After, " + wire.HeaderSize
	crossKept    = "600" // seconds a browser may keep the answer
)

// CheckOrigin refuses what is not the origin of a site whose pages may ask: https://host or https://host:port, no more; http for this
// machine alone. "*" and "null" are no origins.
func CheckOrigin(origin string) error {
	u, err := url.Parse(origin)
	if err != nil {
		return fmt.Errorf("%q is not an origin: %w", origin, err)
	}
	if u.Scheme+"://"+u.Host != origin || u.Hostname() == "" || strings.ContainsAny(u.Host, "* ") {
		return fmt.Errorf("%q is not an origin: https://host or https://host:port is, in small letters, with nothing behind it", origin)
	}
	if u.Scheme == "https" || u.Scheme == "http" && onlyHere(u.Hostname()) {
		return nil
	}
	return fmt.Errorf("%q has no HTTPS: browsers keep nothing offline for it, and anybody on the way could change the app", origin)
}

func onlyHere(host string) bool {
	addr, err := netip.ParseAddr(host)
	return host == "localhost" || err == nil && addr.IsLoopback()
}

// allowOthers answers for the pages of sites the owner has named. It reports whether the request, a browser's question beforehand, is
// answered with that.
func (s *Server) allowOthers(w http.ResponseWriter, r *http.Request) bool {
	if len(s.allowed) == 0 {
		return false
	}
	h := w.Header()
	h.Add("Vary", "Origin")
	origin := r.Header.Get("Origin")
	if !s.allowed[origin] {
		return false
	}
	h.Set("Access-Control-Allow-Origin", origin)
	h.Set("Access-Control-Expose-Headers", crossReads)
	if r.Method != http.MethodOptions || r.Header.Get("Access-Control-Request-Method") == "" {
		return false
	}
	h.Set("Access-Control-Allow-Methods", crossMethods)
	h.Set("Access-Control-Allow-Headers", crossHeaders)
	h.Set("Access-Control-Max-Age", crossKept)
	w.WriteHeader(http.StatusNoContent)
	return true
}
