//go:build !js

package bolt

import (
	"fmt"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// Schema is that of now, SchemasBefore those that are brought up to date.
const Schema = schema

var SchemasBefore = schemasBefore

// KeepHeadroomFrom has room kept ahead of files of that size, in bytes, for one test.
func KeepHeadroomFrom(t testing.TB, size int64) {
	before := headroomFrom
	headroomFrom = size
	t.Cleanup(func() { headroomFrom = before })
}

// CopyFile copies a file, and syncs the copy.
var CopyFile = copyFile

// Fill makes a vault with a shop, so many audit entries, of which the oldest are
// of no shop, and keys of attempts, named by their number, in one transaction:
// one at a time would take a sync each.
func Fill(t testing.TB, folder string, strange, audits, attempts int) (*Vault, vault.ShopID) {
	t.Helper()
	v, err := Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = v.Close() })
	home, err := v.CreateShop(t.Context(), "Home", time.Unix(1, 0))
	if err != nil {
		t.Fatal(err)
	}
	err = v.update(t.Context(), func(tx *bbolt.Tx) error {
		b, rows, order := tx.Bucket(auditBucket), tx.Bucket(attemptsBucket), tx.Bucket(orderBucket)
		for i := range audits {
			row := auditRow{At: time.Unix(1, 0), Event: fmt.Sprint(i)}
			if i >= strange {
				row.Shop = home.ID
			}
			if err := putRow(b, number(uint64(i+1)), row); err != nil {
				return err
			}
		}
		for i := range attempts {
			n, key := uint64(i+1), []byte(fmt.Sprint(i))
			if err := errorsOf(putRow(rows, key, attemptsRow{N: n, Count: 1}), order.Put(number(n), key)); err != nil {
				return err
			}
		}
		return errorsOf(b.SetSequence(uint64(audits)), order.SetSequence(uint64(attempts)))
	})
	if err != nil {
		t.Fatal(err)
	}
	return v, home.ID
}

// Sabotage changes the database of a closed vault.
func Sabotage(t testing.TB, path string, f func(*bbolt.Tx) error) {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Update(f); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

// DropEntry drops the text of op number n, whatever it is.
func DropEntry(b *bbolt.Bucket, n uint64, op storage.Op) error {
	var parents [][]byte
	for _, p := range op.Parents {
		parents = append(parents, idBytes(p))
	}
	log := b.Bucket(logBucket)
	e := newDropped(entry(log.Get(number(n))), idBytes(op.Rec), parents)
	return errorsOf(b.Bucket(droppedBucket).Put(number(n), e), log.Delete(number(n)))
}
