//go:build unix

package bolt_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"os"
	"strconv"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
	"torchside/storage/vault/vaulttest"
)

// TestMain lets the test binary run as another process: see child.
func TestMain(m *testing.M) {
	flag.Parse()
	if role := os.Getenv(childRole); role != "" {
		os.Exit(child(role))
	}
	os.Exit(m.Run())
}

// now is the wall time of the tests.
var now = time.Date(2026, 3, 14, 15, 9, 26, 535e6, time.UTC)

// everything is a page without limits.
var everything = vault.Limits{Ops: 1 << 30, Bytes: 1 << 40}

// open opens the vault in a folder.
func open(t testing.TB, folder string) *bolt.Vault {
	t.Helper()
	v, err := bolt.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = v.Close() }) // closed twice where the test closes it
	return v
}

// try fails the test for good if there is an error.
func try(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// sound checks a vault that is closed.
func sound(t testing.TB, folder string) bolt.Report {
	t.Helper()
	r, err := bolt.Check(context.Background(), folder)
	try(t, err)
	for _, f := range r.Findings {
		t.Errorf("check: %+v", f)
	}
	return r
}

// push stores ops, all of which must be taken.
func push(t testing.TB, v vault.Vault, shop vault.ShopID, ops ...storage.Op) []vault.Ack {
	t.Helper()
	acks, err := v.Push(context.Background(), shop, ops)
	try(t, err)
	for _, a := range acks {
		if a.Status == vault.Rejected {
			t.Fatalf("rejected: %+v", a)
		}
	}
	return acks
}

// pulled is the whole log of a shop.
func pulled(t testing.TB, v vault.Vault, shop vault.ShopID) []json.RawMessage {
	t.Helper()
	page, err := v.Pull(context.Background(), shop, vault.Checkpoint{}, everything)
	try(t, err)
	return page.Ops
}

// filled makes a vault with ops of two shops, attachments held and still
// arriving, devices, codes, attempts and an audit log.
func filled(t testing.TB, folder string) (*bolt.Vault, vault.ShopID) {
	t.Helper()
	ctx := context.Background()
	v := open(t, folder)
	home, err := v.CreateShop(ctx, "Home", now)
	try(t, err)
	club, err := v.CreateShop(ctx, "Club", now)
	try(t, err)
	push(t, v, club.ID, storagetest.RandomOps(1, 40)...)
	ops := storagetest.RandomOps(2, 200)
	photo, half := []byte("a photo"), []byte("half a photo")
	ops[3].Blobs, ops[4].Blobs, ops[5].Blobs = []storage.Hash{storage.HashOf(photo)}, []storage.Hash{storage.HashOf(half)}, []storage.Hash{storage.HashOf([]byte("none"))}
	push(t, v, home.ID, storagetest.Shuffled(3, ops)...)
	try(t, v.WriteBlob(ctx, home.ID, storage.HashOf(photo), 0, photo, true))
	try(t, v.WriteBlob(ctx, home.ID, storage.HashOf(half), 0, half[:4], false))
	d, err := v.AddDevice(ctx, home.ID, "Phone", vault.SecretHash{1}, now)
	try(t, err)
	_, err = v.AddDevice(ctx, club.ID, "Tablet", vault.SecretHash{2}, now)
	try(t, err)
	try(t, v.TouchDevice(ctx, home.ID, d.ID, now))
	try(t, v.AddCode(ctx, vault.Code{Hash: vault.SecretHash{3}, Shop: home.ID, Expires: now.Add(time.Hour)}, now))
	_, err = v.Attempts(ctx, "pair", func(vault.Attempts) vault.Attempts { return vault.Attempts{Count: 2, Last: now} })
	try(t, err)
	try(t, v.Audit(ctx, vault.AuditEntry{At: now, Shop: home.ID, Device: d.ID, Event: "device added"}))
	return v, home.ID
}

func TestVault_keeps_the_contract_and_is_sound_after_each_test(t *testing.T) {
	vaulttest.Run(t, func(t *testing.T) vaulttest.Open {
		folder := t.TempDir()
		t.Cleanup(func() { sound(t, folder) })
		return func(t *testing.T) vault.Vault { return open(t, folder) }
	})
}

func TestCheck_counts_what_the_vault_counts(t *testing.T) {
	folder := t.TempDir()
	v, _ := filled(t, folder)
	want, err := v.Stats(t.Context())
	try(t, err)
	try(t, v.Close())
	r := sound(t, folder)
	for i, s := range r.Stats.Shops {
		if s != want.Shops[i] {
			t.Errorf("check counts %+v, the vault %+v", s, want.Shops[i])
		}
	}
	if len(r.Stats.Shops) != 2 || r.Store != v.ID() || !r.Sound() {
		t.Errorf("report %+v", r)
	}
}

func TestAudit_and_Attempts_forget_the_oldest_above_their_limits(t *testing.T) {
	folder := t.TempDir()
	v, home := bolt.Fill(t, folder, 0, vault.MaxAudit, vault.MaxAttempts)
	count := func(a vault.Attempts) vault.Attempts { a.Count++; return a }
	for i := range 3 {
		try(t, v.Audit(t.Context(), vault.AuditEntry{At: now, Shop: home, Event: "new"}))
		_, err := v.Attempts(t.Context(), "new "+string(rune('a'+i)), count)
		try(t, err)
	}
	all, err := v.AuditLog(t.Context(), home, vault.MaxAudit*2)
	try(t, err)
	if len(all) != vault.MaxAudit || all[2].Event != "new" || all[len(all)-1].Event != "3" {
		t.Errorf("%d entries, the oldest %+v", len(all), all[len(all)-1])
	}
	for _, c := range []struct {
		key  string
		want int
	}{{"3", 2}, {"new a", 2}, {"2", 1}} {
		if a, err := v.Attempts(t.Context(), c.key, count); err != nil || a.Count != c.want {
			t.Errorf("key %s: %+v, %v, want %d", c.key, a, err, c.want)
		}
	}
	try(t, v.Close())
	sound(t, folder)
}

// Whoever tries codes for days must not wash out what the shops did.
func TestAudit_keeps_what_shops_did_however_many_wrong_codes_come(t *testing.T) {
	folder := t.TempDir()
	v, home := bolt.Fill(t, folder, vault.MaxStrange, vault.MaxAudit, 0)
	for range 3 {
		try(t, v.Audit(t.Context(), vault.AuditEntry{At: now, Event: "wrong code"}))
	}
	strange, err := v.AuditLog(t.Context(), "", vault.MaxAudit)
	try(t, err)
	own, err := v.AuditLog(t.Context(), home, vault.MaxAudit)
	try(t, err)
	if len(strange) != vault.MaxStrange || strange[2].Event != "wrong code" || strange[len(strange)-1].Event != "3" {
		t.Errorf("%d entries of strangers, the oldest %+v", len(strange), strange[len(strange)-1])
	}
	if len(own) != vault.MaxAudit-vault.MaxStrange {
		t.Errorf("%d entries of the shop, want that none is gone", len(own))
	}
	try(t, v.Close())
	sound(t, folder)
}

// Of every layout there ever was a file is kept, and the next start makes it one of now. The tests below know what is in the first two.
func TestOpen_upgrades_every_layout_of_before(t *testing.T) {
	now, err := strconv.Atoi(bolt.Schema)
	try(t, err)
	if now != len(bolt.SchemasBefore)+1 {
		t.Errorf("schema %d with %v before it: one of them is left out", now, bolt.SchemasBefore)
	}
	for i, s := range bolt.SchemasBefore {
		old, err := os.ReadFile("testdata/schema" + s + ".bolt")
		if err != nil || s != strconv.Itoa(i+1) {
			t.Errorf("a file of schema %s, the %d.: %v", s, i+1, err)
			continue
		}
		folder := t.TempDir()
		try(t, os.WriteFile(folder+"/vault.bolt", old, 0o600))
		if before, err := bolt.Check(t.Context(), folder); err != nil || before.Schema != s || !before.Sound() {
			t.Errorf("schema %s: %+v, %v", s, before, err)
		}
		try(t, open(t, folder).Close())
		if after := sound(t, folder); after.Schema != bolt.Schema {
			t.Errorf("schema %s stays %s", s, after.Schema)
		}
	}
}

func TestOpen_upgrades_a_vault_of_the_first_layout_and_keeps_a_copy(t *testing.T) {
	old, err := os.ReadFile("testdata/schema1.bolt")
	try(t, err)
	folder := t.TempDir()
	try(t, os.WriteFile(folder+"/vault.bolt", old, 0o600))
	before, err := bolt.Check(t.Context(), folder)
	try(t, err)
	if before.Schema != "1" || !before.Sound() {
		t.Errorf("before: %+v", before)
	}
	v := open(t, folder)
	if v.ID() != "000102030405060708090a0b0c0d0e0f" {
		t.Errorf("the vault is %s, another than it was", v.ID())
	}
	kept, err := os.ReadFile(folder + "/vault.bolt.schema1")
	if err != nil || !bytes.Equal(kept, old) {
		t.Errorf("the copy of the old file: %d bytes, %v", len(kept), err)
	}
	s, err := v.CreateShop(t.Context(), "Home", now)
	try(t, err)
	push(t, v, s.ID, storagetest.RandomOps(1, 3)...)
	try(t, v.Close())
	if r := sound(t, folder); r.Schema != bolt.Schema || r.Store != v.ID() {
		t.Errorf("after: %+v", r)
	}
}

func TestOpen_upgrades_a_vault_of_the_second_layout_and_keeps_a_copy(t *testing.T) {
	old, err := os.ReadFile("testdata/schema2.bolt")
	try(t, err)
	folder := t.TempDir()
	try(t, os.WriteFile(folder+"/vault.bolt", old, 0o600))
	if before := sound(t, folder); before.Schema != "2" || before.Stats.Shops[0].Last.Seq != 12 {
		t.Errorf("before: %+v", before)
	}
	v := open(t, folder)
	shops, err := v.Shops(t.Context())
	try(t, err)
	vaulttest.Agrees(t, v, shops[0].ID, storagetest.RandomOps(2, 12))
	kept, err := os.ReadFile(folder + "/vault.bolt.schema2")
	if err != nil || !bytes.Equal(kept, old) {
		t.Errorf("the copy of the old file: %d bytes, %v", len(kept), err)
	}
	try(t, v.Close())
	if r := sound(t, folder); r.Schema != bolt.Schema || r.Store != v.ID() {
		t.Errorf("after: %+v", r)
	}
}
