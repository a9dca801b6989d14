package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"
)

func TestOpenVault_makes_an_identity_once(t *testing.T) {
	var ids []string
	folder := filepath.Join(t.TempDir(), "new", "folder")
	for range 2 {
		v, err := openVault(folder)
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, v.ID())
		if err := v.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if len(ids[0]) != 32 || ids[0] != ids[1] {
		t.Errorf("identities %q: want 128 bits in hexadecimal, the same each time", ids)
	}
	info, err := os.Stat(filepath.Join(folder, vaultFile))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the vault is readable for others: %v, %v", info.Mode(), err)
	}
}

func TestOpenVault_second_process_is_refused_with_path_and_reason(t *testing.T) {
	folder := t.TempDir()
	v, err := openVault(folder)
	if err != nil {
		t.Fatal(err)
	}
	defer v.Close()
	again, err := openVault(folder)
	if err == nil || again != nil {
		t.Fatal("two processes hold one vault")
	}
	for _, part := range []string{filepath.Join(folder, vaultFile), "in use by another process", "--data"} {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("%q does not say %q", err, part)
		}
	}
}

// A newer program's vault must be left as it is.
func TestOpenVault_unknown_schema_is_refused_untouched(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, vaultFile)
	v, err := openVault(folder)
	if err != nil {
		t.Fatal(err)
	}
	if err := v.Close(); err != nil {
		t.Fatal(err)
	}
	db, err := bbolt.Open(path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bbolt.Tx) error { return tx.Bucket([]byte("meta")).Put([]byte("schema"), []byte("99")) })
	if err != nil {
		t.Fatal(err)
	}
	_ = db.Close()
	before, _ := os.ReadFile(path)
	if _, err := openVault(folder); err == nil || !strings.Contains(err.Error(), `schema "99"`) {
		t.Errorf("got %v, want a refusal naming the schema", err)
	}
	after, _ := os.ReadFile(path)
	if !bytes.Equal(before, after) {
		t.Error("the vault was changed")
	}
}

func TestOpenVault_a_file_that_is_no_vault_is_refused(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, vaultFile)
	if err := os.WriteFile(path, bytes.Repeat([]byte("notes about welding\n"), 1000), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := openVault(folder); err == nil || !strings.Contains(err.Error(), path) {
		t.Errorf("got %v, want an error naming %s", err, path)
	}
}
