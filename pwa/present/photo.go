package present

import (
	"math"
	"strconv"
	"strings"

	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Photo is one photo of a sheet ready to show.
type Photo struct {
	Index    int    // in its sheet
	Hash     string // name of the picture; "" for a drawn one
	Thumb    string // name of the small picture; "" for a drawn one and for a file that cannot be shown
	Drawing  Drawing
	W, H     int
	Name     string // "Photo 2", or the caption
	Alt      string // what a picture reader says
	Role     string // word of the list of roles; may be empty
	RoleName string
	Caption  string
	Width    string // of the bead as measured: "6.3 mm ± 0.4 mm"; "" while it is not
	Plain    bool   // a file that cannot be shown here
	Size     string // of the stored file: "1.2 MB"
}

// PhotoRole is one answer to what a photo shows.
type PhotoRole struct{ Value, Label string }

// PhotoRoles are the answers, in the order of the work.
func PhotoRoles() []PhotoRole {
	var list []PhotoRole
	for _, w := range journal.Roles() {
		list = append(list, PhotoRole{Value: w.ID, Label: w.Name})
	}
	return list
}

// NewPhotos makes the photos of a sheet ready to show.
func NewPhotos(list []journal.Photo, o Options) []Photo {
	out := make([]Photo, len(list))
	for i, p := range list {
		out[i] = NewPhoto(p, i, o)
	}
	return out
}

// NewPhoto makes one photo ready to show.
func NewPhoto(p journal.Photo, index int, o Options) Photo {
	v := Photo{Index: index, Hash: p.Hash, Thumb: p.ThumbHash, W: p.W, H: p.H, Role: p.Role, RoleName: journal.Name(p.Role), Caption: p.Caption,
		Name: words.S("Photo %s", strconv.Itoa(index+1)), Size: FileSize(p.Bytes)}
	switch {
	case p.Caption != "":
		v.Name = words.Own(p.Caption, p.Draw != nil) // only the sample has drawn ones
	case p.Name != "":
		v.Name = p.Name
	}
	v.Plain = p.Draw == nil && p.ThumbHash == ""
	v.Alt = strings.TrimSpace(words.S("%s %s", v.RoleName, v.Name))
	if p.Draw != nil {
		v.Drawing = BeadDrawing(*p.Draw, v.Alt)
	}
	if p.BeadM != nil {
		v.Width = beadWidth(p, o)
	}
	return v
}

// ThumbOf is the first photo of a sheet for its row in a list; ok is false for a sheet without one.
func ThumbOf(b journal.Brief) (p Photo, ok bool) {
	if b.Photos == 0 {
		return Photo{}, false
	}
	one := journal.Photo{ThumbHash: b.Thumb, Draw: b.Draw}
	return NewPhoto(one, 0, Options{}), true
}

// CoinSource is where the diameters of coins come from.
const CoinSource = "Diameters: " + journal.CoinSource + "."

// beadWidth is the measured width with what it may be off by, where that is known.
func beadWidth(p journal.Photo, o Options) string {
	if p.BeadErrM != nil {
		return BeadWidth(*p.BeadM, *p.BeadErrM, o)
	}
	return words.Number(units.Format(units.QuantityLength, *p.BeadM, o.Units.Unit(units.QuantityThickness), 0))
}

// BeadWidth is a width in metres and what it may be off by, to as many places as the error leaves a meaning: two figures of the
// error, and the width to the same place (the practice of JCGM 100:2008, 7.2.6).
func BeadWidth(width, off float64, o Options) string {
	factor, symbol := 1e3, "mm"
	if inches(o) {
		factor, symbol = 1/0.0254, "in"
	}
	places := 1 - int(math.Floor(math.Log10(math.Max(off*factor, 1e-6))))
	places = min(max(places, 0), 4)
	text := func(v float64) string { return words.Number(strconv.FormatFloat(v*factor, 'f', places, 64)) }
	return text(width) + " ± " + text(off) + " " + symbol
}

// FileSize is a size in bytes for a person; "" for none.
func FileSize(bytes int) string {
	const kB, mB = 1 << 10, 1 << 20
	switch {
	case bytes <= 0:
		return ""
	case bytes < mB:
		return words.S("%s kB", strconv.Itoa(max(1, (bytes+kB/2)/kB)))
	}
	return words.S("%s MB", words.Number(strconv.FormatFloat(float64(bytes)/mB, 'f', 1, 64)))
}
