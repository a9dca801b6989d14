//go:build browser

package journeys

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"strconv"
	"strings"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// Limits of a stored photo and of its thumbnail, pixels.
const (
	photoSide = 2048
	thumbSide = 320
)

// beginSheet opens an empty sheet.
func beginSheet(p *browsertest.Page) {
	goTo(p, "journal")
	p.Tap("sheet-new")
	p.Wants("photo-files")
}

// storedBlobs reads the bytes the browser keeps, as they are, by name.
func storedBlobs(t *testing.T, p *browsertest.Page) map[string][]byte {
	t.Helper()
	got := browsertest.Eval[map[string]string](p, `new Promise((resolve, reject) => {
		const opening = indexedDB.open("torchside");
		opening.onerror = () => reject(opening.error);
		opening.onsuccess = () => {
			const found = {};
			const walk = opening.result.transaction("blobs").objectStore("blobs").openCursor();
			walk.onerror = () => reject(walk.error);
			walk.onsuccess = () => {
				const at = walk.result;
				if (!at) { opening.result.close(); resolve(found); return; }
				let text = "";
				for (const b of new Uint8Array(at.value)) text += String.fromCharCode(b);
				found[at.key] = btoa(text);
				at.continue();
			};
		};
	})`)
	out := map[string][]byte{}
	for name, text := range got {
		data, err := base64.StdEncoding.DecodeString(text)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = data
	}
	return out
}

// bare fails the test when anything of the camera is left in a stored picture.
func bare(t *testing.T, name string, data []byte) {
	t.Helper()
	for _, word := range []string{"Exif", "GPS", testCamera, testPlace, "http://ns.adobe.com", "Photoshop"} {
		if bytes.Contains(data, []byte(word)) {
			t.Errorf("%s holds %q", name, word)
		}
	}
	for at := 2; at+4 <= len(data) && data[at] == 0xff && data[at+1] != 0xda; at += 2 + int(data[at+2])<<8 + int(data[at+3]) {
		if m := data[at+1]; m == 0xe1 || m == 0xed || m == 0xfe {
			t.Errorf("%s holds a block %x", name, m)
		}
	}
}

// near reports whether two colours are the same to the eye: packing changes a plain area by a few steps.
func near(a color.Color, b color.RGBA) bool {
	r, g, bl, _ := a.RGBA()
	off := func(x uint32, y uint8) bool { return int(x>>8)-int(y) > 12 || int(y)-int(x>>8) > 12 }
	return !off(r, b.R) && !off(g, b.G) && !off(bl, b.B)
}

// picture unpacks a stored photo and checks its limits.
func picture(t *testing.T, name string, data []byte) image.Image {
	t.Helper()
	m, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatalf("%s is no JPEG: %v", name, err)
	}
	if long := max(m.Bounds().Dx(), m.Bounds().Dy()); long > photoSide {
		t.Errorf("%s is %d pixels long", name, long)
	}
	return m
}

// Eight pictures of the same scene, taken with the camera held in the eight ways EXIF knows, with its name and the place inside, come
// out upright, small and bare, each with a thumbnail, and are still on the sheet after a reload.
func TestPhotosAreStoredUprightSmallAndBare(t *testing.T) {
	_, _, page := fresh(t)
	beginSheet(page)
	const w, h = 2400, 1800
	var files []string
	for o := 1; o <= 8; o++ {
		files = append(files, fileOf(t, "held-"+strconv.Itoa(o)+".jpg", cameraFile(t, turned(upright(w, h, uint8(40+20*o)), o), o, 90)))
	}
	page.Upload("photo-files", files...)
	for i := range files {
		page.Wants("photo-"+strconv.Itoa(i), "After")
	}
	blobs := storedBlobs(t, page)
	if len(blobs) != 2*len(files) {
		t.Fatalf("%d blobs for %d photos", len(blobs), len(files))
	}
	shades := map[int]int{}
	for name, data := range blobs {
		bare(t, name, data)
		m := picture(t, name, data)
		b := m.Bounds()
		thumb := b.Dx() <= thumbSide
		if want := map[bool]image.Point{true: {thumbSide, thumbSide * h / w}, false: {photoSide, photoSide * h / w}}[thumb]; b.Size() != want {
			t.Errorf("%s is %v, want %v", name, b.Size(), want)
		}
		for i, c := range corners {
			x, y := b.Dx()/10+(i%2)*b.Dx()*8/10, b.Dy()/10+(i/2)*b.Dy()*8/10
			if got := m.At(x, y); !near(got, c) {
				t.Errorf("%s: corner %d is %v, want %v", name, i, got, c)
			}
		}
		grey, _, _, _ := m.At(b.Dx()/2, b.Dy()/2).RGBA()
		shades[(int(grey>>8)+10)/20]++
	}
	for o := 1; o <= 8; o++ {
		if shades[2+o] != 2 {
			t.Errorf("orientation %d is stored %d times, want picture and thumbnail", o, shades[2+o])
		}
	}
	page.Reload()
	for i := range files {
		page.Wants("photo-"+strconv.Itoa(i), "After")
	}
}

// Addresses of bytes are held for what is in sight alone, and let go with it.
func TestPhotosLetGoOfWhatIsOutOfSight(t *testing.T) {
	_, _, page := fresh(t)
	beginSheet(page)
	var files []string
	for i := range 3 {
		files = append(files, fileOf(t, "p"+strconv.Itoa(i)+".jpg", cameraFile(t, upright(400, 300, uint8(40+20*i)), 1, 90)))
	}
	page.Upload("photo-files", files...)
	page.Wants("photo-2", "After")
	browsertest.Eval[bool](page, `document.querySelector('[data-val="photo-0"]').scrollIntoView(), true`)
	page.Wait("three thumbnails have their bytes", `torchsidePhotos.addresses() === 3`)
	page.Tap("photo-open-0")
	page.Wait("the whole photo has its bytes", `document.querySelector('.photo-whole')?.naturalWidth === 400`)
	page.Tap("photo-look-close")
	page.Wait("the whole photo is let go", `torchsidePhotos.addresses() === 3`)
	goTo(page, "rig")
	page.Wait("all are let go", `torchsidePhotos.addresses() === 0`)
}

// What is no picture is refused with its name, what was read and what is allowed; it may be attached as it is, and the good
// picture chosen with it is taken.
func TestPhotosThatAreNoneAreRefusedAndCanBeAttached(t *testing.T) {
	_, _, page := fresh(t)
	beginSheet(page)
	heic := append([]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), bytes.Repeat([]byte{0, 7}, 2000)...)
	page.Upload("photo-files", fileOf(t, "letter.jpg", []byte("This is a letter, not a picture.\n")), fileOf(t, "IMG_1.heic", heic), fileOf(t, "empty.png", nil),
		fileOf(t, "good.jpg", cameraFile(t, upright(400, 300, 90), 1, 90)), fileOf(t, "long.bin", bytes.Repeat([]byte{0, 1, 2, 3}, 11<<18)))
	page.WantsText("letter.jpg: read a text")
	page.WantsText("IMG_1.heic: read an HEIC picture, 4 kB; allowed are pictures this browser can show")
	page.WantsText("empty.png: read an empty file")
	page.WantsText("takes up to 10.0 MB")
	page.Wants("photo-0", "After")
	sound(t, page, "photos-refused")
	offers := page.All("data-act")
	var heicOffer string
	for _, act := range offers {
		if strings.HasPrefix(act, "photo-attach-") && strings.Contains(page.Text(act), "IMG_1.heic") {
			heicOffer = act
		}
	}
	page.Tap(heicOffer)
	page.Wants("photo-1", "IMG_1.heic", "File")
	var kept bool
	for _, data := range storedBlobs(t, page) {
		kept = kept || bytes.Equal(data, heic)
	}
	if !kept {
		t.Error("the file is not kept as it is")
	}
}

// A photo of 50 megapixels and 20 MB, as the largest phone cameras make them.
func TestPhotoOfTwentyMegabytes(t *testing.T) {
	_, _, page := fresh(t)
	beginSheet(page)
	big := cameraFile(t, grainy(8160, 6120, 60), 6, 90)
	if len(big) < 20<<20 {
		t.Fatalf("the test's picture has %d bytes", len(big))
	}
	page.Upload("photo-files", fileOf(t, "big.jpg", big))
	page.Wants("photo-0", "After")
	for name, data := range storedBlobs(t, page) {
		bare(t, name, data)
		if b := picture(t, name, data).Bounds(); b.Dx()*4 != b.Dy()*3 {
			t.Errorf("%s is %v, want upright", name, b.Size())
		}
		if len(data) > 4<<20 {
			t.Errorf("%s has %d bytes", name, len(data))
		}
	}
}

// Storage full in the middle: the photo is refused and said so, what is on the sheet stays, and with room again it is taken.
func TestPhotoWithoutRoomIsRefusedAndTheSheetKept(t *testing.T) {
	server := browsertest.NewServer(t)
	profile := browsertest.NewProfile(t, server)
	profile.OnNew(failingStore)
	page := profile.Open("/")
	accept(page)
	beginSheet(page)
	page.Type("sheet-note", "typed before")
	first := fileOf(t, "first.jpg", cameraFile(t, upright(400, 300, 60), 1, 90))
	second := fileOf(t, "second.jpg", cameraFile(t, upright(400, 300, 120), 1, 90))
	page.Upload("photo-files", first)
	page.Wants("photo-0", "After")
	browsertest.Eval[string](page, `window.storeFails = "QuotaExceededError"`)
	page.Upload("photo-files", second)
	page.Wants("photo-refused", "second.jpg", "full", "kept", "choose the photo again")
	page.Lacks("photo-1")
	browsertest.Eval[string](page, `window.storeFails = ""`)
	page.Upload("photo-files", second)
	page.Wants("photo-1", "After")
	page.Lacks("photo-refused")
	page.Reload()
	page.Wants("sheet-note", "typed before")
	page.Wants("photo-1", "After")
}

// A photo taken off comes back with one tap.
func TestPhotoTakenOffComesBack(t *testing.T) {
	_, _, page := fresh(t)
	beginSheet(page)
	page.Upload("photo-camera", fileOf(t, "a.jpg", cameraFile(t, upright(400, 300, 60), 1, 90)), fileOf(t, "b.jpg", cameraFile(t, upright(400, 300, 120), 1, 90)))
	page.Wants("photo-1", "After")
	page.Tap("photo-open-1")
	page.Type("photo-caption", "the second")
	page.Tap("photo-look-close")
	page.Wants("photo-1", "the second")
	page.Tap("photo-remove-1")
	page.Lacks("photo-1")
	page.Tap("undo")
	page.Wants("photo-1", "the second")
}

// The width of a bead is measured on a photo by a coin in it: fingers get near, the arrows get there.
func TestBeadIsMeasuredByACoin(t *testing.T) {
	_, _, page := fresh(t)
	beginSheet(page)
	page.Upload("photo-files", fileOf(t, "bead.jpg", cameraFile(t, measuredPicture(), 1, 92)))
	page.Wants("photo-0", "After")
	page.Tap("photo-open-0")
	page.Tap("photo-measure")
	page.Wait("the photo has its bytes", `document.querySelector('.photo-whole')?.naturalWidth === `+strconv.Itoa(measuredW))
	r := coinMM * perMM / 2
	half := beadMM * perMM / 2
	points := [4][2]float64{{coinX - r, coinY}, {coinX + r, coinY}, {beadAtX, beadMidY - half}, {beadAtX, beadMidY + half}}
	for _, q := range points {
		page.TapAt("photo-stage", q[0]/measuredW, q[1]/measuredH)
	}
	page.Choose("photo-known", "eur_050")
	page.Wants("photo-result", "±", "mm")
	sound(t, page, "photo-measure")
	for i, q := range points {
		nudgeTo(t, page, i, q[0], q[1])
	}
	width, off := widthShown(t, page.Text("photo-result"))
	if width < beadMM*0.98 || width > beadMM*1.02 {
		t.Errorf("measured %v mm, drawn %v mm", width, beadMM)
	}
	if off <= 0 || width-off > beadMM || width+off < beadMM {
		t.Errorf("%v ± %v mm does not hold %v mm", width, off, beadMM)
	}
	page.WantsText("looked straight down")
	page.Tap("photo-measure-keep")
	page.Wants("photo-bead", strconv.FormatFloat(width, 'f', -1, 64))
	page.Tap("photo-look-close")
	page.Wants("photo-0", "±")
	page.Reload()
	page.Wants("photo-0", "±")
}

// nudgeTo takes a point in hand and moves it by the arrows until it is where it shall be, as the magnifier would show.
func nudgeTo(t *testing.T, p *browsertest.Page, point int, x, y float64) {
	t.Helper()
	p.Tap("photo-point-" + strconv.Itoa(point))
	hand := `document.querySelector('[data-act="photo-stage"]').dataset`
	p.Wait("the point is in hand", hand+`.hand === "`+strconv.Itoa(point)+`"`)
	for range 40 {
		at := strings.Fields(browsertest.Eval[string](p, hand+`.places.split(";").find((one) => one.startsWith("`+strconv.Itoa(point)+` "))`))
		nowX, errX := strconv.ParseFloat(at[1], 64)
		nowY, errY := strconv.ParseFloat(at[2], 64)
		if errX != nil || errY != nil {
			t.Fatal(at)
		}
		act := ""
		switch {
		case nowX-x > 0.6:
			act = "left"
		case x-nowX > 0.6:
			act = "right"
		case nowY-y > 0.6:
			act = "up"
		case y-nowY > 0.6:
			act = "down"
		default:
			return
		}
		before := browsertest.Eval[string](p, hand+`.places`)
		p.Tap("photo-nudge-" + act)
		p.Wait("the point has moved", hand+`.places !== `+strconv.Quote(before))
	}
	t.Fatalf("point %d is far from %v, %v", point, x, y)
}

func widthShown(t *testing.T, text string) (width, off float64) {
	t.Helper()
	f := strings.Fields(text)
	if len(f) != 4 || f[3] != "mm" {
		t.Fatalf("%q", text)
	}
	width, err := strconv.ParseFloat(f[0], 64)
	if err != nil {
		t.Fatal(err)
	}
	if off, err = strconv.ParseFloat(f[2], 64); err != nil {
		t.Fatal(err)
	}
	return width, off
}
