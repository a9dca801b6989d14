package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/andybalholm/brotli"
)

const cacheDir = ".cache/pack"

// packed is one wasm in both encodings.
type packed struct {
	plainLength  int
	brotli, gzip []byte
}

// sizes is one line for people and scripts: bytes plain, gzip, brotli.
func (p packed) sizes() string {
	return fmt.Sprintf("raw=%d gzip=%d brotli=%d", p.plainLength, len(p.gzip), len(p.brotli))
}

// compress encodes body at the highest quality of both codecs, or takes the result of an earlier
// run with the very same content.
func compress(body []byte) (packed, error) {
	sum := sha256.Sum256(body)
	base := filepath.Join(cacheDir, hex.EncodeToString(sum[:]))
	p := packed{plainLength: len(body)}
	var err error
	p.brotli, err = cached(base+".br", func(w io.Writer) io.WriteCloser {
		return brotli.NewWriterOptions(w, brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: 24})
	}, body)
	if err != nil {
		return packed{}, err
	}
	p.gzip, err = cached(base+".gz", func(w io.Writer) io.WriteCloser {
		z, _ := gzip.NewWriterLevel(w, gzip.BestCompression) // the level is valid, so no error
		return z
	}, body)
	return p, err
}

func cached(path string, encoder func(io.Writer) io.WriteCloser, body []byte) ([]byte, error) {
	if have, err := os.ReadFile(path); err == nil {
		return have, nil
	}
	var b bytes.Buffer
	w := encoder(&b)
	if _, err := w.Write(body); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return nil, err
	}
	return b.Bytes(), writeWhole(path, b.Bytes())
}

// writeWhole writes through a temporary name, so that a cache entry is complete or absent.
func writeWhole(path string, body []byte) error {
	if err := os.WriteFile(path+".part", body, 0o644); err != nil {
		return err
	}
	return os.Rename(path+".part", path)
}
