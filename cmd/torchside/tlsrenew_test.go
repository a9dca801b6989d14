package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// overdue makes the certificate in use due for renewal, and the next handshake look for it.
func (a *authority) overdue() {
	a.renewFrom, a.checked = time.Now().Add(-time.Hour), time.Time{}
}

// A renewal that cannot be stored, as on a full disk, leaves the old certificate in use; it is told once, tried again, and the
// end of the trouble is told too. A folder that is missing stands for the full disk: both refuse a new file.
func TestAuthority_keeps_the_old_certificate_when_the_new_one_cannot_be_stored(t *testing.T) {
	var notes strings.Builder
	folder := t.TempDir()
	a := openTestAuthority(t, folder)
	a.notes = &notes
	old := a.leaf
	a.folder = filepath.Join(folder, "full")
	for range 3 {
		a.overdue()
		if got, err := a.get(nil); err != nil || got != old {
			t.Fatalf("the old certificate is not used: %v", err)
		}
	}
	if n := strings.Count(notes.String(), "could not be renewed"); n != 1 || !strings.Contains(notes.String(), old.Leaf.NotAfter.Format(time.DateOnly)) {
		t.Errorf("told %d times: %q", n, notes.String())
	}
	if err := os.Mkdir(a.folder, 0o700); err != nil {
		t.Fatal(err)
	}
	if got, err := a.get(nil); err != nil || got != old {
		t.Errorf("tried again at every handshake: %v", err)
	}
	a.checked = time.Now().Add(-2 * addressCheck)
	if got, err := a.get(nil); err != nil || got == old || !strings.Contains(notes.String(), "is renewed now") {
		t.Errorf("not renewed once there is room: %v, %q", err, notes.String())
	}
}

// Started on a full disk with a stored certificate that is due, the server serves with that one.
func TestAuthority_starts_with_the_stored_certificate_when_no_new_one_can_be_stored(t *testing.T) {
	var notes strings.Builder
	folder := t.TempDir()
	a := openTestAuthority(t, folder)
	stored := a.leaf.Leaf
	b := &authority{folder: folder, pair: a.pair, names: a.names, notes: &notes}
	if got, err := b.notRenewed(os.ErrPermission, time.Now()); err != nil || !got.Leaf.Equal(stored) || notes.Len() == 0 {
		t.Errorf("%v, %q", err, notes.String())
	}
	b.told = false
	if _, err := b.notRenewed(os.ErrPermission, stored.NotAfter.Add(time.Hour)); err == nil {
		t.Error("a certificate that has run out is used on")
	}
}

// A pair that can be stored by half only is not stored at all.
func TestKeyPair_is_stored_whole_or_not_at_all(t *testing.T) {
	folder := t.TempDir()
	a := openTestAuthority(t, folder)
	before, err := os.ReadFile(a.file("server-key.pem"))
	if err != nil {
		t.Fatal(err)
	}
	leaf, err := newLeafPair(a.pair, a.names, a.addrs, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	if err := leaf.write(filepath.Join(folder, "missing", "server.pem"), a.file("server-key.pem")); err == nil {
		t.Fatal("half a pair counts as stored")
	}
	after, err := os.ReadFile(a.file("server-key.pem"))
	if err != nil || string(after) != string(before) {
		t.Errorf("the old key is gone: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(folder, ".new-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}
