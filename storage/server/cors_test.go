package server_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"torchside/storage/server"
	"torchside/storage/wire"
)

const allowedSite = "https://pages.example"

// newAllowing is a shop whose server lets the pages of one other site ask.
func newAllowing(t *testing.T) *isolated {
	t.Helper()
	x := newIsolated(t)
	x.allow = []string{allowedSite}
	x.restart()
	return x
}

// A page of the named site gets what the device's token allows, and can read it.
func TestServer_pagesOfANamedSiteMayAsk(t *testing.T) {
	x := newAllowing(t)
	for _, route := range x.srv.Routes() {
		q := x.request(t, route)
		q.token = x.mine.token
		q.header = merged(q.header, map[string]string{"Origin": allowedSite, "Sec-Fetch-Site": "cross-site"})
		resp, refused, body := x.ask(q)
		if refused.Code == wire.CodeCrossOrigin || resp.Header.Get("Access-Control-Allow-Origin") != allowedSite {
			t.Errorf("%s %s: %d %v %s", route.Method, route.Path, resp.StatusCode, resp.Header, body)
		}
		if !slices.Contains(resp.Header.Values("Vary"), "Origin") {
			t.Errorf("%s %s: a store between could give the answer to another site: Vary %v", route.Method, route.Path, resp.Header.Values("Vary"))
		}
		pre, _, _ := x.ask(preflight(route.Method, q.path, allowedSite))
		if pre.StatusCode != http.StatusNoContent || !strings.Contains(pre.Header.Get("Access-Control-Allow-Methods"), route.Method) ||
			!strings.Contains(pre.Header.Get("Access-Control-Allow-Headers"), "Authorization") {
			t.Errorf("asked beforehand for %s %s: %d %v", route.Method, route.Path, pre.StatusCode, pre.Header)
		}
		if got := pre.Header.Get("Access-Control-Allow-Credentials") + resp.Header.Get("Access-Control-Allow-Credentials"); got != "" {
			t.Errorf("%s %s takes cookies: %q", route.Method, route.Path, got)
		}
	}
}

// A site that is named does not open the door to those that are not, nor does its name stand for a token.
func TestServer_pagesOfOtherSitesStayOutBesideANamedOne(t *testing.T) {
	x := newAllowing(t)
	for _, origin := range []string{
		"https://evil.example", "null", "http://pages.example", "https://pages.example:8443", "https://pages.example.evil.example",
		"https://PAGES.example", "https://pages.example/", "https://sub.pages.example", "https://pages.example, https://evil.example",
	} {
		for _, route := range x.srv.Routes() {
			q := x.request(t, route)
			q.token = x.mine.token
			q.header = merged(q.header, map[string]string{"Origin": origin, "Sec-Fetch-Site": "cross-site"})
			pre, _, _ := x.ask(preflight(route.Method, q.path, origin))
			resp, refused, body := x.ask(q)
			if route.Method != http.MethodGet && refused.Code != wire.CodeCrossOrigin {
				t.Errorf("%s %s from %s: %d %s", route.Method, route.Path, origin, resp.StatusCode, body)
			}
			for _, h := range []http.Header{resp.Header, pre.Header} {
				for name := range h {
					if strings.HasPrefix(name, "Access-Control-") {
						t.Errorf("%s %s tells %s: %s", route.Method, route.Path, origin, name)
					}
				}
			}
		}
	}
	_, refused, _ := x.ask(asked{method: http.MethodGet, path: "/devices", header: map[string]string{"Origin": allowedSite}})
	if refused.Code != wire.CodeUnauthorized {
		t.Errorf("without a token: %q", refused.Code)
	}
}

func TestCheckOrigin(t *testing.T) {
	for _, ok := range []string{"https://a.example", "https://a.example:8443", "https://192.168.1.5", "http://localhost:8080", "http://127.0.0.1", "http://[::1]:80"} {
		if err := server.CheckOrigin(ok); err != nil {
			t.Errorf("%s: %v", ok, err)
		}
	}
	for _, bad := range []string{
		"", "*", "null", "https://", "https://*", "https://*.example", "http://a.example", "a.example", "https://a.example/", "https://a.example/x",
		"https://me@a.example", "ftp://localhost", "https://a.example?x", "https://a.example#x", "HTTPS://a.example", " https://a.example",
	} {
		if err := server.CheckOrigin(bad); err == nil {
			t.Errorf("%q passed", bad)
		}
	}
}

func merged(a, b map[string]string) map[string]string {
	all := map[string]string{}
	for _, m := range []map[string]string{a, b} {
		for k, v := range m {
			all[k] = v
		}
	}
	return all
}

// preflight is what a browser asks before it lets a page ask.
func preflight(method, path, origin string) asked {
	return asked{method: http.MethodOptions, path: path, header: map[string]string{
		"Origin": origin, "Access-Control-Request-Method": method, "Access-Control-Request-Headers": "authorization,content-type",
	}}
}
