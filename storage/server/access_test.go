package server_test

import (
	"encoding/base64"
	"net/http"
	"strings"
	"testing"

	"torchside/storage"
	"torchside/storage/server"
	"torchside/storage/wire"
)

// isolated is a vault with two shops; the first has an op, an attachment and a device.
type isolated struct {
	*world
	mine, theirs phone // of the first shop and of the second
	secret       storage.Op
	photo        storage.Hash
	maker        opMaker
}

const secretText = "only for the first shop"

func newIsolated(t *testing.T) *isolated {
	w := newWorld(t)
	x := &isolated{world: w, mine: w.join(w.shop("First"), "Phone"), theirs: w.join(w.shop("Second"), "Tablet")}
	photo := []byte("the bytes of a photo")
	x.photo = storage.HashOf(photo)
	x.secret = x.maker.op(t, secretText, x.photo)
	x.mine.push(t, x.maker.dev, x.secret)
	if err := x.mine.PutPiece(t.Context(), x.photo, 0, photo, true); err != nil {
		t.Fatal(err)
	}
	return x
}

// request fills in a route so that the first shop's device would get a good answer.
func (x *isolated) request(t *testing.T, r server.Route) asked {
	t.Helper()
	q := asked{method: r.Method, path: r.Path}
	switch r.Method + " " + r.Path {
	case "POST /pair":
		q.body = []byte(`{"code":"00000000","name":"Stranger"}`)
	case "POST /sync":
		q.body = []byte(`{"dev":"` + string(x.maker.dev) + `","since":{"store":"","seq":0,"chain":""}}`)
	case "GET /blob/*/state", "GET /blob/*":
		q.path = strings.Replace(r.Path, "*", x.photo, 1)
	case "PUT /blob/*":
		q.path = strings.Replace(r.Path, "*", x.photo, 1) + "?offset=0"
		q.body, q.header = []byte("other bytes"), map[string]string{"Content-Type": "application/octet-stream"}
	case "GET /devices", "POST /codes":
	case "PATCH /devices/*":
		q.path = strings.Replace(r.Path, "*", x.mine.id, 1)
		q.body = []byte(`{"name":"Taken over"}`)
	case "DELETE /devices/*":
		q.path = strings.Replace(r.Path, "*", x.mine.id, 1)
	default:
		t.Fatalf("the route %s %s is new: say here what a stranger could try with it", r.Method, r.Path)
	}
	return q
}

// Every route, with every kind of token that must not open it.
func TestServer_no_route_opens_to_strangers_or_revoked_devices(t *testing.T) {
	x := newIsolated(t)
	out := x.join(x.shopNamed("First"), "Lost phone")
	if _, err := x.mine.RevokeDevice(t.Context(), out.id); err != nil {
		t.Fatal(err)
	}
	tokens := map[string]struct {
		header string
		code   wire.Code
	}{
		"no token":               {"", wire.CodeUnauthorized},
		"an empty token":         {"Bearer ", wire.CodeUnauthorized},
		"another scheme":         {"Basic " + x.mine.token, wire.CodeUnauthorized},
		"no base64":              {"Bearer ../../etc/passwd", wire.CodeUnauthorized},
		"a token too short":      {"Bearer " + x.mine.token[:20], wire.CodeUnauthorized},
		"a token too long":       {"Bearer " + x.mine.token + "AAAA", wire.CodeUnauthorized},
		"one character changed":  {"Bearer " + flip(x.mine.token), wire.CodeUnauthorized},
		"the id of the device":   {"Bearer " + x.mine.id, wire.CodeUnauthorized},
		"a token of nobody":      {"Bearer " + base64.RawURLEncoding.EncodeToString(make([]byte, 32)), wire.CodeUnauthorized},
		"a very long token":      {"Bearer " + strings.Repeat("A", 8000), wire.CodeUnauthorized},
		"a revoked device":       {"Bearer " + out.token, wire.CodeRevoked},
		"a token and a half one": {"Bearer " + x.mine.token + ", Bearer x", wire.CodeUnauthorized},
	}
	for _, route := range x.srv.Routes() {
		for name, token := range tokens {
			x.pass(timeBetween) // strangers are slowed down: not what is tested here
			q := x.request(t, route)
			if q.header == nil {
				q.header = map[string]string{}
			}
			q.header["Authorization"] = token.header
			resp, refused, body := x.ask(q)
			want := token.code
			if route.Open {
				want = wire.CodeWrongCode // the one thing strangers may try
			}
			if refused.Code != want && refused.Code != wire.CodeLocked || refused.Code == wire.CodeLocked && !route.Open {
				t.Errorf("%s %s with %s: %d %s", route.Method, route.Path, name, resp.StatusCode, body)
			}
			if strings.Contains(string(body), secretText) {
				t.Errorf("%s %s with %s gives away %s", route.Method, route.Path, name, body)
			}
		}
	}
	if got := x.mine.pull(t, x.maker.dev); !strings.Contains(got, secretText) {
		t.Error("the shop's own device is shut out too, so the test shows nothing")
	}
}

// Every route, with the good token of another shop's device.
func TestServer_no_route_crosses_to_another_shop(t *testing.T) {
	x := newIsolated(t)
	for _, route := range x.srv.Routes() {
		if route.Open {
			continue
		}
		q := x.request(t, route)
		q.token = x.theirs.token
		resp, refused, body := x.ask(q)
		ofOneThing := strings.Contains(route.Path, "*") && !strings.HasSuffix(route.Path, "/state")
		if ofOneThing && refused.Code != wire.CodeNotFound {
			t.Errorf("%s %s of another shop: %d %s", route.Method, route.Path, resp.StatusCode, body)
		}
		for _, hidden := range []string{secretText, "First", "Phone", x.mine.id, string(x.secret.ID), "the bytes of a photo", "Taken over"} {
			if strings.Contains(string(body), hidden) {
				t.Errorf("%s %s shows %q of another shop: %s", route.Method, route.Path, hidden, body)
			}
		}
	}
	if s, err := x.theirs.BlobState(t.Context(), x.photo); err == nil && (s.Have != 0 || s.Complete) {
		t.Errorf("the state of another shop's photo is told: %+v", s)
	}
	list, err := x.mine.Devices(t.Context())
	if err != nil || len(list.Devices) != 1 || list.Devices[0].Name != "Phone" || list.Devices[0].Revoked != 0 {
		t.Errorf("the other shop has changed ours: %+v, %v", list, err)
	}
}

// An op of the same id in two shops is two ops, and a code leads into the shop it was made in.
func TestServer_shops_share_neither_ops_nor_codes(t *testing.T) {
	x := newIsolated(t)
	same := x.secret
	same.Body, same.Blobs = []byte("other content in the second shop"), nil
	r := x.theirs.push(t, x.maker.dev, same)
	if r.Acks[0].Status != wire.Stored {
		t.Errorf("an id of the other shop is in the way: %+v", r.Acks[0])
	}
	if got := x.mine.pull(t, x.maker.dev); strings.Contains(got, "second shop") || !strings.Contains(got, secretText) {
		t.Errorf("the first shop now holds %s", got)
	}
	code, err := x.theirs.MakeCode(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	joined := x.pair(t, code.Code, "Third")
	if joined.Shop.Name != "Second" {
		t.Errorf("the code led into %q", joined.Shop.Name)
	}
}

// A page of another site must get nothing, not even through the browser of somebody in the shop.
func TestServer_pages_of_other_sites_are_refused(t *testing.T) {
	x := newIsolated(t)
	for _, header := range []map[string]string{
		{"Origin": "https://evil.example"}, {"Sec-Fetch-Site": "cross-site"}, {"Origin": "null"},
	} {
		for _, route := range x.srv.Routes() {
			q := x.request(t, route)
			q.token = x.mine.token
			if q.header == nil {
				q.header = map[string]string{}
			}
			for k, v := range header {
				q.header[k] = v
			}
			resp, refused, body := x.ask(q)
			if route.Method != http.MethodGet && refused.Code != wire.CodeCrossOrigin {
				t.Errorf("%s %s from %v: %d %s", route.Method, route.Path, header, resp.StatusCode, body)
			}
			for name := range resp.Header {
				if strings.HasPrefix(name, "Access-Control-") {
					t.Errorf("%s %s allows other sites: %s", route.Method, route.Path, name)
				}
			}
		}
	}
	resp, refused, _ := x.ask(asked{method: http.MethodOptions, path: "/sync", header: map[string]string{
		"Origin": "https://evil.example", "Access-Control-Request-Method": "POST", "Access-Control-Request-Headers": "authorization",
	}})
	if refused.Code != wire.CodeMethod && refused.Code != wire.CodeCrossOrigin || resp.Header.Get("Access-Control-Allow-Origin") != "" {
		t.Errorf("a preflight gets %d %v", resp.StatusCode, resp.Header)
	}
}

// flip changes one character in the middle of a token.
func flip(token string) string {
	other := "A"
	if token[10] == 'A' {
		other = "B"
	}
	return token[:10] + other + token[11:]
}
