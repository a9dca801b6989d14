package web

import (
	"bytes"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"
)

// built is a tiny site as web/pack leaves it. The "brotli" body is not real brotli: the server
// must not look into it.
func built(t *testing.T) fstest.MapFS {
	t.Helper()
	return fstest.MapFS{
		"dist/version":       {Data: []byte("v1\n")},
		"dist/app.wasm.br":   {Data: []byte("brotli bytes")},
		"dist/app.wasm.gz":   {Data: zip([]byte("the wasm itself"))},
		"static/a.css":       {Data: bytes.Repeat([]byte("p { color: red }\n"), 100)},
		"static/icons/i.png": {Data: []byte("png")},
	}
}

func open(t *testing.T, files fstest.MapFS) *Site {
	t.Helper()
	s, err := Open(files)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func get(h http.Handler, address string, header ...string) *http.Response {
	r := httptest.NewRequest(http.MethodGet, address, nil)
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

func TestOpen_without_a_build_says_so(t *testing.T) {
	files := built(t)
	for _, missing := range []string{"dist/version", "dist/app.wasm.br", "dist/app.wasm.gz"} {
		files := fstest.MapFS{}
		for name, f := range built(t) {
			if name != missing {
				files[name] = f
			}
		}
		if _, err := Open(files); !errors.Is(err, ErrNotBuilt) {
			t.Errorf("without %s: got %v, want ErrNotBuilt", missing, err)
		}
	}
	files["dist/app.wasm.gz"] = &fstest.MapFile{Data: []byte("not gzip")}
	if _, err := Open(files); err == nil || errors.Is(err, ErrNotBuilt) {
		t.Errorf("damaged gzip: got %v, want an error of its own", err)
	}
}

// The folder must be embeddable before anything was built; that is what the README in it is for.
func TestEmbedded_holds_both_folders(t *testing.T) {
	for _, name := range []string{"dist/README", "static/boot.js"} {
		if _, err := embedded.Open(name); err != nil {
			t.Error(err)
		}
	}
}

func TestSite_sends_the_encoding_the_browser_prefers(t *testing.T) {
	s := open(t, built(t))
	for _, c := range []struct{ accept, encoding, body string }{
		{"gzip, deflate, br, zstd", "br", "brotli bytes"},
		{"BR", "br", "brotli bytes"},
		{"gzip, br;q=0", "gzip", string(zip([]byte("the wasm itself")))},
		{"br;q=0.5, gzip;q=1", "br", "brotli bytes"},
		{"gzip", "gzip", string(zip([]byte("the wasm itself")))},
		{"*", "br", "brotli bytes"},
		{"*;q=0", "", "the wasm itself"},
		{"identity", "", "the wasm itself"},
		{"", "", "the wasm itself"},
		{"zstd;q=x,,;", "", "the wasm itself"},
	} {
		r := get(s, WasmAddress, "Accept-Encoding", c.accept)
		body, _ := io.ReadAll(r.Body)
		if got := r.Header.Get("Content-Encoding"); got != c.encoding || string(body) != c.body {
			t.Errorf("Accept-Encoding %q: got %q with %d bytes, want %q with %d", c.accept, got, len(body), c.encoding, len(c.body))
		}
		if r.ContentLength != int64(len(c.body)) {
			t.Errorf("Accept-Encoding %q: Content-Length %d, want %d", c.accept, r.ContentLength, len(c.body))
		}
	}
}

func TestSite_headers_let_the_browser_keep_files_but_ask_first(t *testing.T) {
	s := open(t, built(t))
	for _, address := range s.Addresses("/") {
		for _, accept := range []string{"br", "gzip", ""} {
			h := get(s, address, "Accept-Encoding", accept).Header
			if h.Get("Vary") != "Accept-Encoding" || h.Get("Cache-Control") != "no-cache" {
				t.Errorf("%s: Vary %q, Cache-Control %q", address, h.Get("Vary"), h.Get("Cache-Control"))
			}
		}
	}
	if got := get(s, WasmAddress).Header.Get("Content-Type"); got != "application/wasm" {
		t.Errorf("wasm has type %q: the browser would refuse to compile it while it loads", got)
	}
}

func TestSite_has_an_ETag_per_encoding_and_answers_304_to_its_own(t *testing.T) {
	s := open(t, built(t))
	seen := map[string]string{}
	for _, accept := range []string{"br", "gzip", "identity"} {
		etag := get(s, WasmAddress, "Accept-Encoding", accept).Header.Get("ETag")
		if other, taken := seen[etag]; taken || etag == "" {
			t.Errorf("ETag %q of %s is also that of %s", etag, accept, other)
		}
		seen[etag] = accept
	}
	for etag, accept := range seen {
		for _, asked := range []string{"br", "gzip", "identity"} {
			want := http.StatusOK
			if asked == accept {
				want = http.StatusNotModified
			}
			r := get(s, WasmAddress, "Accept-Encoding", asked, "If-None-Match", etag)
			if r.StatusCode != want {
				t.Errorf("asked for %s with the ETag of %s: got %d, want %d", asked, accept, r.StatusCode, want)
			}
		}
	}
}

// An ETag that is valid elsewhere must not turn an address that does not exist into "not modified".
func TestSite_unknown_address_is_404_even_with_a_known_ETag(t *testing.T) {
	s := open(t, built(t))
	etag := get(s, WasmAddress).Header.Get("ETag")
	for _, address := range []string{"/nothing", "/web/", "/web/none.css", "/web/../dist/version", "/web/icons"} {
		if r := get(s, address, "If-None-Match", etag); r.StatusCode != http.StatusNotFound {
			t.Errorf("%s: got %d, want 404", address, r.StatusCode)
		}
	}
}

func TestSite_refuses_other_methods(t *testing.T) {
	s := open(t, built(t))
	w := httptest.NewRecorder()
	s.ServeHTTP(w, httptest.NewRequest(http.MethodPost, WasmAddress, strings.NewReader("x")))
	if w.Code != http.StatusMethodNotAllowed || w.Header().Get("Allow") != "GET, HEAD" {
		t.Errorf("POST: got %d, Allow %q", w.Code, w.Header().Get("Allow"))
	}
}

func TestSite_compresses_text_and_leaves_small_files_alone(t *testing.T) {
	s := open(t, built(t))
	if got := get(s, "/web/a.css", "Accept-Encoding", "gzip").Header.Get("Content-Encoding"); got != "gzip" {
		t.Errorf("css came as %q, want gzip", got)
	}
	if got := get(s, "/web/icons/i.png", "Accept-Encoding", "gzip").Header.Get("Content-Encoding"); got != "" {
		t.Errorf("a tiny image came as %q, want it as it is", got)
	}
}

// The progress label counts decoded bytes.
func TestSite_knows_the_uncompressed_length(t *testing.T) {
	if s := open(t, built(t)); s.WasmLength != len("the wasm itself") || s.Version != "v1" {
		t.Errorf("got length %d and version %q", s.WasmLength, s.Version)
	}
}

func TestSite_Add_refuses_what_a_build_must_not_do(t *testing.T) {
	s := open(t, built(t))
	if err := s.Add("/web/a.css", nil); err == nil {
		t.Error("the same address twice was accepted")
	}
	if err := s.Add("/web/a.xyz", nil); err == nil {
		t.Error("an unknown kind of file was accepted")
	}
}
