package server

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"torchside/storage/wire"
)

// Content types of the protocol.
const (
	typeJSON  = "application/json"
	typeBytes = "application/octet-stream"
)

// zipFrom is the length in bytes from which a reply is worth compressing: below it the gzip frame
// eats what is won.
const zipFrom = 512

// readBody reads a whole body of the given content type, unpacked if it is gzip. Neither the body
// as sent nor the unpacked one may have more than limit bytes, so that a small request cannot
// unpack into one that fills the memory.
func readBody(w http.ResponseWriter, r *http.Request, want string, limit int64) ([]byte, error) {
	if err := checkType(r, want); err != nil {
		return nil, err
	}
	if r.ContentLength > limit {
		return nil, tooLarge(limit)
	}
	var in io.Reader = http.MaxBytesReader(w, r.Body, limit)
	switch r.Header.Get("Content-Encoding") {
	case "", "identity":
	case "gzip":
		zip, err := unzip(in)
		if err != nil {
			return nil, unreadable(err)
		}
		defer unzippers.Put(zip)
		in = zip
	default:
		return nil, refuse(wire.CodeMediaType,
			"The body is packed in a way this server does not read.", "Send it as it is or as gzip.")
	}
	return readAtMost(in, limit, r.ContentLength)
}

func readAtMost(in io.Reader, limit, hint int64) ([]byte, error) {
	var b bytes.Buffer
	b.Grow(int(min(max(hint, 0), limit)) + bytes.MinRead)
	n, err := b.ReadFrom(io.LimitReader(in, limit+1))
	if n > limit {
		return nil, tooLarge(limit)
	}
	if err != nil {
		return nil, unreadable(err)
	}
	return b.Bytes(), nil
}

// checkType refuses what is not plainly of the wanted type. A form of another site can send only
// the types of forms, so this also keeps those out.
func checkType(r *http.Request, want string) error {
	media, params, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	charset, given := params["charset"]
	if err == nil && media == want && (!given || strings.EqualFold(charset, "utf-8")) {
		return nil
	}
	return refuse(wire.CodeMediaType,
		fmt.Sprintf("The content type is %q and must be %s.", r.Header.Get("Content-Type"), want), "Send it with that type.")
}

// unreadable is a body that broke off or is damaged.
func unreadable(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return tooLarge(large.Limit)
	}
	return refuse(wire.CodeMalformed, "The body of the request could not be read to its end.",
		"Send it again.").because(err)
}

// unzippers are used again: one costs 40 kB to make.
var unzippers sync.Pool

func unzip(in io.Reader) (*gzip.Reader, error) {
	if z, ok := unzippers.Get().(*gzip.Reader); ok {
		return z, z.Reset(in)
	}
	return gzip.NewReader(in)
}

// readJSON reads a body that is one JSON value into v. Fields this build does not know are passed
// over: a newer client may send more.
func readJSON(w http.ResponseWriter, r *http.Request, limit int64, v any) error {
	body, err := readBody(w, r, typeJSON, limit)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(body, v); err != nil {
		return refuse(wire.CodeMalformed, "The body is not the JSON expected here: "+plainReason(err),
			"This is a fault of the sender; report it.").because(err)
	}
	return nil
}

// plainReason tells where the JSON went wrong in a client's words, without names of our types.
func plainReason(err error) string {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return fmt.Sprintf("it breaks off or is damaged at byte %d.", syntax.Offset)
	case errors.As(err, &kind):
		return fmt.Sprintf("%q cannot be a %s.", kind.Field, kind.Value)
	}
	return err.Error()
}

// zippers are used again: one costs 800 kB to make.
var zippers = sync.Pool{New: func() any {
	z, _ := gzip.NewWriterLevel(nil, gzip.BestSpeed) // the level is a valid one
	return z
}}

// writeJSON sends v, as gzip if the client takes it and there is enough of it.
func writeJSON(w http.ResponseWriter, r *http.Request, status int, v any) error {
	body, err := json.Marshal(v)
	if err != nil {
		return err
	}
	return writeBytes(w, r, status, typeJSON, body)
}

func writeBytes(w http.ResponseWriter, r *http.Request, status int, contentType string, body []byte) error {
	h := w.Header()
	h.Set("Content-Type", contentType)
	h.Add("Vary", "Accept-Encoding")
	if len(body) >= zipFrom && takesGzip(r.Header.Get("Accept-Encoding")) {
		var packed bytes.Buffer
		z := zippers.Get().(*gzip.Writer)
		defer zippers.Put(z)
		z.Reset(&packed)
		_, _ = z.Write(body) // a bytes.Buffer takes everything
		_ = z.Close()
		body = packed.Bytes()
		h.Set("Content-Encoding", "gzip")
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	w.WriteHeader(status)
	_, err := w.Write(body)
	return err
}

// takesGzip reads an Accept-Encoding header as far as it is needed: gzip named, and not with
// weight nought (RFC 9110 section 12.5.3).
func takesGzip(header string) bool {
	for part := range strings.SplitSeq(header, ",") {
		name, weight, _ := strings.Cut(strings.TrimSpace(part), ";")
		if strings.TrimSpace(name) == "gzip" {
			q, given := strings.CutPrefix(strings.TrimSpace(weight), "q=")
			return !given || strings.Trim(q, "0.") != ""
		}
	}
	return false
}

// writeProblem sends a refusal.
func writeProblem(w http.ResponseWriter, r *http.Request, p *problem) {
	if p.retry > 0 {
		seconds := int64((p.retry + time.Second - 1) / time.Second)
		w.Header().Set("Retry-After", strconv.FormatInt(seconds, 10))
	}
	if p.status() == http.StatusUnauthorized {
		w.Header().Set("WWW-Authenticate", `Bearer realm="torchside"`) // RFC 9110 section 11.6.1 asks for it
	}
	_ = writeJSON(w, r, p.status(), p.body) // a client that has gone cannot be told
}
