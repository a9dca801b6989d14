package pwa

import (
	"strings"
	"testing"

	"rsc.io/qr"
)

// The code has the same version, size and finder patterns as that of the whole library at the same level, and is left out for an address
// that does not fit.
func TestCodeOf_isOfTheSmallestVersion(t *testing.T) {
	for _, text := range []string{"http://localhost:8080/", "https://192.168.178.20:8443/", "https://torch.example.org/"} {
		rows := codeOf(text)
		whole, err := qr.Encode(text, qr.M)
		if err != nil || len(rows) != whole.Size {
			t.Fatalf("%s: %d rows, the library has %d, %v", text, len(rows), whole.Size, err)
		}
		n := len(rows)
		for _, corner := range [][2]int{{0, 0}, {0, n - 7}, {n - 7, 0}} {
			if got := rows[corner[0]][corner[1] : corner[1]+7]; got != "1111111" {
				t.Errorf("%s: no finder pattern at %v: %s", text, corner, got)
			}
		}
	}
	if codeOf(strings.Repeat("x", 200)) != nil || codeOf("") != nil {
		t.Error("a code for an address that is too long, or for none")
	}
}
