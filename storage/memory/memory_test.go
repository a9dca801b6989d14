package memory_test

import (
	"testing"

	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/storagetest"
)

func TestStore_keeps_the_storage_contract(t *testing.T) {
	storagetest.Run(t, func(t *testing.T) storagetest.Open {
		disk := memory.NewDisk()
		return func(x storage.Index) (storage.Store, error) { return disk.OpenIndexed(x), nil }
	})
}

func TestStore_can_be_kept_in_step_with_a_vault(t *testing.T) {
	storagetest.RunReplica(t, func(t *testing.T) storagetest.Open {
		disk := memory.NewDisk()
		return func(x storage.Index) (storage.Store, error) { return disk.OpenIndexed(x), nil }
	})
}
