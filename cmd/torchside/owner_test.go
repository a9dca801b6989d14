package main

import (
	"context"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/remote"
	"torchside/storage/vault"
)

// Wrong codes belong to no shop, and are what an owner looks for.
func TestAudit_shows_wrong_codes_beside_what_the_shop_did(t *testing.T) {
	folder := t.TempDir()
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder)
	waitFor(t, s.output, "Code for one device")
	code := shownCode(t, s.output.String())
	for range 4 {
		if _, err := remote.Pair(t.Context(), s.url, "0000 0000", "Guess"); err == nil || strings.ReplaceAll(code, " ", "") == "00000000" {
			t.Fatalf("a wrong code: %v", err)
		}
	}
	if _, err := remote.Pair(t.Context(), s.url, code, "Phone"); err != nil {
		t.Fatal(err)
	}
	for range 5 {
		_, _ = remote.Pair(t.Context(), s.url, "0000 0000", "Guess")
	}
	out, exit := ownerLine(t, folder, "audit")
	lines := strings.Split(strings.TrimSpace(out), "\n")
	if exit != exitOK || strings.Count(out, "  wrong code  ") != 9 || !strings.Contains(lines[0], "pairing locked") || !strings.Contains(out, "from 127.0.0.1") {
		t.Errorf("exit code %d: %s", exit, out)
	}
	if joined := strings.Index(out, "device joined"); joined < strings.Index(out, "wrong code") || joined > strings.LastIndex(out, "wrong code") {
		t.Errorf("not in the order of time: %s", out)
	}
}

// deaf is a vault that takes no audit entry.
type deaf struct{ vault.Vault }

func (deaf) Audit(context.Context, vault.AuditEntry) error { return storage.ErrFull }

// A change that failed is not noted as made, and one that was made is not told as failed.
func TestOwner_says_what_was_done_when_the_audit_log_takes_no_more(t *testing.T) {
	v, err := openVault(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer v.Close()
	o := owner{vault: v, now: time.Now}
	for _, name := range []string{"First", "Second"} {
		if _, err := o.addShop(t.Context(), name); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := o.do(t.Context(), ownerRequest{Do: "rename shop", Shop: "First", Name: "Second"}); err == nil {
		t.Error("two shops of one name")
	}
	reply, err := o.do(t.Context(), ownerRequest{Do: "audit", Shop: "First"})
	if err != nil || len(reply.Audit) != 1 || reply.Audit[0].Event != "shop made" {
		t.Errorf("audit log %+v, %v, want no word of the renaming that failed", reply.Audit, err)
	}
	o.vault = deaf{v}
	_, err = o.do(t.Context(), ownerRequest{Do: "rename shop", Shop: "First", Name: "Third"})
	if err == nil || !strings.Contains(err.Error(), "done (shop renamed), but") {
		t.Errorf("got %v", err)
	}
	if shops, err := v.Shops(t.Context()); err != nil || shops[0].Name != "Third" {
		t.Errorf("%+v, %v", shops, err)
	}
}
