//go:build unix

package bolt_test

import (
	"context"
	"errors"
	"path/filepath"
	"testing"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// shelf is a vault that is opened with the first store on it and closed with
// the last.
type shelf struct {
	folder string
	shop   vault.ShopID
	v      *bolt.Vault
	open   int
}

// book is one store on a shelf.
type book struct {
	*bolt.Store
	s      *shelf
	closed bool
}

// Close implements storage.Store.
func (b *book) Close() error {
	err := b.Store.Close()
	if b.closed {
		return err
	}
	b.closed = true
	if b.s.open--; b.s.open == 0 {
		v := b.s.v
		b.s.v = nil
		return v.Close()
	}
	return err
}

func TestShop_keeps_the_contract_of_a_store_and_is_sound_after_each_test(t *testing.T) {
	storagetest.Run(t, func(t *testing.T) storagetest.Open {
		folder, id := fresh(t)
		s := &shelf{folder: folder, shop: id}
		t.Cleanup(func() {
			if s.v != nil {
				try(t, s.v.Close())
			}
			sound(t, folder)
		})
		return func(index storage.Index) (storage.Store, error) {
			if s.v == nil {
				v, err := bolt.Open(folder)
				if err != nil {
					return nil, err
				}
				s.v = v
			}
			store, err := s.v.Shop(context.Background(), id, index)
			if err != nil {
				return nil, err
			}
			s.open++
			return &book{Store: store, s: s}, nil
		}
	})
}

func TestShop_finds_what_devices_pushed_once_it_is_opened_again_and_goes_into_backups(t *testing.T) {
	folder, id := fresh(t)
	v := open(t, folder)
	s, err := v.Shop(t.Context(), id, storage.Index{Version: 1})
	try(t, err)
	ops := storagetest.RandomOps(4, 1)
	ops[0].Del = false
	push(t, v, id, ops...)
	if r, err := s.Get(t.Context(), ops[0].Rec); err != nil || r.Kind != ops[0].Kind {
		t.Errorf("got %+v, %v", r, err)
	}
	again, err := v.Shop(t.Context(), id, storage.Index{Version: 1})
	try(t, err)
	page, err := again.Find(t.Context(), storage.Find{Kind: ops[0].Kind, Limit: 5})
	if err != nil || page.Total != 1 {
		t.Errorf("found %+v, %v, want the one that was pushed", page, err)
	}
	if _, err := v.Shop(t.Context(), "none", storage.Index{}); !errors.Is(err, vault.ErrNoShop) {
		t.Errorf("got %v, want ErrNoShop", err)
	}
	loose, err := again.PutBlob(t.Context(), []byte("not named yet"))
	try(t, err)
	file := filepath.Join(t.TempDir(), "backup")
	try(t, v.BackupFile(t.Context(), file, now))
	try(t, v.Close())
	sound(t, folder)
	other := t.TempDir()
	_, err = bolt.Restore(t.Context(), other, file, false, now)
	try(t, err)
	sound(t, other)
	restored, err := open(t, other).Shop(t.Context(), id, storage.Index{Version: 1})
	try(t, err)
	if missing, err := restored.MissingBlobs(t.Context(), loose); err != nil || len(missing) != 1 {
		t.Errorf("missing %v, %v, want what no change named", missing, err)
	}
}
