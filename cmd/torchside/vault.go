package main

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

const (
	vaultFile   = "vault.bolt"
	vaultSchema = "1"
	// lockWait is long enough for a server that is just stopping, short enough for a person.
	lockWait = 2 * time.Second
)

// The bucket that says which store this is. The id is made once with the file: a device that
// meets another id knows that the vault is not the one it has met before.
var (
	metaBucket = []byte("meta")
	storeKey   = []byte("store")
	schemaKey  = []byte("schema")
)

// openVault opens or makes the vault in the data folder. One process at a time may hold it.
func openVault(folder string) (*bbolt.DB, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, fmt.Errorf("the data folder cannot be made: %w", err)
	}
	path := filepath.Join(folder, vaultFile)
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{Timeout: lockWait})
	if errors.Is(err, berrors.ErrTimeout) {
		return nil, fmt.Errorf("the vault %s is in use by another process, and two writers would damage it: stop the other torchside, or give this one another --data folder", path)
	}
	if err != nil {
		return nil, fmt.Errorf("the vault %s cannot be opened: %w", path, err)
	}
	if err := db.Update(identify); err != nil {
		_ = db.Close() // the first error says more
		return nil, fmt.Errorf("the vault %s: %w", path, err)
	}
	return db, nil
}

// identify writes the vault's identity into a new file and checks it in an old one.
func identify(tx *bbolt.Tx) error {
	meta, err := tx.CreateBucketIfNotExists(metaBucket)
	if err != nil {
		return err
	}
	schema := meta.Get(schemaKey)
	if schema == nil {
		id := make([]byte, 16) // 128 bits: never made twice
		_, _ = rand.Read(id)   // documented never to fail
		return errors.Join(
			meta.Put(storeKey, []byte(hex.EncodeToString(id))),
			meta.Put(schemaKey, []byte(vaultSchema)),
		)
	}
	if string(schema) != vaultSchema {
		return fmt.Errorf("it has schema %q and this program knows %q: use a newer torchside", schema, vaultSchema)
	}
	return nil
}
