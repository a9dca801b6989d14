package main

import (
	"torchside/storage/bolt"
	"torchside/storage/vault"
)

// vaultFile is the name of the vault in the data folder.
const vaultFile = "vault.bolt"

// openVault opens or makes the vault in the data folder. One process at a time may hold it.
func openVault(folder string) (vault.Vault, error) {
	v, err := bolt.Open(folder)
	if err != nil {
		return nil, err // not v: an interface around a nil pointer is not nil
	}
	return v, nil
}
