//go:build !js

package site

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// outgoing is where an address leaves for the browser. One that does not pass At leads out of an exported site that lies in a folder.
var outgoing = regexp.MustCompile(`\.Href\(|\.Navigate\(|"(?:replace|push)State", |Call\("fetch", `)

func TestEveryAddressThatGoesOutPassesAt(t *testing.T) {
	seen := 0
	for _, pattern := range []string{"../*.go", "../pages/*.go", "../widgets/*.go", "../effects/*.go", "../action/*.go"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			body, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for i, line := range strings.Split(string(body), "\n") {
				if !outgoing.MatchString(line) {
					continue
				}
				seen++
				// "to" is made by At a few lines above (history.go)
				if !strings.Contains(line, "site.At(") && !strings.HasSuffix(file, "history.go") {
					t.Errorf("%s:%d: %s", file, i+1, strings.TrimSpace(line))
				}
			}
		}
	}
	if seen < 15 {
		t.Errorf("only %d places were found where an address goes out", seen)
	}
}
