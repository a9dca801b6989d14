//go:build unix

package bolt_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
)

// The attachments of a vault that was put aside stay with it: a repair of the new one must not take them for rubbish.
func TestRepair_leaves_the_attachments_of_a_vault_put_aside(t *testing.T) {
	folder, file, shop := backedUp(t)
	v := open(t, folder)
	op := storagetest.RandomOps(77, 1)[0]
	photo := []byte("taken after the backup")
	op.Blobs = []storage.Hash{storage.HashOf(photo)}
	push(t, v, shop, op)
	try(t, v.WriteBlob(t.Context(), shop, op.Blobs[0], 0, photo, true))
	try(t, v.Close())
	done, err := bolt.Restore(t.Context(), folder, file, true, now.Add(time.Hour))
	try(t, err)
	path := filepath.Join(folder, "blobs", string(shop), op.Blobs[0][:2], op.Blobs[0][2:4], op.Blobs[0])
	report, err := bolt.Repair(t.Context(), folder)
	try(t, err)
	if _, err := os.Stat(path); err != nil {
		t.Fatalf("the repair took the photo of the vault put aside: %v", err)
	}
	if len(report.Findings) != 1 || !strings.Contains(report.Findings[0].Do, done.Aside) {
		t.Errorf("found %+v, want one that names %s", report.Findings, done.Aside)
	}
	try(t, os.Remove(done.Aside))
	report, err = bolt.Repair(t.Context(), folder)
	if _, gone := os.Stat(path); err != nil || len(report.Findings) != 0 || !errors.Is(gone, fs.ErrNotExist) {
		t.Errorf("with nothing put aside any more: %+v, %v, the file: %v", report.Findings, err, gone)
	}
}

// A vault that a newer program wrote is not replaced by accident.
func TestRestore_over_a_vault_of_a_newer_program_needs_force(t *testing.T) {
	folder, file, _ := backedUp(t)
	db, err := bbolt.Open(filepath.Join(folder, "vault.bolt"), 0o600, nil)
	try(t, err)
	try(t, db.Update(func(tx *bbolt.Tx) error { return tx.Bucket([]byte("meta")).Put([]byte("schema"), []byte("99")) }))
	try(t, db.Close())
	_, err = bolt.Restore(t.Context(), folder, file, false, now)
	var newer *bolt.NewerError
	if !errors.As(err, &newer) || !strings.Contains(err.Error(), `schema "99"`) {
		t.Fatalf("got %v, want a refusal that names the schema", err)
	}
	if done, err := bolt.Restore(t.Context(), folder, file, true, now); err != nil || done.Aside == "" {
		t.Errorf("forced: %+v, %v", done, err)
	}
}

// While a server writes, its half-written pages are no damage.
func TestCheck_of_a_vault_in_use_never_calls_it_damaged(t *testing.T) {
	folder, _, shop := backedUp(t)
	v := open(t, folder)
	path := filepath.Join(folder, "vault.bolt")
	whole, err := os.ReadFile(path)
	try(t, err)
	spoiled := append([]byte(nil), whole...)
	for at := 2 * os.Getpagesize(); at < len(spoiled); at += os.Getpagesize() {
		clear(spoiled[at:min(at+16, len(spoiled))])
	}
	try(t, os.WriteFile(path, spoiled, 0o600))
	_, err = bolt.Check(t.Context(), folder)
	try(t, os.WriteFile(path, whole, 0o600))
	if !errors.Is(err, bolt.ErrInUse) {
		t.Errorf("got %v, want that it is in use", err)
	}
	push(t, v, shop, storagetest.RandomOps(77, 1)[0])
	try(t, v.Close())
	sound(t, folder)
}
