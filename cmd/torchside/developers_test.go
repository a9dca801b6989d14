package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	namedTest   = regexp.MustCompile("`(Test[A-Za-z0-9_]+)(…?)`")
	writtenTest = regexp.MustCompile(`(?m)^func (Test[A-Za-z0-9_]+)\(`)
)

// The contributor guide names tests as proofs: each of them must be there. A name that ends in … stands for all that begin so.
func TestDevelopers_namesTestsThatAreThere(t *testing.T) {
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	var written []string
	err = filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		for _, m := range writtenTest.FindAllStringSubmatch(string(text), -1) {
			written = append(written, m[1])
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	named := namedTest.FindAllStringSubmatch(string(guide), -1)
	if len(named) < 20 || len(written) < 500 {
		t.Fatalf("%d tests named, %d written", len(named), len(written))
	}
	for _, m := range named {
		found := false
		for _, w := range written {
			found = found || w == m[1] || m[2] != "" && strings.HasPrefix(w, m[1])
		}
		if !found {
			t.Errorf("the guide names %s, which is not there", m[1]+m[2])
		}
	}
}
