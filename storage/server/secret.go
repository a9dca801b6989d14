package server

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"math/big"
	"strings"
)

// tokenBytes is 256 bits: nobody guesses it, so no slow hash is needed to store it.
const tokenBytes = 32

// newToken makes what a device shows with every request. Only its hash is stored.
func newToken() string {
	var b [tokenBytes]byte
	_, _ = rand.Read(b[:]) // documented never to fail
	return base64.RawURLEncoding.EncodeToString(b[:])
}

// hashToken gives what is stored of a token. It fails if the text is none.
func hashToken(token string) ([sha256.Size]byte, bool) {
	b, err := base64.RawURLEncoding.Strict().DecodeString(token)
	if err != nil || len(b) != tokenBytes {
		return [sha256.Size]byte{}, false
	}
	return sha256.Sum256(b), true
}

// codeDigits are few enough to be typed with gloves. With so few a code is safe only because it
// ends soon, works once, and guessing is stopped: see the limits in pairing.go.
const codeDigits = 8

var codeSpace = big.NewInt(100_000_000) // ten to the power of codeDigits

// newCode makes a pairing code.
func newCode() string {
	n, err := rand.Int(rand.Reader, codeSpace)
	if err != nil {
		panic(err) // rand.Reader is documented never to fail
	}
	return fmt.Sprintf("%0*d", codeDigits, n)
}

// SpacedCode writes a code in two groups, as it is shown.
func SpacedCode(code string) string {
	if len(code) != codeDigits {
		return code
	}
	return code[:codeDigits/2] + " " + code[codeDigits/2:]
}

// hashCode gives what is stored of a code. Blanks and hyphens, as people type them, do not count;
// it fails on anything else but eight digits.
func hashCode(typed string) ([sha256.Size]byte, bool) {
	code := strings.NewReplacer(" ", "", "-", "", "\u00a0", "").Replace(typed)
	if len(code) != codeDigits || strings.Trim(code, "0123456789") != "" {
		return [sha256.Size]byte{}, false
	}
	return sha256.Sum256([]byte("torchside pairing code " + code)), true
}
