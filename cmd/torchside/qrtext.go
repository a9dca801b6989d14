package main

import (
	"strings"

	"rsc.io/qr"
)

// qrText draws a QR code for a terminal, two modules in a character. Light modules are drawn and
// dark ones left out, as terminals are dark; the quiet zone is part of the drawing, so the code
// stands out on a light one too, inverted, which phones read as well.
func qrText(text string) (string, error) {
	code, err := qr.Encode(text, qr.L)
	if err != nil {
		return "", err
	}
	light := func(x, y int) bool { return !code.Black(x, y) } // outside the code Black is false: the quiet zone
	var b strings.Builder
	for y := -quietZone; y < code.Size+quietZone; y += 2 {
		for x := -quietZone; x < code.Size+quietZone; x++ {
			b.WriteString(halfBlock(light(x, y), light(x, y+1)))
		}
		b.WriteByte('\n')
	}
	return b.String(), nil
}

func halfBlock(upper, lower bool) string {
	switch {
	case upper && lower:
		return "█"
	case upper:
		return "▀"
	case lower:
		return "▄"
	}
	return " "
}
