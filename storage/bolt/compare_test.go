//go:build !js

package bolt

import (
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"
)

// A disk that keeps something else than was written must be noticed before the old file is let go.
func TestCompact_notices_a_new_file_that_differs(t *testing.T) {
	v, shop := smallVault(t)
	if err := v.Close(); err != nil {
		t.Fatal(err)
	}
	in := func(tx *bbolt.Tx) *bbolt.Bucket { return tx.Bucket(shopsBucket).Bucket([]byte(shop)) }
	first := func(b *bbolt.Bucket) []byte { key, _ := b.Cursor().First(); return key }
	for name, change := range map[string]func(*bbolt.Tx) error{
		"nothing":    nil,
		"a value":    func(tx *bbolt.Tx) error { return in(tx).Bucket(logBucket).Put(number(1), []byte("other")) },
		"one less":   func(tx *bbolt.Tx) error { b := in(tx).Bucket(opsBucket); return b.Delete(first(b)) },
		"one more":   func(tx *bbolt.Tx) error { return in(tx).Bucket(logBucket).Put(number(1000), []byte("more")) },
		"a sequence": func(tx *bbolt.Tx) error { return in(tx).Bucket(logBucket).SetSequence(99) },
		"a bucket":   func(tx *bbolt.Tx) error { return tx.DeleteBucket(auditBucket) },
		"a new one":  func(tx *bbolt.Tx) error { _, err := tx.CreateBucket([]byte("zz")); return err },
	} {
		t.Run(name, func(t *testing.T) {
			c := &compactor{ctx: t.Context(), path: v.path, to: filepath.Join(t.TempDir(), compactFile)}
			if err := c.write(); err != nil {
				t.Fatal(err)
			}
			if change != nil {
				Sabotage(t, c.to, change)
			}
			old, err := openToRead(c.path)
			if err != nil {
				t.Fatal(err)
			}
			defer old.Close()
			err = c.compare(old)
			if (err == nil) != (change == nil) || err != nil && !strings.Contains(err.Error(), "not what was written") {
				t.Errorf("got %v", err)
			}
		})
	}
}
