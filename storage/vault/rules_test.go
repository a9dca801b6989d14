package vault_test

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"testing"

	"torchside/storage"
	"torchside/storage/vault"
)

// The definition in the package comment, written out for the first two values.
func ExampleChain() {
	first := vault.Chain(nil, "id", []byte("{}"))
	second := vault.Chain(first[:], "id", []byte("{}"))
	raw := sha256.Sum256([]byte("{}"))
	byHand := sha256.Sum256([]byte("id" + string(raw[:])))
	fmt.Println(hex.EncodeToString(first[:]) == hex.EncodeToString(byHand[:]), first != second)
	// Output: true true
}

func TestCheckHash_accepts_what_HashOf_gives_and_nothing_that_could_be_a_path(t *testing.T) {
	h := storage.HashOf([]byte("x"))
	if err := vault.CheckHash(h); err != nil {
		t.Error(err)
	}
	for _, bad := range []string{"", strings.ToUpper(h), h + "/", "../" + h[3:], h[:63] + "\x00"} {
		if err := vault.CheckHash(bad); !errors.Is(err, storage.ErrInvalid) {
			t.Errorf("%q: got %v, want ErrInvalid", bad, err)
		}
	}
}

func TestCut_keeps_whole_characters(t *testing.T) {
	e := vault.AuditEntry{Event: "x", Detail: strings.Repeat("ü", vault.MaxDetail)}.Cut()
	if e.Detail != strings.Repeat("ü", vault.MaxDetail/2) {
		t.Errorf("cut to %d bytes: %q", len(e.Detail), e.Detail)
	}
	odd := vault.AuditEntry{Detail: "x" + strings.Repeat("ü", vault.MaxDetail)}.Cut()
	if len(odd.Detail) != vault.MaxDetail-1 {
		t.Errorf("half a character is kept: %q", odd.Detail[len(odd.Detail)-3:])
	}
}
