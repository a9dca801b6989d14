//go:build !js

package site

import "testing"

func TestAtAndBelow(t *testing.T) {
	for _, c := range []struct{ base, own, host, back string }{
		{"", "/", "/", "/"},
		{"/", "/rig?add=tip", "/rig?add=tip", ""},
		{"", "/bench/tables", "/bench/tables", "/bench/tables"},
		{"/shop/torchside/", "/", "/shop/torchside/", "/"},
		{"/shop/torchside", "/bench/tables", "/shop/torchside/bench/tables", "/bench/tables"},
	} {
		t.Setenv("GOAPP_ROOT_PREFIX", c.base)
		if got := At(c.own); got != c.host {
			t.Errorf("under %q, %s is at %s, want %s", c.base, c.own, got, c.host)
		}
		if c.back != "" {
			if got := Below(c.host); got != c.back {
				t.Errorf("under %q, %s was read as %s, want %s", c.base, c.host, got, c.back)
			}
		}
	}
}

// Static hosts put a slash behind a folder, and drop one; a name that only begins like the folder is another one.
func TestBelow_takesWhatHostsMakeOfAnAddress(t *testing.T) {
	t.Setenv("GOAPP_ROOT_PREFIX", "/shop/")
	for path, want := range map[string]string{"/shop": "/", "/shop/rig/": "/rig", "/shop/bench/tables/": "/bench/tables", "/shopping": "/shopping", "": "/"} {
		if got := Below(path); got != want {
			t.Errorf("%q was read as %q, want %q", path, got, want)
		}
	}
}
