package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/remote"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// says runs a command of the owner and checks the exit code and parts of what it prints.
func says(t *testing.T, folder string, want int, parts []string, args ...string) {
	t.Helper()
	out, code := ownerLine(t, folder, args...)
	if code != want {
		t.Fatalf("%v: exit code %d: %s", args, code, out)
	}
	for _, part := range parts {
		if !strings.Contains(out, part) {
			t.Errorf("%v: %q does not say %q", args, out, part)
		}
	}
}

// write stores changes in the first shop of a vault nobody has open.
func write(t *testing.T, folder string, seed uint64, n int) {
	t.Helper()
	v, err := openVault(folder)
	if err != nil {
		t.Fatal(err)
	}
	shops, err := v.Shops(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := v.Push(t.Context(), shops[0].ID, storagetest.RandomOps(seed, n)); err != nil {
		t.Fatal(err)
	}
	if err := v.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestBackup_check_and_restore_as_an_owner_does_them(t *testing.T) {
	folder, file := t.TempDir(), filepath.Join(t.TempDir(), "shop.backup")
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder)
	waitFor(t, s.output, "Code for one device")
	if _, err := remote.Pair(t.Context(), s.url, shownCode(t, s.output.String()), "Phone"); err != nil {
		t.Fatal(err)
	}
	says(t, folder, exitOK, []string{file}, "backup", file) // while the server runs
	says(t, folder, exitFailed, []string{"in use", "stop the server"}, "check")
	says(t, folder, exitFailed, []string{"in use", "stop the server"}, "restore", file)
	says(t, folder, exitFailed, []string{"in use", "stop the server"}, "compact")
	says(t, folder, exitOK, nil, "devices", "revoke", "Phone")
	if code := s.stop(); code != exitOK {
		t.Fatalf("the server ended with %d: %s", code, s.output)
	}
	write(t, folder, 1, 20)
	says(t, folder, exitOK, []string{"My shop: ", "20 changes", "The vault is sound."}, "check")
	says(t, folder, exitOK, []string{"written anew", "Nothing in it changed"}, "compact")
	says(t, folder, exitOK, []string{"20 changes", "The vault is sound."}, "check")
	says(t, folder, exitFailed, []string{`20 changes of the shop "My shop"`, "--force"}, "restore", file)
	says(t, folder, exitOK, []string{"20 changes"}, "check") // a refusal changes nothing
	says(t, folder, exitOK, []string{"The vault is as it was", "is kept as " + filepath.Join(folder, vaultFile+".before-")}, "restore", "--force", file)
	says(t, folder, exitOK, []string{"My shop: 0 records", "0 devices", "sound"}, "check")
	says(t, folder, exitOK, []string{"out since"}, "devices") // since the backup, and it stays so
}

func TestCheck_names_damage_with_exit_code_1_and_restore_mends_it(t *testing.T) {
	folder, file := t.TempDir(), filepath.Join(t.TempDir(), "shop.backup")
	v, err := openVault(folder)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := v.CreateShop(t.Context(), "Home", time.Unix(1e9, 0)); err != nil {
		t.Fatal(err)
	}
	if err := v.Close(); err != nil {
		t.Fatal(err)
	}
	write(t, folder, 1, 300)
	says(t, folder, exitOK, nil, "backup", file)
	if err := os.Truncate(filepath.Join(folder, vaultFile), 40_000); err != nil {
		t.Fatal(err)
	}
	says(t, folder, exitFailed, []string{"DAMAGE", "its end is missing", "torchside restore FILE"}, "check")
	says(t, folder, exitFailed, []string{"damaged", "torchside restore FILE"}, "backup", file)
	says(t, folder, exitFailed, []string{"damaged", "torchside restore FILE"}, "compact")
	says(t, folder, exitOK, []string{"could not be read"}, "restore", file)
	says(t, folder, exitOK, []string{"Home: ", "300 changes", "sound"}, "check")
}

func TestKeeping_commands_refuse_what_they_cannot_use(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "notes.txt")
	if err := os.WriteFile(file, []byte(strings.Repeat("notes about welding\n", 100)), 0o600); err != nil {
		t.Fatal(err)
	}
	says(t, folder, exitFailed, []string{"there is no vault in " + folder}, "check")
	says(t, folder, exitFailed, []string{"there is no vault in " + folder}, "backup", file)
	says(t, folder, exitUsage, []string{"one file"}, "backup")
	says(t, folder, exitUsage, []string{"one file"}, "restore", "a", "b")
	says(t, folder, exitUsage, []string{`"extra" is not a flag`}, "check", "extra")
	says(t, folder, exitUsage, []string{`compact: "extra" is not a flag`}, "compact", "extra")
	says(t, folder, exitFailed, []string{"there is no vault in " + folder}, "compact")
	says(t, folder, exitOK, []string{"room for a second vault.bolt"}, "compact", "--help")
	says(t, folder, exitFailed, []string{file, "left as it is"}, "restore", file)
	says(t, folder, exitFailed, []string{"cannot be read"}, "restore", filepath.Join(folder, "none"))
	if fileThere(filepath.Join(folder, vaultFile)) {
		t.Error("a refused restore made a vault")
	}
	if err := backupOf(t.Context(), struct{ vault.Vault }{}, file, time.Unix(1e9, 0)); err == nil {
		t.Error("a vault without files was backed up")
	}
}

// A lost photo is named with exit code 1, also by a running server, and everything else is saved.
func TestBackup_past_a_lost_photo_is_made_and_told_with_exit_code_1(t *testing.T) {
	folder, file := t.TempDir(), filepath.Join(t.TempDir(), "shop.backup")
	v, err := openVault(folder)
	if err != nil {
		t.Fatal(err)
	}
	shop, err := v.CreateShop(t.Context(), firstShop, time.Unix(1e9, 0))
	if err != nil {
		t.Fatal(err)
	}
	photo := []byte("a photo")
	h := storage.HashOf(photo)
	op := storagetest.RandomOps(1, 1)[0]
	op.Blobs = []storage.Hash{h}
	_, pushed := v.Push(t.Context(), shop.ID, []storage.Op{op})
	if err := errors.Join(pushed, v.WriteBlob(t.Context(), shop.ID, h, 0, photo, true), v.Close()); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(folder, "blobs", string(shop.ID), h[:2], h[2:4], h)); err != nil {
		t.Fatal(err)
	}
	s := start(t, "--addr", "127.0.0.1:0", "--data", folder)
	says(t, folder, exitFailed, []string{"1 photo or file could not be backed up; everything else is in " + file, h}, "backup", file)
	if code := s.stop(); code != exitOK {
		t.Fatalf("the server ended with %d: %s", code, s.output)
	}
	says(t, folder, exitFailed, []string{"older backup " + file + " was left as it is", file + ".incomplete"}, "backup", file)
	says(t, folder, exitFailed, []string{"DAMAGE", "Lost: 1 photos or files"}, "check")
	says(t, folder, exitOK, []string{"Repaired: 1 lost photos or files are asked for again", "sound"}, "check", "--repair")
	says(t, t.TempDir(), exitOK, []string{"1 photos or files were lost before the backup was made", "1 changes", "1 still to come"}, "restore", file)
}
