package server_test

import (
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/wire"
)

// door is what these tests know of a route. A new route without a row fails them all.
type door struct {
	media string // content type of its body, "" without one
	limit int    // bytes of its body
	again wire.Code
	good  func(t *testing.T, h *house) asked
}

const (
	jsonBody  = "application/json"
	bytesBody = "application/octet-stream"
	small     = 4 << 10
)

// doors has a row for each route: a good request, and what the same one gets when it comes again.
var doors = map[string]door{
	"POST /pair": {jsonBody, small, wire.CodeWrongCode, func(_ *testing.T, h *house) asked {
		h.mine.token = "" // as a stranger has none
		return asked{body: fmt.Appendf(nil, `{"code":%q,"name":"Tablet"}`, h.code(h.shopNamed("First")))}
	}},
	"POST /sync": {jsonBody, wire.MaxRequest, "", func(t *testing.T, h *house) asked {
		op, err := h.maker.op(t, "one more").MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		return asked{body: fmt.Appendf(nil, `{"dev":%q,"since":{"store":"","seq":0,"chain":""},"ops":[%s]}`, h.maker.dev, op)}
	}},
	"GET /blob/*/state": {"", 0, "", func(_ *testing.T, h *house) asked { return asked{path: "/blob/" + h.photo + "/state"} }},
	"GET /blob/*":       {"", 0, "", func(_ *testing.T, h *house) asked { return asked{path: "/blob/" + h.photo} }},
	"PUT /blob/*": {bytesBody, wire.MaxPiece, wire.CodeOffset, func(t *testing.T, h *house) asked {
		h.mine.push(t, h.maker.dev, h.maker.op(t, "with a photo", storage.HashOf([]byte("new"))))
		return asked{path: "/blob/" + storage.HashOf([]byte("new")) + "?offset=0&last=true", body: []byte("new")}
	}},
	"POST /codes":  {"", 0, "", func(*testing.T, *house) asked { return asked{} }},
	"GET /devices": {"", 0, "", func(*testing.T, *house) asked { return asked{} }},
	"PATCH /devices/*": {jsonBody, small, "", func(_ *testing.T, h *house) asked {
		return asked{path: "/devices/" + h.other.id, body: []byte(`{"name":"New name"}`)}
	}},
	"DELETE /devices/*": {"", 0, "", func(_ *testing.T, h *house) asked { return asked{path: "/devices/" + h.other.id} }},
}

// house is a shop with two devices.
type house struct {
	*isolated
	other phone
}

// eachDoor gives each route a house of its own, and a request that is good there.
func eachDoor(t *testing.T, f func(t *testing.T, h *house, d door, q asked)) {
	for _, route := range newWorld(t).srv.Routes() {
		name := route.Method + " " + route.Path
		t.Run(name, func(t *testing.T) {
			d, known := doors[name]
			if !known {
				t.Fatal("the route is new: add a row to doors")
			}
			h := &house{isolated: newIsolated(t)}
			h.other = h.join(h.shopNamed("First"), "Other")
			q := d.good(t, h)
			if q.method, q.token = route.Method, h.mine.token; q.path == "" {
				q.path = route.Path
			}
			q.header = map[string]string{"Content-Type": d.media}
			if d.media == "" {
				delete(q.header, "Content-Type")
			}
			f(t, h, d, q)
		})
	}
}

// A request that the network gave twice, or that was recorded, does no more than once.
func TestSurface_a_replay_changes_nothing_more(t *testing.T) {
	eachDoor(t, func(t *testing.T, h *house, d door, q asked) {
		count := func() (ops uint64, blobs, devices int) {
			stats, err := h.vault.Stats(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			s := stats.Shops[0]
			return s.Last.Seq, s.Blobs, s.Devices
		}
		if resp, _, body := h.ask(q); resp.StatusCode != http.StatusOK {
			t.Fatalf("the good request: %d %s: the others prove nothing", resp.StatusCode, body)
		}
		ops, blobs, devices := count()
		for range 3 {
			resp, refused, body := h.ask(q)
			if refused.Code != d.again {
				t.Errorf("again: %d %s, want %q", resp.StatusCode, body, d.again)
			}
			if o, b, n := count(); o != ops || b != blobs || n != devices {
				t.Errorf("again changed %d, %d, %d into %d, %d, %d", ops, blobs, devices, o, b, n)
			}
		}
	})
}

// bodies that are over the limit: said so, not said, and hidden in gzip.
func TestSurface_a_body_over_the_limit_is_refused_and_not_kept_in_memory(t *testing.T) {
	eachDoor(t, func(t *testing.T, h *house, d door, q asked) {
		if d.media == "" { // then it is not even read
			q.body = bytes.Repeat([]byte("x"), 200<<10)
			if resp, _, body := h.ask(q); resp.StatusCode != http.StatusOK {
				t.Errorf("with a body it has no use for: %d %s", resp.StatusCode, body)
			}
			return
		}
		over := bytes.Repeat([]byte(" "), d.limit+1)
		packed := zipped(bytes.Repeat(over, 8))
		if len(packed) > d.limit {
			t.Fatal("refused before it is unpacked, which is not what is tested")
		}
		q.body = over
		if _, refused, body := h.ask(q); refused.Code != wire.CodeTooLarge {
			t.Errorf("%d bytes: %s", len(over), body)
		}
		if _, refused, body := h.ask(with(q, packed, "gzip")); refused.Code != wire.CodeTooLarge {
			t.Errorf("%d bytes that unpack to more: %s", len(packed), body)
		}
		r := h.raw(t, q, q.path)
		r.ContentLength, r.Body = -1, io.NopCloser(bytes.NewReader(over))
		out := httptest.NewRecorder()
		h.srv.ServeHTTP(out, r)
		if out.Code != http.StatusRequestEntityTooLarge {
			t.Errorf("%d bytes of a length not said: %d %s", len(over), out.Code, out.Body)
		}
	})
}

// with is a request with another body, packed somehow.
func with(q asked, body []byte, encoding string) asked {
	header := map[string]string{"Content-Encoding": encoding}
	for name, value := range q.header {
		header[name] = value
	}
	q.header, q.body = header, body
	return q
}

// The types a form of another site can send are among those refused.
func TestSurface_another_content_type_is_refused(t *testing.T) {
	eachDoor(t, func(t *testing.T, h *house, d door, q asked) {
		if d.media == "" {
			return // without a body there is no type
		}
		for _, media := range []string{"", "text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/html",
			"application/json+x", "application/xml", "image/jpeg", d.media + "; charset=utf-16", "\"", ";", strings.ToUpper(d.media) + "x"} {
			q.header["Content-Type"] = media
			if _, refused, body := h.ask(q); refused.Code != wire.CodeMediaType {
				t.Errorf("%q: %s", media, body)
			}
		}
	})
}

// A body that stops coming does not hold a place for ever, whoever sends it.
func TestSurface_a_body_that_stops_is_cut_off(t *testing.T) {
	eachDoor(t, func(t *testing.T, h *house, d door, q asked) {
		if d.media == "" {
			return
		}
		h.srv.SetStall(50 * time.Millisecond)
		conn, err := net.Dial("tcp", strings.TrimPrefix(h.http.URL, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		head := fmt.Sprintf("%s %s%s HTTP/1.1\r\nHost: x\r\nContent-Type: %s\r\nContent-Length: %d\r\n", q.method, wire.Prefix, q.path, d.media, len(q.body))
		if q.token != "" {
			head += "Authorization: Bearer " + q.token + "\r\n"
		}
		if _, err := io.WriteString(conn, head+"\r\n"+string(q.body[:1])); err != nil {
			t.Fatal(err)
		}
		_ = conn.SetReadDeadline(time.Now().Add(time.Minute)) // so that a server that never closes fails the test
		if answer, err := io.ReadAll(conn); err != nil || !strings.HasPrefix(string(answer), "HTTP/1.1 400") {
			t.Errorf("%q, %v", answer, err)
		}
		if q.path = "/devices"; q.token != "" {
			if resp, _, body := h.ask(asked{method: "GET", path: q.path, token: q.token}); resp.StatusCode != http.StatusOK {
				t.Errorf("another request afterwards: %d %s", resp.StatusCode, body)
			}
		}
	})
}

// tricks are ways to write a path that some servers take for another.
var tricks = []func(path string) string{
	func(p string) string { return p + "/" },
	func(p string) string { return "/" + p },
	func(p string) string { return "/." + p },
	func(p string) string { return "/x/.." + p },
	func(p string) string { return "/.." + wire.Prefix + p },
	func(p string) string { return p + "/.." },
	func(p string) string { return p + "/." },
	func(p string) string { return p + "%00" },
	func(p string) string { return p + "%2f" },
	func(p string) string { return p + "%2f..%2f..%2fvault.bolt" },
	func(p string) string { return p + "..%5c..%5cvault.bolt" },
	func(p string) string { return p + ";x=1" },
	func(p string) string { return p + ".json" },
	func(p string) string { return p + "%20" },
	func(p string) string { return p + "%0d%0aX-Evil:%201" },
	strings.ToUpper,
}

// What stands for one thing in a path is compared whole, never made into a path.
func TestSurface_no_trick_with_the_path_gets_anywhere(t *testing.T) {
	eachDoor(t, func(t *testing.T, h *house, d door, q asked) {
		path, query, _ := strings.Cut(q.path, "?")
		for _, trick := range tricks {
			out := httptest.NewRecorder()
			h.srv.ServeHTTP(out, h.raw(t, q, trick(path)+"?"+query))
			if out.Code != http.StatusNotFound && out.Code != http.StatusBadRequest && out.Code != http.StatusMethodNotAllowed {
				t.Errorf("%s: %d %s", trick(path), out.Code, out.Body)
			}
			if out.Header().Get("Location") != "" || out.Header().Get("X-Evil") != "" {
				t.Errorf("%s: %v", trick(path), out.Header())
			}
		}
		if resp, _, body := h.ask(q); resp.StatusCode != http.StatusOK {
			t.Errorf("the plain path: %d %s: the tricks prove nothing", resp.StatusCode, body)
		}
	})
}

// raw is a request as the server gets it, with a path that no client would send.
func (h *house) raw(t *testing.T, q asked, path string) *http.Request {
	t.Helper()
	at, err := url.ParseRequestURI(wire.Prefix + path)
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest(q.method, "/", bytes.NewReader(q.body))
	r.URL, r.RequestURI = at, wire.Prefix+path
	for name, value := range q.header {
		r.Header.Set(name, value)
	}
	if q.token != "" {
		r.Header.Set("Authorization", "Bearer "+q.token)
	}
	return r
}
