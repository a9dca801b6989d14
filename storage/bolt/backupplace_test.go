//go:build !js

package bolt

import (
	"path/filepath"
	"testing"
	"time"
)

// A backup named like the vault itself would take its place.
func TestBackupFile_refuses_a_file_in_the_folder_of_the_vault(t *testing.T) {
	folder := t.TempDir()
	v, err := Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	defer v.Close()
	for _, name := range []string{vaultFile, "backup.tar"} {
		if err := v.BackupFile(t.Context(), filepath.Join(folder, name), time.Now()); err == nil {
			t.Errorf("%s in the vault's own folder is accepted", name)
		}
	}
	if err := v.BackupFile(t.Context(), filepath.Join(t.TempDir(), "backup.tar"), time.Now()); err != nil {
		t.Error(err)
	}
}
