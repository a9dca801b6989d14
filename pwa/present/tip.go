package present

import (
	"html"
	"math"
	"strconv"
	"strings"

	"torchside/calc/units"
	"torchside/calc/words"
)

// Tip is the tip to fit.
type Tip struct {
	Key      string // data-val
	Label    string
	Hole     string // "one hole, 0.040 in"
	Also     string // other tips that fit
	Kind     string
	Memory   bool
	Drawing  Drawing
	Warnings []Warning
}

// Number lets a tip be shown as a number is.
func (t Tip) Number() Number {
	return Number{Key: t.Key, Label: "Tip", Value: t.Label, Note: t.Hole, Kind: t.Kind, Memory: t.Memory}
}

// samplePrefix begins the names of all parts of the sample rig.
const samplePrefix = "SAMPLE "

func (b *builder) tip() Tip {
	n := b.words(keyTip, "Tip", b.card.Tip)
	label := words.Own(b.card.Tip, strings.HasPrefix(b.card.Tip, samplePrefix))
	hole := b.hole()
	return Tip{Key: keyTip, Label: label, Hole: hole, Also: b.alsoFits(), Kind: n.Kind, Memory: n.Memory,
		Drawing: drawTag(label, hole), Warnings: append(n.Warnings, b.warn.take("tip_detail.orifice_diameter_m")...)}
}

func (b *builder) hole() string {
	d := b.card.TipDetail
	if d.OrificeDiameterM == nil {
		return "Hole not entered"
	}
	sc := b.short(units.QuantityBore)
	size := sc.text(*d.OrificeDiameterM)
	if strings.HasPrefix(size, "#") { // a numbered drill says little without its size
		size += " (" + decimal(*d.OrificeDiameterM/inch, 3) + " in)"
	}
	if d.OrificeCount > 1 {
		return words.S("%s holes, %s each", strconv.Itoa(d.OrificeCount), size)
	}
	return words.S("One hole, %s", size)
}

// drawTag draws a tag as one ties to a tip, with the tip's own label on it.
func drawTag(label, hole string) Drawing {
	s := &svg{}
	s.path("tag-body", "M34 8H150a10 10 0 0 1 10 10V78a10 10 0 0 1 -10 10H34L6 62V34Z")
	s.circle("tag-eye", 28, 48, 8)
	s.path("tag-string", "M20 48C10 48 6 40 3 30")
	s.tagLabel(shortLabel(label))
	return s.wrap("tag", words.S("Tip %s", label), words.S("Tag of the tip to fit: %s. %s.", label, hole), 168, 96)
}

// tagLabel writes the label as large as the tag allows.
func (s *svg) tagLabel(label string) {
	// 108 units lie between the eye and the edge; a bold letter is about two thirds as wide as high.
	size := math.Min(52, 108/(0.68*math.Max(1, float64(len([]rune(label))))))
	s.b.WriteString(`<text class="tag-label" x="97" y="49" font-size="` + num(size) + `">` + html.EscapeString(label) + `</text>`)
}

// shortLabel cuts a label to what fits on the tag; the full label stands beside it.
func shortLabel(label string) string {
	const fits = 10
	if r := []rune(label); len(r) > fits {
		return string(r[:fits-1]) + "…"
	}
	return label
}
