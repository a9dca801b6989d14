package main

import (
	"crypto/rand"
	"errors"

	"go.etcd.io/bbolt"

	"torchside/storage/vault"
	"torchside/storage/vault/memvault"
)

// held is a vault in memory under the lock of the file that will keep it.
type held struct {
	vault.Vault
	lock *bbolt.DB
}

// Close ends both.
func (h held) Close() error { return errors.Join(h.Vault.Close(), h.lock.Close()) }

// openShops opens the shops of a data folder.
func openShops(folder string) (vault.Vault, error) {
	lock, err := openVault(folder)
	if err != nil {
		return nil, err
	}
	disk, err := memvault.NewDisk(rand.Reader)
	if err != nil {
		return nil, errors.Join(err, lock.Close())
	}
	return held{disk.Open(), lock}, nil
}
