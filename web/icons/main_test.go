package main

import (
	"bytes"
	"encoding/xml"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// The committed files are what the program draws; pixels are compared, as the PNG encoder may
// change with the toolchain.
func TestIcons_committed_files_are_the_drawing(t *testing.T) {
	files, err := icons()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join("../../web/static/icons", name))
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Ext(name) != ".png" {
			if !bytes.Equal(got, want) {
				t.Errorf("%s differs: run go run ./web/icons", name)
			}
			continue
		}
		comparePixels(t, name, got, want)
	}
}

func comparePixels(t *testing.T, name string, got, want []byte) {
	t.Helper()
	a, err := png.Decode(bytes.NewReader(got))
	if err != nil {
		t.Fatal(err)
	}
	b, err := png.Decode(bytes.NewReader(want))
	if err != nil {
		t.Fatal(err)
	}
	if a.Bounds() != b.Bounds() {
		t.Fatalf("%s is %v, want %v", name, a.Bounds(), b.Bounds())
	}
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			if a.At(x, y) != b.At(x, y) {
				t.Fatalf("%s differs at %d,%d: run go run ./web/icons", name, x, y)
			}
		}
	}
}

// Systems cut maskable icons to any shape; what lies outside the circle of 40 % radius may go.
func TestMaskable_keeps_everything_but_the_ground_inside_the_safe_circle(t *testing.T) {
	img := raster(drawing(maskable), 256)
	for y := range 256 {
		for x := range 256 {
			isGround := color.NRGBAModel.Convert(img.At(x, y)) == color.Color(ground)
			if r := math.Hypot(float64(x)-127.5, float64(y)-127.5); r > 0.4*256+1 && !isGround {
				t.Fatalf("%d,%d is %.0f from the middle and may be cut off", x, y, r)
			}
		}
	}
}

// A circle has a known area: four quarter curves of radius r.
func TestRaster_covers_the_area_of_a_circle(t *testing.T) {
	const r = 200
	mask := box(bone, side/2-r, side/2-r, side/2+r, side/2+r, r).coverage(256)
	sum := 0.0
	for _, a := range mask.Pix {
		sum += float64(a) / 255
	}
	want := math.Pi * r * r / 4 // 256 pixels for 512 units
	// The Bézier circle is off by 0.03 %, sampling the edge by less than that.
	if math.Abs(sum-want) > 0.001*want {
		t.Errorf("area %.1f, want %.1f", sum, want)
	}
}

func TestSVG_is_well_formed(t *testing.T) {
	var doc struct {
		ViewBox string `xml:"viewBox,attr"`
		Paths   []struct {
			D string `xml:"d,attr"`
		} `xml:"path"`
	}
	if err := xml.Unmarshal([]byte(svg(drawing(plain))), &doc); err != nil {
		t.Fatal(err)
	}
	if doc.ViewBox != "0 0 512 512" || len(doc.Paths) != len(drawing(plain)) {
		t.Errorf("viewBox %q with %d paths", doc.ViewBox, len(doc.Paths))
	}
}
