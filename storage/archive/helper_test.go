package archive_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"testing"

	"torchside/storage/archive"
)

// sealed makes a file whose size and checksum fit the ops, so that only what
// the ops say can be wrong. Its counts are those of the file in unpacked.
func sealed(t testing.TB, ops string) []byte {
	t.Helper()
	text, _ := unpacked(t)
	var m archive.Manifest
	if err := json.Unmarshal([]byte(text), &m); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256([]byte(ops))
	m.Bytes, m.SHA256 = int64(len(ops)), hex.EncodeToString(sum[:])
	manifest, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return entries(t, "manifest.json", string(manifest), "ops.jsonl", ops)
}
