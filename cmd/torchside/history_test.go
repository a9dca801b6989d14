package main

import (
	"io"
	"log/slog"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/storagetest"
)

// versions are so many of one record, each replacing the one before.
func versions(n int) []storage.Op {
	ops := storagetest.RandomOps(3, n)
	for i := range ops {
		ops[i].Rec, ops[i].Kind, ops[i].Del, ops[i].Blobs, ops[i].Parents = ops[0].Rec, "sheet", false, nil, nil
		if i > 0 {
			ops[i].Parents = []storage.ID{ops[i-1].ID}
		}
	}
	return ops
}

func TestHistory_as_an_owner_sets_it_while_a_server_runs(t *testing.T) {
	folder := t.TempDir()
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder)
	waitFor(t, s.output, "Code for one device")
	says(t, folder, exitOK, []string{"My shop: every version is kept; 0 changes"}, "history")
	for _, bad := range []string{"365", "0d", "-1d", "1.5d", "99999d", "", "ever"} {
		says(t, folder, exitUsage, []string{"--keep"}, "history", "--keep", bad)
	}
	says(t, folder, exitUsage, []string{"one of both"}, "history", "trim", "--keep", "9d")
	says(t, folder, exitUsage, []string{`"trom"`}, "history", "trom")
	says(t, folder, exitOK, []string{"kept for 30 days", "gone for good", "backup"}, "history", "--keep=30d")
	says(t, folder, exitOK, []string{"My shop  (replaced versions are kept for 30 days)"}, "shop")
	says(t, folder, exitOK, []string{"Dropped now: 0 replaced versions"}, "history", "trim", "--shop", "My shop")
	says(t, folder, exitOK, []string{"every version is kept"}, "history", "--keep", "all")
	says(t, folder, exitOK, []string{"history limit set", "for 30 days", "every version is kept"}, "audit")
	if code := s.stop(); code != exitOK {
		t.Fatalf("the server ended with %d: %s", code, s.output)
	}
}

func TestTend_drops_what_is_older_than_the_limit_in_days_the_server_ran(t *testing.T) {
	v, err := openVault(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer v.Close()
	now := time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC)
	o := owner{vault: v, now: func() time.Time { return now }}
	made, err := o.addShop(t.Context(), "Home")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := v.Push(t.Context(), made.Shop.ID, versions(5)); err != nil {
		t.Fatal(err)
	}
	quiet := slog.New(slog.NewTextHandler(io.Discard, nil))
	o.tendOnce(t.Context(), quiet, true)
	if _, err := o.do(t.Context(), ownerRequest{Do: "keep history", Days: 2}); err != nil {
		t.Fatal(err)
	}
	dropped := func() int {
		r, err := o.do(t.Context(), ownerRequest{Do: "history"})
		if err != nil {
			t.Fatal(err)
		}
		return r.Stats[0].Dropped
	}
	for day, want := range []int{0, 0, 4, 4} {
		o.tendOnce(t.Context(), quiet, false)
		if day == 2 && dropped() != 0 {
			t.Errorf("marking a day drops %d versions", dropped())
		}
		o.tendOnce(t.Context(), quiet, true)
		if dropped() != want {
			t.Errorf("on day %d %d versions are dropped, want %d", day, dropped(), want)
		}
		now = now.AddDate(0, 0, 1)
	}
	log, err := v.AuditLog(t.Context(), made.Shop.ID, 9)
	if err != nil || log[0].Event != "old versions dropped" || log[0].Detail[:4] != "4 re" {
		t.Errorf("audit log %+v, %v", log, err)
	}
}

// What the command line of the owner takes out must leave the rest as it was.
func TestTakeValue_takes_a_flag_wherever_it_stands(t *testing.T) {
	for _, args := range [][]string{{"a", "--keep", "9d", "-b"}, {"-keep=9d", "a", "-b"}, {"a", "-b", "--keep=9d"}} {
		value, rest, err := takeValue(args, "keep")
		if err != nil || value != "9d" || len(rest) != 2 || rest[0] != "a" || rest[1] != "-b" {
			t.Errorf("%v: %q, %v, %v", args, value, rest, err)
		}
	}
	if _, rest, err := takeValue([]string{"keep", "--keeper", "x"}, "keep"); err != nil || len(rest) != 3 {
		t.Errorf("%v, %v", rest, err)
	}
	if _, _, err := takeValue([]string{"--keep"}, "keep"); err == nil {
		t.Error("a flag without its value was read")
	}
}
