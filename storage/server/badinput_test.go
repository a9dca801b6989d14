package server_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"torchside/storage/wire"
)

// zipped packs text as a client may.
func zipped(text []byte) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, _ = z.Write(text) // a bytes.Buffer takes everything
	_ = z.Close()
	return b.Bytes()
}

// oneShop is a vault with one shop and one device.
func oneShop(t *testing.T) (*world, phone) {
	w := newWorld(t)
	return w, w.join(w.shop("Shop"), "Phone")
}

const emptySync = `{"dev":"01890000-0000-7000-8000-000000000000","since":{"store":"","seq":0,"chain":""}}`

func TestServer_refuses_bodies_that_are_not_what_they_must_be(t *testing.T) {
	w, p := oneShop(t)
	gz := map[string]string{"Content-Encoding": "gzip"}
	for _, c := range []struct {
		name   string
		header map[string]string
		body   []byte
		want   wire.Code
	}{
		{"not JSON", nil, []byte("hello"), wire.CodeMalformed},
		{"cut off", nil, []byte(emptySync[:40]), wire.CodeMalformed},
		{"two values", nil, []byte(emptySync + emptySync), wire.CodeMalformed},
		{"empty", nil, []byte{}, wire.CodeMalformed},
		{"a list", nil, []byte("[]"), wire.CodeMalformed},
		{"deep nesting", nil, []byte(strings.Repeat("[", 200_000)), wire.CodeMalformed},
		{"a form", map[string]string{"Content-Type": "application/x-www-form-urlencoded"}, []byte("a=b"), wire.CodeMediaType},
		{"plain text", map[string]string{"Content-Type": "text/plain"}, []byte(emptySync), wire.CodeMediaType},
		{"no type", map[string]string{"Content-Type": ""}, []byte(emptySync), wire.CodeMediaType},
		{"another charset", map[string]string{"Content-Type": "application/json; charset=utf-16"}, []byte(emptySync), wire.CodeMediaType},
		{"brotli", map[string]string{"Content-Encoding": "br"}, []byte(emptySync), wire.CodeMediaType},
		{"twice packed", map[string]string{"Content-Encoding": "gzip, gzip"}, zipped(zipped([]byte(emptySync))), wire.CodeMediaType},
		{"not gzip", gz, []byte(emptySync), wire.CodeMalformed},
		{"gzip cut off", gz, zipped([]byte(emptySync))[:30], wire.CodeMalformed},
		{"gzip damaged", gz, append(zipped([]byte(emptySync))[:20], make([]byte, 40)...), wire.CodeMalformed},
		{"too long", nil, bytes.Repeat([]byte(" "), wire.MaxRequest+1), wire.CodeTooLarge},
		{"small, but unpacks to 64 MB", gz, bomb(t), wire.CodeTooLarge},
		{"no device", nil, []byte(`{"dev":"","since":{"store":"","seq":0,"chain":""}}`), wire.CodeMalformed},
		{"too many ops", nil, []byte(strings.Replace(emptySync, "}}", `},"ops":[`+strings.Repeat("{},", wire.MaxOps)+"{}]}", 1)), wire.CodeTooLarge},
	} {
		resp, refused, body := w.ask(asked{method: "POST", path: "/sync", token: p.token, header: c.header, body: c.body})
		if refused.Code != c.want {
			t.Errorf("%s: %d %s, want %s", c.name, resp.StatusCode, body, c.want)
		}
	}
	if resp, _, body := w.ask(asked{method: "POST", path: "/sync", token: p.token, body: []byte(emptySync)}); resp.StatusCode != 200 {
		t.Errorf("a good one gets %d %s: the others prove nothing", resp.StatusCode, body)
	}
}

// bomb is 64 MB of noughts, packed to a few hundred kB.
func bomb(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	z, _ := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	block := make([]byte, 1<<20)
	for range 64 {
		_, _ = z.Write(block)
	}
	_ = z.Close()
	if b.Len() > wire.MaxRequest {
		t.Fatalf("%d bytes: refused before it is unpacked, which is not what is tested", b.Len())
	}
	return b.Bytes()
}

func TestServer_bad_addresses_find_nothing(t *testing.T) {
	w, p := oneShop(t)
	for _, path := range []string{
		"/blob/..%2f..%2f..%2fetc%2fpasswd", "/blob/../../../../etc/passwd", "/blob/" + strings.Repeat("a", 63), "/blob/" + strings.Repeat("A", 64),
		"/blob/" + strings.Repeat("a", 64) + "/../state", "/blob/%00", "/blob/" + strings.Repeat("a", 60) + "%2e%2e%2f%2e", "/blob//", "/blob/",
		"/blob/..%5c..%5cvault.bolt", "/blob/" + strings.Repeat("a", 64) + ".tmp", "/blob/" + strings.Repeat("a", 64), "/sync/", "/devices/a/b", "/", "", "/../v2/sync",
	} {
		for _, method := range []string{"GET", "PUT"} {
			r := &http.Request{Method: method, Header: http.Header{"Authorization": {"Bearer " + p.token}, "Content-Type": {"application/octet-stream"}}}
			r.Body = io.NopCloser(strings.NewReader("x"))
			parsed, err := http.NewRequest(method, w.http.URL+wire.Prefix+path, nil)
			if err != nil {
				t.Fatal(err)
			}
			r.URL, r.RemoteAddr = parsed.URL, "192.0.2.1:1"
			out := httptest.NewRecorder()
			w.srv.ServeHTTP(out, r)
			if out.Code != 404 && out.Code != 405 && out.Code != 400 {
				t.Errorf("%s %s: %d %s", method, path, out.Code, out.Body)
			}
		}
	}
	if resp, refused, _ := w.ask(asked{method: "GET", path: "/sync", token: p.token}); refused.Code != wire.CodeMethod || resp.StatusCode != 405 {
		t.Errorf("GET /sync: %d", resp.StatusCode)
	}
}
