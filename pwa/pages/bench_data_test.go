package pages

import (
	"strings"
	"testing"
)

// A file far larger than any of ours is refused by its size alone, before it fills the memory; the text names both sizes.
func TestImport_refuses_a_file_by_its_size(t *testing.T) {
	for _, tt := range []struct {
		size, limit int64
		says        []string // nil when it is read
	}{
		{0, 256e6, nil},
		{256e6, 256e6, nil},
		{256e6 + 1, 256e6, []string{"256.0 MB", "at most"}},
		{5e9, 256e6, []string{"5.0 GB", "at most 256.0 MB"}},
		{5e9, 0, nil},
	} {
		err := tooLarge(tt.size, tt.limit)
		if (err == nil) != (tt.says == nil) {
			t.Errorf("%d of %d: %v", tt.size, tt.limit, err)
			continue
		}
		for _, text := range tt.says {
			if !strings.Contains(err.Error(), text) {
				t.Errorf("%d of %d says %q, without %q", tt.size, tt.limit, err, text)
			}
		}
	}
}
