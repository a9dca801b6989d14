//go:build unix

package bolt_test

import (
	"archive/tar"
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// backedUp makes a filled vault and a backup of it, and closes it.
func backedUp(t *testing.T) (folder, file string, shop vault.ShopID) {
	t.Helper()
	folder, file = t.TempDir(), filepath.Join(t.TempDir(), "backup")
	v, shop := filled(t, folder)
	try(t, v.BackupFile(t.Context(), file, now))
	try(t, v.Close())
	return folder, file, shop
}

func TestRestore_into_an_empty_folder_gives_back_everything_under_a_new_id(t *testing.T) {
	folder, file, shop := backedUp(t)
	old := open(t, folder)
	other := t.TempDir()
	done, err := bolt.Restore(t.Context(), other, file, false, now)
	try(t, err)
	if done.Aside != "" || done.Unknown || !done.Made.Equal(now) || len(done.Stats.Shops) != 2 {
		t.Errorf("done: %+v", done)
	}
	r := sound(t, other)
	if r.Store == old.ID() {
		t.Error("the restored vault has the id of the old one: no device would notice")
	}
	v := open(t, other)
	if a, b := pulled(t, old, shop), pulled(t, v, shop); len(a) != len(b) {
		t.Errorf("%d ops, want %d", len(b), len(a))
	}
	f, size, err := v.OpenBlob(t.Context(), shop, storage.HashOf([]byte("a photo")))
	try(t, err)
	try(t, f.Close())
	if size != 7 {
		t.Errorf("the attachment has %d bytes", size)
	}
	if d, err := v.DeviceByToken(t.Context(), vault.SecretHash{1}); err != nil || d.Name != "Phone" {
		t.Errorf("the device: %+v, %v", d, err)
	}
	if _, err := v.Join(t.Context(), vault.SecretHash{3}, "Late", vault.SecretHash{9}, now); !errors.Is(err, vault.ErrNoCode) {
		t.Errorf("a pairing code of the backup: got %v, want that it is gone", err)
	}
}

func TestRestore_refuses_to_lose_changes_unless_forced_and_keeps_them_aside(t *testing.T) {
	folder, file, shop := backedUp(t)
	if _, err := bolt.Restore(t.Context(), folder, file, false, now); err != nil {
		t.Fatalf("nothing is lost, and still: %v", err)
	}
	v := open(t, folder)
	push(t, v, shop, storagetest.RandomOps(50, 7)...)
	phones, err := v.Devices(t.Context(), shop)
	try(t, err)
	try(t, v.RevokeDevice(t.Context(), shop, phones[0].ID, now))
	id := v.ID()
	try(t, v.Close())
	_, err = bolt.Restore(t.Context(), folder, file, false, now)
	var newer *bolt.NewerError
	if !errors.As(err, &newer) || !strings.Contains(err.Error(), `7 changes of the shop "Home"`) || !strings.Contains(err.Error(), "--force") {
		t.Fatalf("got %v, want a refusal naming 7 changes", err)
	}
	if r := sound(t, folder); r.Store != id {
		t.Error("a refused restore changed the vault")
	}
	done, err := bolt.Restore(t.Context(), folder, file, true, now.Add(time.Hour))
	try(t, err)
	sound(t, folder)
	if _, err := open(t, folder).DeviceByToken(t.Context(), vault.SecretHash{1}); !errors.Is(err, vault.ErrRevoked) {
		t.Errorf("a device put out since the backup: %v, want that it stays out", err)
	}
	back := t.TempDir() // what was kept aside is a whole vault
	raw, err := os.ReadFile(done.Aside)
	try(t, err)
	try(t, os.WriteFile(filepath.Join(back, "vault.bolt"), raw, 0o600))
	if n := len(pulled(t, open(t, back), shop)); n != 207 {
		t.Errorf("%d ops were kept aside, want 207", n)
	}
}

// Two vaults that went apart have nothing to compare by number.
func TestRestore_counts_what_a_vault_that_went_its_own_way_would_lose(t *testing.T) {
	folder, file, _ := backedUp(t)
	other := t.TempDir()
	v := open(t, other)
	s, err := v.CreateShop(t.Context(), "Elsewhere", now)
	try(t, err)
	push(t, v, s.ID, storagetest.RandomOps(3, 5)...)
	try(t, v.Close())
	_, err = bolt.Restore(t.Context(), other, file, false, now)
	var newer *bolt.NewerError
	if !errors.As(err, &newer) || len(newer.Losses) != 1 || !strings.HasPrefix(newer.Losses[0], "5 changes") {
		t.Errorf("got %v, want a refusal naming 5 changes", err)
	}
	sound(t, other)
	sound(t, folder)
}

func TestBackup_while_writing_is_of_one_moment(t *testing.T) {
	folder := t.TempDir()
	v, shop := filled(t, folder)
	stop, ended := make(chan struct{}), make(chan error, 1)
	go func() {
		for i := uint64(0); ; i++ {
			select {
			case <-stop:
				ended <- nil
				return
			default:
			}
			if _, err := v.Push(t.Context(), shop, storagetest.RandomOps(1000+i, 5)); err != nil {
				ended <- err
				return
			}
		}
	}()
	for range 10 {
		before := len(pulled(t, v, shop))
		file := filepath.Join(t.TempDir(), "backup")
		try(t, v.BackupFile(t.Context(), file, now))
		after := len(pulled(t, v, shop))
		other := t.TempDir()
		_, err := bolt.Restore(t.Context(), other, file, false, now)
		try(t, err)
		sound(t, other)
		if n := len(pulled(t, open(t, other), shop)); n < before || n > after {
			t.Errorf("the backup has %d ops, taken between %d and %d", n, before, after)
		}
	}
	close(stop)
	try(t, <-ended)
}

func TestRestore_refuses_a_damaged_backup_and_leaves_the_vault_alone(t *testing.T) {
	folder, file, shop := backedUp(t)
	v := open(t, folder)
	push(t, v, shop, storagetest.RandomOps(50, 7)...)
	try(t, v.Close())
	want := sound(t, folder).Store
	whole, err := os.ReadFile(file)
	try(t, err)
	r := rand.New(rand.NewPCG(8, 8))
	bad := map[string][]byte{"empty": nil, "half its ending": whole[:len(whole)-1024-480], "text": []byte(strings.Repeat("notes\n", 500))}
	for range 30 {
		bad["cut"] = whole[:1+r.IntN(len(whole)-2000)]
		flipped := bytes.Clone(whole)
		flipped[contentAt(t, whole, r)] ^= 1 << r.IntN(8)
		bad["flipped"] = flipped
		for what, content := range bad {
			try(t, os.WriteFile(file, content, 0o600))
			_, err := bolt.Restore(t.Context(), folder, file, true, now)
			if !errors.Is(err, storage.ErrCorrupt) || !strings.Contains(err.Error(), file) {
				t.Fatalf("%s: got %v, want ErrCorrupt naming the file", what, err)
			}
		}
	}
	if sound(t, folder).Store != want {
		t.Error("the vault was replaced")
	}
	left, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil || len(left) != 3 { // vault.bolt, vault.lock and blobs
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// contentAt picks a byte of the database or of an attachment within a backup.
func contentAt(t *testing.T, backup []byte, r *rand.Rand) int {
	t.Helper()
	in := bytes.NewReader(backup)
	files := tar.NewReader(in)
	var places []int
	for {
		h, err := files.Next()
		if err == io.EOF {
			return places[r.IntN(len(places))]
		}
		try(t, err)
		if strings.HasPrefix(h.Name, "blobs/") || h.Name == "vault.bolt" {
			at := len(backup) - in.Len()
			places = append(places, at+r.IntN(int(h.Size)))
		}
	}
}

func TestRestore_lets_no_name_in_a_backup_lead_elsewhere(t *testing.T) {
	h := storage.HashOf([]byte("x"))
	for _, name := range []string{
		"../outside", "/etc/outside", "blobs/../../outside", "vault.bolt.extra",
		"blobs/../" + h[:2] + "/" + h[2:4] + "/" + h,
		"blobs/" + strings.Repeat("0", 32) + "/../" + h[2:4] + "/" + h,
		"blobs/" + strings.Repeat("0", 32) + "/ff/ff/" + h,
	} {
		var b bytes.Buffer
		out := tar.NewWriter(&b)
		for _, f := range [][2]string{{"backup.json", `{"format":1}`}, {name, "x"}} {
			try(t, out.WriteHeader(&tar.Header{Typeflag: tar.TypeReg, Name: f[0], Size: int64(len(f[1])), Mode: 0o600}))
			_, err := out.Write([]byte(f[1]))
			try(t, err)
		}
		try(t, out.Close())
		root := t.TempDir()
		file := filepath.Join(root, "backup")
		try(t, os.WriteFile(file, b.Bytes(), 0o600))
		if _, err := bolt.Restore(t.Context(), filepath.Join(root, "data"), file, true, now); !errors.Is(err, storage.ErrCorrupt) {
			t.Errorf("%q: got %v, want ErrCorrupt", name, err)
		}
		if _, err := os.Stat(filepath.Join(root, "outside")); err == nil {
			t.Errorf("%q was written outside", name)
		}
	}
}

func TestRestore_of_a_newer_program_s_backup_says_so(t *testing.T) {
	var b bytes.Buffer
	out := tar.NewWriter(&b)
	text := `{"format":2,"more":[1]}`
	try(t, out.WriteHeader(&tar.Header{Typeflag: tar.TypeReg, Name: "backup.json", Size: int64(len(text)), Mode: 0o600}))
	_, err := out.Write([]byte(text))
	try(t, err)
	try(t, out.Close())
	file := filepath.Join(t.TempDir(), "backup")
	try(t, os.WriteFile(file, b.Bytes(), 0o600))
	if _, err := bolt.Restore(t.Context(), t.TempDir(), file, true, now); !errors.Is(err, storage.ErrNewer) {
		t.Errorf("got %v, want ErrNewer", err)
	}
}
