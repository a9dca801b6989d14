package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// Content codings of RFC 9110 section 8.4.1 and RFC 7932, best first in preference.
const (
	encodingBrotli   = "br"
	encodingGzip     = "gzip"
	encodingIdentity = "identity"
)

var preference = []string{encodingBrotli, encodingGzip, encodingIdentity}

// file is one address in all its encodings.
type file struct {
	contentType string
	variants    map[string]variant
}

// variant is one encoding of a file. Two encodings are two different byte strings, so each has
// its own strong ETag (RFC 9110 section 8.8.3.3).
type variant struct {
	body []byte
	etag string
}

func newFile(contentType string, bodies map[string][]byte) file {
	f := file{contentType: contentType, variants: map[string]variant{}}
	for encoding, body := range bodies {
		sum := sha256.Sum256(body)
		f.variants[encoding] = variant{body, `"` + hex.EncodeToString(sum[:16]) + `"`}
	}
	return f
}

// ServeHTTP answers GET and HEAD for the site's exact addresses.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	f, ok := s.files[r.URL.Path]
	if !ok {
		http.NotFound(w, r)
		return
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "only GET and HEAD are answered here", http.StatusMethodNotAllowed)
		return
	}
	f.serve(w, r)
}

func (f file) serve(w http.ResponseWriter, r *http.Request) {
	encoding := f.choose(r.Header.Get("Accept-Encoding"))
	v := f.variants[encoding]
	h := w.Header()
	h.Set("Content-Type", f.contentType)
	h.Set("Vary", "Accept-Encoding")
	h.Set("Cache-Control", "no-cache")
	h.Set("ETag", v.etag)
	if encoding != encodingIdentity {
		h.Set("Content-Encoding", encoding)
		// ServeContent leaves the length out for encoded bodies.
		h.Set("Content-Length", strconv.Itoa(len(v.body)))
	}
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(v.body))
}

// choose picks the best encoding the header accepts and the file has.
func (f file) choose(header string) string {
	accepted := acceptedEncodings(header)
	for _, encoding := range preference {
		if _, have := f.variants[encoding]; have && accepts(accepted, encoding) {
			return encoding
		}
	}
	return encodingIdentity // refused by the browser, yet better than nothing (RFC 9110 section 12.5.3)
}

// accepts reports whether an Accept-Encoding list allows an encoding: identity unless it is
// refused, others only if they are named or "*" is given.
func accepts(list map[string]bool, encoding string) bool {
	if ok, named := list[encoding]; named {
		return ok
	}
	if ok, any := list["*"]; any {
		return ok
	}
	return encoding == encodingIdentity
}

// acceptedEncodings reads an Accept-Encoding header; the value is false for q=0.
func acceptedEncodings(header string) map[string]bool {
	list := map[string]bool{}
	for item := range strings.SplitSeq(header, ",") {
		name, params, _ := strings.Cut(item, ";")
		name = strings.ToLower(strings.TrimSpace(name))
		if name != "" {
			list[name] = !zeroQuality(params)
		}
	}
	return list
}

func zeroQuality(params string) bool {
	_, value, found := strings.Cut(params, "=")
	if !found {
		return false
	}
	q, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
	return err == nil && q == 0
}
