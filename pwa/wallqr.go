package pwa

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"rsc.io/qr/coding"
	"torchside/pwa/site"
)

// origin is the address of the app, as https://host:port.
func origin() string {
	if app.IsServer {
		return ""
	}
	u := app.Window().URL()
	return u.Scheme + "://" + u.Host + site.At("/")
}

// originCode is the code of the app's address, as rows of 1 (dark) and 0; none for one too long to be printed small.
func originCode() []string { return codeOf(origin()) }

// maxCodeVersion is the largest code that is still read from a wall at arm's length: 41 modules a side.
const maxCodeVersion = 6

// codeOf encodes a text with medium error correction (ISO/IEC 18004).
func codeOf(text string) []string {
	if text == "" {
		return nil
	}
	for v := coding.Version(1); v <= maxCodeVersion; v++ {
		if coding.String(text).Bits(v) > v.DataBytes(coding.M)*8 {
			continue
		}
		plan, err := coding.NewPlan(v, coding.M, 0)
		if err != nil {
			return nil
		}
		code, err := plan.Encode(coding.String(text))
		if err != nil {
			return nil
		}
		return rowsOf(code)
	}
	return nil
}

func rowsOf(code *coding.Code) []string {
	rows := make([]string, code.Size)
	for y := range rows {
		var b strings.Builder
		for x := range code.Size {
			if code.Black(x, y) {
				b.WriteByte('1')
			} else {
				b.WriteByte('0')
			}
		}
		rows[y] = b.String()
	}
	return rows
}
