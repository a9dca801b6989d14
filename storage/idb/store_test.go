//go:build js

package idb

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"torchside/storage"
	"torchside/storage/storagetest"
)

// freshName names a database no other test uses.
func freshName() string { return fmt.Sprintf("test-%016x", rand.Uint64()) }

func TestStore_keeps_the_storage_contract(t *testing.T) {
	storagetest.Run(t, func(t *testing.T) storagetest.Open {
		name := freshName()
		return func(x storage.Index) (storage.Store, error) { return Open(context.Background(), name, x) }
	})
}

func TestStore_can_be_kept_in_step_with_a_vault(t *testing.T) {
	storagetest.RunReplica(t, func(t *testing.T) storagetest.Open {
		name := freshName()
		return func(x storage.Index) (storage.Store, error) { return Open(context.Background(), name, x) }
	})
}
