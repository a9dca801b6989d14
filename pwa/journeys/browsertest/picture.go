//go:build browser

package browsertest

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"sort"

	"github.com/chromedp/chromedp"
)

// Picture writes what stands on the screen, one dot for each CSS pixel and of 256 colours at most, to the folder TORCHSIDE_PICTURES names:
// small enough to be kept with the sources. Without a folder it does nothing.
func (p *Page) Picture(name string) {
	p.t.Helper()
	folder := os.Getenv("TORCHSIDE_PICTURES")
	if folder == "" {
		return
	}
	var shot []byte
	err := within("a picture of the screen", func() (err error) {
		shot, err = chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
		return err
	})
	var full image.Image
	if err == nil {
		full, err = png.Decode(bytes.NewReader(shot))
	}
	var small bytes.Buffer
	if err == nil {
		width := eval[int](p, `innerWidth`)
		encoder := png.Encoder{CompressionLevel: png.BestCompression}
		err = encoder.Encode(&small, fewColours(shrunk(full, full.Bounds().Dx()/width)))
	}
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, name+".png"), small.Bytes(), 0o644)
	}
	if err != nil {
		p.t.Fatalf("picture %s: %v", name, err)
	}
}

// shrunk makes each square of n by n dots one dot of their mean colour.
func shrunk(from image.Image, n int) *image.RGBA {
	if n < 1 {
		n = 1
	}
	size := from.Bounds().Size().Div(n)
	to := image.NewRGBA(image.Rect(0, 0, size.X, size.Y))
	for y := range size.Y {
		for x := range size.X {
			var sum [3]uint32
			for i := range n * n {
				r, g, b, _ := from.At(from.Bounds().Min.X+x*n+i%n, from.Bounds().Min.Y+y*n+i/n).RGBA()
				sum[0], sum[1], sum[2] = sum[0]+r>>8, sum[1]+g>>8, sum[2]+b>>8
			}
			part := uint32(n * n)
			to.SetRGBA(x, y, color.RGBA{uint8(sum[0] / part), uint8(sum[1] / part), uint8(sum[2] / part), 255})
		}
	}
	return to
}

// fewColours keeps the most frequent colours, seen at five bits each; every other dot takes the nearest of them.
func fewColours(from *image.RGBA) *image.Paletted {
	const step = 8
	coarse := func(c color.RGBA) color.RGBA {
		round := func(v uint8) uint8 { return uint8(min(255, (int(v)+step/2)/step*step)) }
		return color.RGBA{round(c.R), round(c.G), round(c.B), 255}
	}
	count := map[color.RGBA]int{}
	b := from.Bounds()
	for y := range b.Dy() {
		for x := range b.Dx() {
			count[coarse(from.RGBAAt(x, y))]++
		}
	}
	var palette color.Palette
	for c := range count {
		palette = append(palette, c)
	}
	sort.Slice(palette, func(i, j int) bool {
		a, b := palette[i].(color.RGBA), palette[j].(color.RGBA)
		if count[a] != count[b] {
			return count[a] > count[b]
		}
		return uint32(a.R)<<16|uint32(a.G)<<8|uint32(a.B) < uint32(b.R)<<16|uint32(b.G)<<8|uint32(b.B)
	})
	palette = palette[:min(len(palette), 256)]
	to := image.NewPaletted(b, palette)
	for y := range b.Dy() {
		for x := range b.Dx() {
			to.Set(x, y, coarse(from.RGBAAt(x, y)))
		}
	}
	return to
}
