package server

import (
	"strings"
	"testing"
)

// A code is eight digits however they are set apart; nothing else is one.
func FuzzHashCode(f *testing.F) {
	for _, s := range []string{"1234 5678", "12345678", "1234-5678", "", "1234567", "123456789", "１２３４５６７８", "1234\u00a05678", "abcdefgh"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		digits := strings.Map(func(r rune) rune {
			if r == ' ' || r == '-' || r == '\u00a0' {
				return -1
			}
			return r
		}, typed)
		want := len(digits) == codeDigits && strings.Trim(digits, "0123456789") == ""
		sum, ok := hashCode(typed)
		if ok != want {
			t.Fatalf("%q is taken for a code: %v", typed, ok)
		}
		if plain, _ := hashCode(digits); ok && plain != sum {
			t.Fatalf("%q and %q are not the same code", typed, digits)
		}
	})
}
