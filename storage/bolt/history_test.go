//go:build unix

package bolt_test

import (
	"archive/tar"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
	"torchside/storage/vault/vaulttest"
)

// versions are so many of one record, each with a photo of its own.
func versions(seed uint64, n int) []storage.Op {
	ops := storagetest.RandomOps(seed, n)
	for i := range ops {
		ops[i].Rec, ops[i].Kind, ops[i].Del, ops[i].Parents = ops[0].Rec, "sheet", false, nil
		ops[i].Blobs = []storage.Hash{storage.HashOf(photoOf(seed, i))}
		if i > 0 {
			ops[i].Parents = []storage.ID{ops[i-1].ID}
		}
	}
	return ops
}

func photoOf(seed uint64, i int) []byte { return fmt.Appendf(nil, "photo %d of %d", i, seed) }

// old makes a vault with three versions of a record that are older than its limit of a day.
func old(t testing.TB, folder string) (v *bolt.Vault, shop vault.ShopID, ops []storage.Op) {
	t.Helper()
	v = open(t, folder)
	s, err := v.CreateShop(t.Context(), "Home", now)
	try(t, err)
	try(t, v.SetKeep(t.Context(), s.ID, 1, now))
	ops = versions(41, 3)
	push(t, v, s.ID, ops...)
	for i, op := range ops {
		try(t, v.WriteBlob(t.Context(), s.ID, op.Blobs[0], 0, photoOf(41, i), true))
	}
	try(t, v.MarkDay(t.Context(), now.AddDate(0, 0, 1)))
	try(t, v.MarkDay(t.Context(), now.AddDate(0, 0, 2)))
	return v, s.ID, ops
}

func fileOf(folder string, shop vault.ShopID, h storage.Hash) string {
	return filepath.Join(folder, "blobs", string(shop), h[:2], h[2:4], h)
}

// trim drops two versions and their photos.
func trim(t testing.TB, v *bolt.Vault, shop vault.ShopID) {
	t.Helper()
	done, err := v.Trim(t.Context(), shop)
	if err != nil || done.Ops != 2 || done.Blobs != 2 {
		t.Fatalf("dropped %+v, %v; want two versions", done, err)
	}
}

func TestTrim_deletes_the_files_it_lets_go_of_and_no_other(t *testing.T) {
	folder := t.TempDir()
	v, shop, ops := old(t, folder)
	trim(t, v, shop)
	for i, op := range ops {
		if _, err := os.Stat(fileOf(folder, shop, op.Blobs[0])); (err == nil) != (i == 2) {
			t.Errorf("the photo of version %d: %v", i+1, err)
		}
	}
	try(t, v.Close())
	if r := sound(t, folder); r.Stats.Shops[0].Dropped != 2 || r.Stats.Shops[0].Gone != 2 || r.Stats.Shops[0].Keep != 1 {
		t.Errorf("check counts %+v", r.Stats.Shops[0])
	}
	// A crash between the commit and the deletion leaves files.
	left := fileOf(folder, shop, ops[0].Blobs[0])
	try(t, os.WriteFile(left, photoOf(41, 0), 0o600))
	r, err := bolt.Repair(t.Context(), folder)
	if _, gone := os.Stat(left); err != nil || r.Mended.Deleted != 1 || !errors.Is(gone, fs.ErrNotExist) {
		t.Errorf("repaired %+v, %v", r.Mended, err)
	}
}

// A vault that a restore put aside may name what the present one lets go of.
func TestTrim_leaves_files_while_a_vault_is_put_aside(t *testing.T) {
	folder := t.TempDir()
	v, shop, ops := old(t, folder)
	try(t, os.WriteFile(filepath.Join(folder, "vault.bolt.before-x"), nil, 0o600))
	trim(t, v, shop)
	for _, op := range ops {
		_, err := os.Stat(fileOf(folder, shop, op.Blobs[0]))
		try(t, err)
	}
	try(t, v.Close())
	if r, err := bolt.Check(t.Context(), folder); err != nil || !r.Sound() || len(r.Findings) != 2 {
		t.Errorf("check: %+v, %v", r.Findings, err)
	}
}

func TestTrim_drops_nothing_of_a_damaged_vault(t *testing.T) {
	folder := t.TempDir()
	v, shop, _ := old(t, folder)
	try(t, v.Close())
	bolt.Sabotage(t, filepath.Join(folder, "vault.bolt"), func(tx *bbolt.Tx) error {
		log := tx.Bucket([]byte("shops")).Bucket([]byte(shop)).Bucket([]byte("log"))
		last, e := log.Cursor().Last()
		e = slices.Clone(e)
		e[len(e)-3] ^= 1
		return log.Put(last, e)
	})
	v = open(t, folder)
	if done, err := v.Trim(t.Context(), shop); !errors.Is(err, storage.ErrCorrupt) || done != (vault.Trimmed{}) {
		t.Errorf("dropped %+v, %v", done, err)
	}
}

// Whichever byte of what is left of an op changes: it is seen, and not passed on.
func TestCheck_sees_every_damaged_byte_of_what_is_left_of_an_op(t *testing.T) {
	folder := t.TempDir()
	v, shop, ops := old(t, folder)
	trim(t, v, shop)
	try(t, v.Close())
	path := filepath.Join(folder, "vault.bolt")
	second := func(tx *bbolt.Tx) (*bbolt.Bucket, []byte, []byte) {
		log := tx.Bucket([]byte("shops")).Bucket([]byte(shop)).Bucket([]byte("dropped"))
		c := log.Cursor()
		c.First()
		key, e := c.Next()
		return log, slices.Clone(key), slices.Clone(e)
	}
	flip := func(at int) (size int) {
		bolt.Sabotage(t, path, func(tx *bbolt.Tx) error {
			log, key, e := second(tx)
			size = len(e)
			e[at] ^= 4
			return log.Put(key, e)
		})
		return size
	}
	for at, size := 0, 1; at < size; at++ {
		size = flip(at)
		r, err := bolt.Check(t.Context(), folder)
		if err != nil || r.Sound() {
			t.Fatalf("byte %d of %d: check says %+v, %v", at, size, r.Findings, err)
		}
		v := open(t, folder)
		if page, err := v.Pull(t.Context(), shop, vault.Checkpoint{}, everything); !errors.Is(err, storage.ErrCorrupt) {
			t.Fatalf("byte %d of %d: pulled %d ops, %v", at, size, len(page.Ops), err)
		}
		try(t, v.Close())
		flip(at)
	}
	sound(t, folder)
	v = open(t, folder)
	push(t, v, shop, ops...)
}

func TestCheck_finds_what_should_not_have_been_dropped(t *testing.T) {
	for name, c := range map[string]struct {
		say  string
		harm func(b *bbolt.Bucket, ops []storage.Op) error
	}{
		"a head": {"nothing replaces it", func(b *bbolt.Bucket, ops []storage.Op) error { return bolt.DropEntry(b, 3, ops[2]) }},
		"a photo that is named": {"a change names it", func(b *bbolt.Bucket, ops []storage.Op) error {
			key, err := hex.DecodeString(ops[2].Blobs[0])
			return errors.Join(err, b.Bucket([]byte("gone")).Put(key, []byte{1}))
		}},
		"the place up to which": {"is noted", func(b *bbolt.Bucket, _ []storage.Op) error {
			return b.Put([]byte("line"), []byte(`{"tags":["0123456789abcdef"],"past":1}`))
		}},
		"the limit": {"limit of history", func(b *bbolt.Bucket, _ []storage.Op) error { return b.Put([]byte("limit"), []byte("365")) }},
	} {
		t.Run(name, func(t *testing.T) {
			folder := t.TempDir()
			v, shop, ops := old(t, folder)
			trim(t, v, shop)
			try(t, v.Close())
			bolt.Sabotage(t, filepath.Join(folder, "vault.bolt"), func(tx *bbolt.Tx) error {
				return c.harm(tx.Bucket([]byte("shops")).Bucket([]byte(shop)), ops)
			})
			r, err := bolt.Check(t.Context(), folder)
			if said := fmt.Sprint(r.Findings); err != nil || r.Sound() || !strings.Contains(said, c.say) {
				t.Errorf("check says %s, %v; want that %q", said, err, c.say)
			}
		})
	}
}

func TestRestore_counts_old_versions_that_the_backup_has_dropped(t *testing.T) {
	folder, full, trimmed := t.TempDir(), filepath.Join(t.TempDir(), "full"), filepath.Join(t.TempDir(), "trimmed")
	v, shop, ops := old(t, folder)
	try(t, v.BackupFile(t.Context(), full, now))
	trim(t, v, shop)
	try(t, v.BackupFile(t.Context(), trimmed, now))
	try(t, v.Close())
	other := t.TempDir()
	_, err := bolt.Restore(t.Context(), other, full, false, now)
	try(t, err)
	_, err = bolt.Restore(t.Context(), other, trimmed, false, now)
	if newer := (*bolt.NewerError)(nil); !errors.As(err, &newer) || !strings.Contains(err.Error(), "2 older versions and 2 photos or files") {
		t.Errorf("got %v, want what would be lost", err)
	}
	_, err = bolt.Restore(t.Context(), folder, full, false, now) // which has more than the present one
	try(t, err)
	sound(t, folder)
	v = open(t, folder)
	vaulttest.Agrees(t, v, shop, ops)
	trim(t, v, shop)
}

// A backup that the program before made is put back.
func TestRestore_of_a_backup_of_the_second_layout(t *testing.T) {
	db, err := os.ReadFile("testdata/schema2.bolt")
	try(t, err)
	file := filepath.Join(t.TempDir(), "backup")
	f, err := os.Create(file)
	try(t, err)
	out := tar.NewWriter(f)
	add := func(name string, data []byte) {
		try(t, out.WriteHeader(&tar.Header{Typeflag: tar.TypeReg, Name: name, Size: int64(len(data)), Mode: 0o600}))
		_, err := out.Write(data)
		try(t, err)
	}
	asJSON := func(row any) []byte {
		raw, err := json.Marshal(row)
		try(t, err)
		return raw
	}
	sum := sha256.Sum256(db)
	add("backup.json", asJSON(map[string]any{"format": 1, "schema": "2", "store": "x", "made": now}))
	add("vault.bolt", db)
	add("end.json", asJSON(map[string]any{"sha256": hex.EncodeToString(sum[:]), "attachments": 0}))
	try(t, errors.Join(out.Close(), f.Close()))
	folder := t.TempDir()
	done, err := bolt.Restore(t.Context(), folder, file, false, now)
	if err != nil || len(done.Stats.Shops) != 1 || done.Stats.Shops[0].Last.Seq != 12 {
		t.Fatalf("done: %+v, %v", done, err)
	}
	before := sound(t, folder)
	v := open(t, folder)
	vaulttest.Agrees(t, v, done.Stats.Shops[0].Shop.ID, storagetest.RandomOps(2, 12))
	try(t, v.Close())
	if after := sound(t, folder); before.Schema != "2" || after.Schema != bolt.Schema || after.Store != before.Store {
		t.Errorf("schema %s, then %s", before.Schema, after.Schema)
	}
}

// Devices push, pull and send photos, and a backup is made, while old versions go.
func TestTrim_beside_everything_else(t *testing.T) {
	folder := t.TempDir()
	v, shop, _ := old(t, folder)
	var all sync.WaitGroup
	for worker := range 3 {
		all.Go(func() {
			for round := range 6 {
				seed := uint64(100 + 10*worker + round)
				ops := versions(seed, 8)
				acks, err := v.Push(t.Context(), shop, ops)
				if err != nil || acks[7].Status != vault.Stored {
					t.Error(err)
				}
				for i, op := range ops {
					err := v.WriteBlob(t.Context(), shop, op.Blobs[0], 0, photoOf(seed, i), true)
					if err != nil && !errors.Is(err, vault.ErrNotWanted) { // it may be gone by now
						t.Error(err)
					}
				}
				if _, err := v.Pull(t.Context(), shop, vault.Checkpoint{}, everything); err != nil {
					t.Error(err)
				}
			}
		})
	}
	for name, f := range map[string]func(round int) error{
		"backup": func(int) error { return v.BackupFile(t.Context(), filepath.Join(t.TempDir(), "backup"), now) },
		"trim": func(round int) error {
			_, err := v.Trim(t.Context(), shop)
			return errors.Join(v.MarkDay(t.Context(), now.AddDate(0, 0, 3+round)), err)
		},
	} {
		all.Go(func() {
			for round := range 8 {
				if err := f(round); err != nil {
					t.Errorf("%s: %v", name, err)
				}
			}
		})
	}
	all.Wait()
	for range 2 {
		try(t, v.MarkDay(t.Context(), now.AddDate(1, 0, 0)))
		try(t, v.MarkDay(t.Context(), now.AddDate(1, 0, 1)))
		_, err := v.Trim(t.Context(), shop)
		try(t, err)
	}
	try(t, v.Close())
	r, err := bolt.Check(t.Context(), folder)
	s := r.Stats.Shops[0]
	if err != nil || !r.Sound() || s.Last.Seq != 3+18*8 || s.Dropped != 2+18*7 || s.Blobs != 19 {
		t.Errorf("%+v, %+v, %v", s, r.Findings, err)
	}
}
