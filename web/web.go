// Package web holds what the browser downloads, already compressed, and serves it.
//
// Open reads the embedded build (dist, made by web/pack) and the hand-written files (static);
// add further files with Add, then use the Site as an http.Handler. Every file is served in the
// best encoding the browser accepts, with an ETag per encoding and "Cache-Control: no-cache":
// the browser may keep it, but asks first, so a second request costs a 304 and nothing more.
//
// The package knows nothing of the app. It serves only exact addresses; all else is 404.
package web

import (
	"bytes"
	"compress/gzip"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"sort"
	"strings"
)

// embedded must compile before any wasm was built, so it names folders, not the wasm itself.
//
//go:embed dist static
var embedded embed.FS

// Embedded returns the files compiled into this program: dist and static.
func Embedded() fs.FS { return embedded }

// WasmAddress is where the browser finds the program; go-app asks for exactly this one.
const WasmAddress = "/web/app.wasm"

// ErrNotBuilt says that the program was compiled before the wasm had been built.
var ErrNotBuilt = errors.New("this torchside was compiled without the app inside")

// Site is a fixed set of files by address. It is safe for concurrent use once all Adds are done.
type Site struct {
	// Version is the build's version as web/pack computed it.
	Version string
	// WasmLength is the uncompressed size of the wasm in bytes. The progress label counts
	// decoded bytes, so the compressed length would make it run past 100 %.
	WasmLength int

	files map[string]file
}

// Open reads a built site from files. It returns ErrNotBuilt (wrapped) if dist holds no wasm,
// and an error naming the file if the build is damaged.
func Open(files fs.FS) (*Site, error) {
	s := &Site{files: map[string]file{}}
	if err := s.addWasm(files); err != nil {
		return nil, err
	}
	if err := s.addStatic(files); err != nil {
		return nil, err
	}
	return s, nil
}

func (s *Site) addWasm(files fs.FS) error {
	version, err := fs.ReadFile(files, "dist/version")
	if err != nil {
		return fmt.Errorf("%w: %v", ErrNotBuilt, err)
	}
	brotli, err := fs.ReadFile(files, "dist/app.wasm.br")
	if err != nil {
		return fmt.Errorf("%w: %v", ErrNotBuilt, err)
	}
	zipped, err := fs.ReadFile(files, "dist/app.wasm.gz")
	if err != nil {
		return fmt.Errorf("%w: %v", ErrNotBuilt, err)
	}
	plain, err := unzip(zipped)
	if err != nil {
		return fmt.Errorf("dist/app.wasm.gz is damaged, build again: %w", err)
	}
	s.Version = strings.TrimSpace(string(version))
	s.WasmLength = len(plain)
	s.files[WasmAddress] = newFile("application/wasm", map[string][]byte{
		encodingBrotli: brotli, encodingGzip: zipped, encodingIdentity: plain,
	})
	return nil
}

func (s *Site) addStatic(files fs.FS) error {
	return fs.WalkDir(files, "static", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		return s.Add("/web/"+strings.TrimPrefix(name, "static/"), body)
	})
}

// Add puts one file at an address, with a gzip copy if that is smaller. The content type comes
// from the address's extension; an address without one is an HTML page. An unknown extension or
// an address taken twice is an error: both are mistakes of the build, not of a visitor.
func (s *Site) Add(address string, body []byte) error {
	kind, ok := contentTypes[path.Ext(address)]
	if !ok {
		return fmt.Errorf("no content type is known for %s", address)
	}
	if _, taken := s.files[address]; taken {
		return fmt.Errorf("two files for the address %s", address)
	}
	variants := map[string][]byte{encodingIdentity: body}
	if zipped := zip(body); len(zipped) < len(body)*9/10 {
		variants[encodingGzip] = zipped
	}
	s.files[address] = newFile(kind, variants)
	return nil
}

// Addresses lists every address of the site that starts with prefix, sorted.
func (s *Site) Addresses(prefix string) []string {
	var all []string
	for address := range s.files {
		if strings.HasPrefix(address, prefix) {
			all = append(all, address)
		}
	}
	sort.Strings(all)
	return all
}

// Body returns the uncompressed file at an address.
func (s *Site) Body(address string) ([]byte, bool) {
	f, ok := s.files[address]
	return f.variants[encodingIdentity].body, ok
}

// Packed gives the compressed copies of a file by the ending under which servers of files look for them.
func (s *Site) Packed(address string) map[string][]byte {
	packed := map[string][]byte{}
	for encoding, ending := range map[string]string{encodingBrotli: ".br", encodingGzip: ".gz"} {
		if v, ok := s.files[address].variants[encoding]; ok {
			packed[ending] = v.body
		}
	}
	return packed
}

// contentTypes is our own table: the system's one differs from machine to machine.
var contentTypes = map[string]string{
	"":             "text/html; charset=utf-8",
	".css":         "text/css; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".json":        "application/json",
	".png":         "image/png",
	".svg":         "image/svg+xml",
	".txt":         "text/plain; charset=utf-8",
	".webmanifest": "application/manifest+json",
	".woff2":       "font/woff2",
}

func zip(body []byte) []byte {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // the level is valid, so no error
	_, _ = w.Write(body)                                  // a bytes.Buffer takes everything
	_ = w.Close()
	return b.Bytes()
}

func unzip(body []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}
