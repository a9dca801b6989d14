package units

import (
	"strings"
)

// clean brings typed text to plain characters: one kind of space, prime, minus and slash, and vulgar fractions as
// "n/d" with a space before them where they follow a digit: "1½" becomes "1 1/2".
func clean(text string) string {
	var b strings.Builder
	for _, r := range plainSigns.Replace(text) {
		fraction, ok := vulgar[r]
		if !ok {
			b.WriteRune(r)
			continue
		}
		if s := b.String(); s != "" && isDigit(s[len(s)-1]) {
			b.WriteByte(' ')
		}
		b.WriteString(fraction)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// plainSigns covers what phone keyboards and copied text put in place of the plain character; two primes are an inch mark.
var plainSigns = strings.NewReplacer(
	"″", `"`, "”", `"`, "“", `"`, "„", `"`, "''", `"`, "′′", `"`, "’’", `"`, "′", "'", "’", "'", "‘", "'", "´", "'",
	"−", "-", "–", "-", "‐", "-", "‑", "-", "⁄", "/", "∕", "/",
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2007", " ", "\u200b", "", "\ufeff", "",
)

var vulgar = map[rune]string{
	'½': "1/2", '¼': "1/4", '¾': "3/4", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅓': "1/3", '⅔': "2/3",
}
