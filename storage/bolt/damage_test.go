//go:build unix

package bolt_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// named checks that an error names the file and the ways out.
func named(t *testing.T, err error, folder string) {
	t.Helper()
	if !errors.Is(err, storage.ErrCorrupt) {
		t.Fatalf("got %v, want ErrCorrupt", err)
	}
	for _, part := range []string{filepath.Join(folder, "vault.bolt"), "damaged", "torchside restore", "phones"} {
		if !strings.Contains(err.Error(), part) {
			t.Fatalf("%q does not say %q", err, part)
		}
	}
}

func TestOpen_of_a_vault_cut_short_names_it_and_the_ways_out(t *testing.T) {
	folder := t.TempDir()
	v, shop := filled(t, folder)
	push(t, v, shop, storagetest.RandomOps(77, 400)...)
	try(t, v.Close())
	path := filepath.Join(folder, "vault.bolt")
	whole, err := os.ReadFile(path)
	try(t, err)
	r := rand.New(rand.NewPCG(5, 5))
	for range 40 {
		size := 1 + r.IntN(len(whole)/2)
		try(t, os.WriteFile(path, whole[:size], 0o600))
		_, err := bolt.Open(folder)
		named(t, err, folder)
		report, err := bolt.Check(t.Context(), folder)
		if err != nil || report.Sound() {
			t.Fatalf("%d of %d bytes: check says %+v, %v", size, len(whole), report, err)
		}
		left, err := os.ReadFile(path)
		if err != nil || !bytes.Equal(left, whole[:size]) {
			t.Fatal("the damaged file was changed")
		}
	}
}

func TestBits_that_flip_are_refused_or_do_not_matter(t *testing.T) {
	folder := t.TempDir()
	v, shop := filled(t, folder)
	want := pulled(t, v, shop)
	try(t, v.Close())
	path := filepath.Join(folder, "vault.bolt")
	whole, err := os.ReadFile(path)
	try(t, err)
	r := rand.New(rand.NewPCG(6, 6))
	refused := 0
	for range 400 {
		flipped := bytes.Clone(whole)
		at, bit := r.IntN(len(flipped)), r.IntN(8)
		flipped[at] ^= 1 << bit
		try(t, os.WriteFile(path, flipped, 0o600))
		report, err := bolt.Check(t.Context(), folder)
		found := err != nil || !report.Sound()
		got, err := readAll(t, folder, shop)
		switch {
		case err == nil && !slices.EqualFunc(got, want, func(a, b json.RawMessage) bool { return bytes.Equal(a, b) }):
			t.Fatalf("bit %d of byte %d: other changes are given out than were stored", bit, at)
		case err != nil && !found:
			t.Fatalf("bit %d of byte %d: %v, and the check finds nothing", bit, at, err)
		case err != nil:
			refused++
		}
	}
	if refused == 0 {
		t.Error("no flip mattered: the test tests nothing")
	}
	t.Logf("%d of 400 flips were refused, the others did not change what is given out", refused)
}

// readAll opens a vault and pulls everything of a shop. Any error is one of
// damage or of what damage makes of the file.
func readAll(t *testing.T, folder string, shop vault.ShopID) ([]json.RawMessage, error) {
	t.Helper()
	v, err := bolt.Open(folder)
	if err != nil {
		return nil, err
	}
	defer v.Close()
	page, err := v.Pull(t.Context(), shop, vault.Checkpoint{}, everything)
	return page.Ops, err
}

func TestCheck_finds_what_does_not_fit_together(t *testing.T) {
	root := t.TempDir()
	v, shop := filled(t, root)
	last, err := v.Stats(t.Context())
	try(t, err)
	try(t, v.Close())
	whole, err := os.ReadFile(filepath.Join(root, "vault.bolt"))
	try(t, err)
	in := func(name string) func(*bbolt.Tx) *bbolt.Bucket {
		return func(tx *bbolt.Tx) *bbolt.Bucket {
			return tx.Bucket([]byte("shops")).Bucket([]byte(shop)).Bucket([]byte(name))
		}
	}
	top := func(name string) func(*bbolt.Tx) *bbolt.Bucket {
		return func(tx *bbolt.Tx) *bbolt.Bucket { return tx.Bucket([]byte(name)) }
	}
	drop := func(b *bbolt.Bucket) error { k, _ := b.Cursor().First(); return b.Delete(k) }
	spoil := func(b *bbolt.Bucket) error {
		k, v := b.Cursor().First()
		v = bytes.Clone(v)
		v[len(v)-2] ^= 1
		return b.Put(bytes.Clone(k), v)
	}
	extra := func(b *bbolt.Bucket) error {
		return b.Put(bytes.Repeat([]byte{0xee}, 32), []byte{1, 2, 3, 4, 5, 6, 7, 8})
	}
	end := func(b *bbolt.Bucket) error { return b.SetSequence(last.Shops[0].Last.Seq + 1) }
	for _, c := range []struct {
		name string
		in   func(*bbolt.Tx) *bbolt.Bucket
		do   func(*bbolt.Bucket) error
		want string
	}{
		{"an entry of the log gone", in("log"), drop, "change 1 is missing"},
		{"an entry of the log changed", in("log"), spoil, "change 1 is not what was stored"},
		{"the end of the log wrong", in("log"), end, "its log ends at 200 and should end at 201"},
		{"a place gone", in("ops"), drop, "another place, or none"},
		{"a place too many", in("ops"), extra, "201 changes have a place, 200 are there"},
		{"a place wrong", in("ops"), spoil, "another place, or none"},
		{"heads gone", in("heads"), drop, "other current changes"},
		{"heads wrong", in("heads"), spoil, "other current changes"},
		{"heads too many", in("heads"), extra, "records are kept"},
		{"a parent too many", in("named"), extra, "noted as replaced"},
		{"an attachment held too many", in("blobs"), extra, "attachments are noted"},
		{"an attachment forgotten", in("blobs"), drop, "neither as held nor as wanted"},
		{"an attachment no more wanted", in("wanted"), drop, "neither as held nor as wanted"},
		{"a device gone", top("devices"), drop, "its device is not there"},
		{"a device not readable", top("devices"), func(b *bbolt.Bucket) error { k, _ := b.Cursor().First(); return b.Put(bytes.Clone(k), []byte("{")) }, "devices"},
		{"a token gone", top("tokens"), drop, "its token is not there"},
		{"a code of no shop", top("codes"), func(b *bbolt.Bucket) error { return b.Put([]byte("code"), []byte(`{"shop":"none"}`)) }, "its shop is not there"},
		{"an order gone", top("attemptorder"), drop, "order"},
		{"an audit entry not readable", top("audit"), func(b *bbolt.Bucket) error { k, _ := b.Cursor().First(); return b.Put(bytes.Clone(k), []byte("x")) }, "audit"},
		{"a part gone", func(tx *bbolt.Tx) *bbolt.Bucket { return tx.Bucket([]byte("shops")).Bucket([]byte(shop)) }, func(b *bbolt.Bucket) error { return b.DeleteBucket([]byte("heads")) }, `its part "heads" is missing`},
		{"the store's name gone", top("meta"), func(b *bbolt.Bucket) error { return b.Delete([]byte("store")) }, "which vault it is"},
	} {
		path := filepath.Join(root, "vault.bolt")
		try(t, os.WriteFile(path, whole, 0o600))
		bolt.Sabotage(t, path, func(tx *bbolt.Tx) error { return c.do(c.in(tx)) })
		report, err := bolt.Check(t.Context(), root)
		try(t, err)
		if report.Sound() || !strings.Contains(fmt.Sprint(report.Findings), c.want) {
			t.Errorf("%s: found %+v, want %q", c.name, report.Findings, c.want)
		}
		for _, f := range report.Findings {
			if f.Do == "" {
				t.Errorf("%s: %q does not say what to do", c.name, f.What)
			}
		}
	}
}
