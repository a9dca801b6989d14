package memvault_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
	"torchside/storage/vault/memvault"
	"torchside/storage/vault/vaulttest"
)

func newDisk(t *testing.T) *memvault.Disk {
	t.Helper()
	d, err := memvault.NewDisk(storagetest.NewSource(5))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestVault_keeps_the_contract(t *testing.T) {
	vaulttest.Run(t, func(t *testing.T) vaulttest.Open {
		d := newDisk(t)
		return func(*testing.T) vault.Vault { return d.Open() }
	})
}

// shop makes a vault with one shop.
func shop(t *testing.T, d *memvault.Disk) (*memvault.Vault, vault.ShopID) {
	t.Helper()
	v := d.Open()
	s, err := v.CreateShop(context.Background(), "Home", time.Unix(1e9, 0))
	if err != nil {
		t.Fatal(err)
	}
	return v, s.ID
}

func TestCrashAt_keeps_a_commit_or_not_and_answers_neither_way(t *testing.T) {
	ops := storagetest.RandomOps(1, 3)
	for _, c := range []struct {
		moment memvault.Moment
		want   []storage.Op
	}{{memvault.BeforeCommit, ops[:1]}, {memvault.AfterCommit, ops[:2]}} {
		d := newDisk(t)
		v, home := shop(t, d)
		d.CrashAt(2, c.moment)
		if _, err := v.Push(t.Context(), home, ops[:1]); err != nil {
			t.Fatal(err)
		}
		if _, err := v.Push(t.Context(), home, ops[1:2]); !errors.Is(err, memvault.ErrCrashed) {
			t.Errorf("the second commit: got %v, want a crash", err)
		}
		if _, err := v.Push(t.Context(), home, ops[2:]); !errors.Is(err, storage.ErrClosed) {
			t.Errorf("after the crash: got %v, want ErrClosed", err)
		}
		vaulttest.Agrees(t, d.Open(), home, c.want)
	}
}

func TestRestore_puts_an_older_state_back_that_checkpoints_reveal(t *testing.T) {
	d := newDisk(t)
	v, home := shop(t, d)
	ops := storagetest.RandomOps(1, 4)
	push := func(op storage.Op) vault.Checkpoint {
		t.Helper()
		acks, err := v.Push(t.Context(), home, []storage.Op{op})
		if err != nil {
			t.Fatal(err)
		}
		return acks[0].At
	}
	push(ops[0])
	backup := d.Snapshot()
	lost := push(ops[1])
	d.Restore(backup)
	v = d.Open()
	vaulttest.Agrees(t, v, home, ops[:1])
	for _, why := range []string{vault.Ahead, vault.OtherChain} {
		var m *vault.MismatchError
		if err := v.Verify(t.Context(), home, lost); !errors.As(err, &m) || m.Why != why {
			t.Errorf("the lost checkpoint: got %v, want a mismatch, %s", err, why)
		}
		push(ops[2]) // takes the number
	}
	vaulttest.Agrees(t, backup.Open(), home, ops[:1])
}

func TestSetFull_refuses_writes_and_keeps_what_is_there(t *testing.T) {
	d := newDisk(t)
	v, home := shop(t, d)
	ops := storagetest.RandomOps(1, 2)
	if _, err := v.Push(t.Context(), home, ops[:1]); err != nil {
		t.Fatal(err)
	}
	d.SetFull(true)
	if _, err := v.Push(t.Context(), home, ops); !errors.Is(err, storage.ErrFull) {
		t.Errorf("got %v, want ErrFull", err)
	}
	vaulttest.Agrees(t, v, home, ops[:1])
	d.SetFull(false)
	if _, err := v.Push(t.Context(), home, ops); err != nil {
		t.Fatal(err)
	}
	vaulttest.Agrees(t, v, home, ops)
}

func TestAudit_and_Attempts_forget_the_oldest_above_their_limits(t *testing.T) {
	v, home := shop(t, newDisk(t))
	for i := range vault.MaxAudit + 3 {
		if err := v.Audit(t.Context(), vault.AuditEntry{At: time.Unix(int64(i), 0), Shop: home}); err != nil {
			t.Fatal(err)
		}
	}
	all, err := v.AuditLog(t.Context(), home, vault.MaxAudit*2)
	if err != nil || len(all) != vault.MaxAudit || all[len(all)-1].At.Unix() != 3 {
		t.Errorf("%d entries, %v", len(all), err)
	}
	count := func(a vault.Attempts) vault.Attempts { a.Count++; return a }
	for i := range vault.MaxAttempts + 3 {
		if _, err := v.Attempts(t.Context(), fmt.Sprint(i), count); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		key  string
		want int
	}{{"3", 2}, {"4098", 2}, {"2", 1}} {
		if a, err := v.Attempts(t.Context(), c.key, count); err != nil || a.Count != c.want {
			t.Errorf("key %s: %+v, %v, want %d", c.key, a, err, c.want)
		}
	}
}

func TestAudit_keeps_what_shops_did_however_many_wrong_codes_come(t *testing.T) {
	v, home := shop(t, newDisk(t))
	for i := range vault.MaxStrange + 3 {
		e := vault.AuditEntry{Event: fmt.Sprint(i)}
		if i == 1 {
			e.Shop = home
		}
		if err := v.Audit(t.Context(), e); err != nil {
			t.Fatal(err)
		}
	}
	strange, err := v.AuditLog(t.Context(), "", vault.MaxAudit)
	if err != nil || len(strange) != vault.MaxStrange || strange[len(strange)-1].Event != "3" {
		t.Errorf("%d entries of strangers, the oldest %+v, %v", len(strange), strange[len(strange)-1], err)
	}
	if own, err := v.AuditLog(t.Context(), home, 9); err != nil || len(own) != 1 {
		t.Errorf("the shop's own: %+v, %v", own, err)
	}
}
