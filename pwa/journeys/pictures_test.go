//go:build browser

package journeys

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"testing"
)

// Colours of the corners of a test picture held upright: upper left, upper right, lower left, lower right.
var corners = [4]color.RGBA{{200, 20, 20, 255}, {20, 180, 20, 255}, {20, 20, 200, 255}, {240, 240, 240, 255}}

// upright draws a picture with its four corners in different colours and a grey of its own in the middle.
func upright(w, h int, shade uint8) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(m, m.Bounds(), image.NewUniform(color.RGBA{shade, shade, shade, 255}), image.Point{}, draw.Src)
	for i, c := range corners {
		x, y := (i%2)*w*3/4, (i/2)*h*3/4
		draw.Draw(m, image.Rect(x, y, x+w/4, y+h/4), image.NewUniform(c), image.Point{}, draw.Src)
	}
	return m
}

// turned gives the pixels as a camera stores them that was held another way: orientation is the value of the tag, as EXIF 2.3 defines
// it for tag 0x0112 (where the 0th row and the 0th column of the pixels are in the scene).
func turned(m *image.RGBA, orientation int) *image.RGBA {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	if orientation >= 5 {
		w, h = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for row := range h {
		for col := range w {
			x, y := col, row
			switch orientation {
			case 2: // row 0 top, column 0 right
				x = w - 1 - col
			case 3: // bottom, right
				x, y = w-1-col, h-1-row
			case 4: // bottom, left
				y = h - 1 - row
			case 5: // left, top
				x, y = row, col
			case 6: // right, top
				x, y = h-1-row, col
			case 7: // right, bottom
				x, y = h-1-row, w-1-col
			case 8: // left, bottom
				x, y = row, w-1-col
			}
			out.SetRGBA(col, row, m.RGBAAt(x, y))
		}
	}
	return out
}

// Words of the test camera: none of them may be in what is stored.
const (
	testCamera = "Invented Camera Works"
	testPlace  = "WGS-84"
)

// exif is the block a camera writes: its name, the orientation and a place. Byte by byte as TIFF 6.0 and EXIF 2.3 lay it out.
func exif(orientation int) []byte {
	order := binary.BigEndian
	entry := func(tag, kind uint16, count uint32, value []byte) []byte {
		b := order.AppendUint16(nil, tag)
		b = order.AppendUint16(b, kind)
		b = order.AppendUint32(b, count)
		return append(b, append(value, 0, 0, 0, 0)[:4]...)
	}
	offset := func(n int) []byte { return order.AppendUint32(nil, uint32(n)) }
	const ascii, short, long, rational = 2, 3, 4, 5
	const ifd0 = 8
	gps := ifd0 + 2 + 3*12 + 4
	data := gps + 2 + 3*12 + 4
	camera := append([]byte(testCamera), 0)
	place := append([]byte(testPlace), 0)
	latitude := data + len(camera) + len(place)
	b := append([]byte("MM\x00*"), offset(ifd0)...)
	b = order.AppendUint16(b, 3)
	b = append(b, entry(0x010f, ascii, uint32(len(camera)), offset(data))...)
	b = append(b, entry(0x0112, short, 1, order.AppendUint16(nil, uint16(orientation)))...)
	b = append(b, entry(0x8825, long, 1, offset(gps))...)
	b = append(b, offset(0)...)
	b = order.AppendUint16(b, 3)
	b = append(b, entry(0x0001, ascii, 2, []byte("N\x00"))...)
	b = append(b, entry(0x0002, rational, 3, offset(latitude))...)
	b = append(b, entry(0x0012, ascii, uint32(len(place)), offset(data+len(camera)))...)
	b = append(b, offset(0)...)
	b = append(append(b, camera...), place...)
	for _, v := range []uint32{48, 1, 12, 1, 34, 1} {
		b = order.AppendUint32(b, v)
	}
	return append([]byte("Exif\x00\x00"), b...)
}

// segment is one block of a JPEG file.
func segment(marker byte, body []byte) []byte {
	return append([]byte{0xff, marker, byte((len(body) + 2) >> 8), byte(len(body) + 2)}, body...)
}

// cameraFile packs pixels as a camera does: the block of the camera stands first.
func cameraFile(t testing.TB, m image.Image, orientation, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	packed := b.Bytes()
	out := append([]byte{0xff, 0xd8}, segment(0xe1, exif(orientation))...)
	return append(out, packed[2:]...)
}

// grainy is a picture of so many pixels with the noise of a sensor, which makes its file large.
func grainy(w, h int, noise int) *image.YCbCr {
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	r := rand.New(rand.NewSource(7))
	for i := range m.Y {
		m.Y[i] = uint8(110 + r.Intn(noise))
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = 126, 130
	}
	return m
}

// The picture to measure on: a coin of 24.25 mm and a bead of 6.4 mm at 20 pixels a millimetre, no more than the stored size.
const (
	perMM     = 20.0
	coinMM    = 24.25 // 50 euro cents
	beadMM    = 6.4
	coinX     = 1300.0
	coinY     = 400.0
	beadMidY  = 1100.0
	beadAtX   = 700.0
	measuredW = 2000
	measuredH = 1500
)

func measuredPicture() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, measuredW, measuredH))
	for y := range measuredH {
		for x := range measuredW {
			c := color.RGBA{96, 94, 92, 255}
			if math.Abs(float64(y)+0.5-beadMidY) <= beadMM*perMM/2 {
				c = color.RGBA{170, 164, 156, 255}
			}
			if math.Hypot(float64(x)+0.5-coinX, float64(y)+0.5-coinY) <= coinMM*perMM/2 {
				c = color.RGBA{214, 178, 88, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

// fileOf writes a file for the browser to choose.
func fileOf(t testing.TB, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
