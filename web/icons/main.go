// Command icons draws the app's icons into web/static/icons: one drawing, as SVG and as PNG in
// the sizes that browsers and home screens ask for. The results are committed.
//
//	go run ./web/icons
//
// The drawing: a nozzle, the flame with its inner cone and envelope, and below it a straight bead.
package main

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
)

const target = "web/static/icons"

func main() {
	if err := run(target); err != nil {
		fmt.Fprintln(os.Stderr, "icons:", err)
		os.Exit(1)
	}
}

func run(dir string) error {
	files, err := icons()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for name, body := range files {
		if err := os.WriteFile(filepath.Join(dir, name), body, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// icons gives all files by name.
func icons() (map[string][]byte, error) {
	files := map[string][]byte{"icon.svg": []byte(svg(drawing(plain)))}
	for name, img := range map[string]image.Image{
		"icon-192.png":     raster(drawing(plain), 192),
		"icon-512.png":     raster(drawing(plain), 512),
		"maskable-512.png": raster(drawing(maskable), 512),
	} {
		var b bytes.Buffer
		if err := png.Encode(&b, img); err != nil {
			return nil, err
		}
		files[name] = b.Bytes()
	}
	return files, nil
}
