//go:build !js

package bolt_test

import (
	"testing"

	"torchside/storage/bolt"
	"torchside/storage/vault"
	"torchside/storage/vault/vaulttest"
)

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

func TestVault_keeps_the_contract(t *testing.T) {
	vaulttest.Run(t, func(t *testing.T) vaulttest.Open {
		folder := t.TempDir()
		return func(t *testing.T) vault.Vault { return open(t, folder) }
	})
}
