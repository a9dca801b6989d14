package main

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	inTicks    = regexp.MustCompile("`([^`\n]+)`")
	testName   = regexp.MustCompile(`^((?:Test|Benchmark|Fuzz|Example)\w+)(…?)$`)
	writtenFor = regexp.MustCompile(`(?m)^func ((?:Test|Benchmark|Fuzz|Example)\w+)\(`)
	goName     = regexp.MustCompile(`^(?:([a-z]+)\.)?([A-Za-z]\w*)(?:\.\w+)*(?:\(\))?$`)
	fileName   = regexp.MustCompile(`\.(go|js|json|html|md|sh|css|mod)$`)
)

// tree is what the guide can speak of.
type tree struct {
	files []string          // below the root
	tests []string          // tests, benchmarks, fuzzers and examples
	code  map[string]string // text of the code in a folder
	make  string            // the Makefile
}

func readTree(t *testing.T) tree {
	t.Helper()
	w := tree{code: map[string]string{}}
	root := os.DirFS("../..")
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if base := d.Name(); slices.Contains([]string{".git", "node_modules", ".cache", "bin", "bench"}, base) {
				return fs.SkipDir
			}
			return nil
		}
		w.files = append(w.files, name)
		if ext := path.Ext(name); ext != ".go" && ext != ".js" {
			return nil
		}
		text, err := fs.ReadFile(root, name)
		for _, m := range writtenFor.FindAllStringSubmatch(string(text), -1) {
			w.tests = append(w.tests, m[1])
		}
		w.code[path.Dir(name)] += string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile("../../Makefile")
	if err != nil {
		t.Fatal(err)
	}
	w.make = string(text)
	return w
}

// hasTest tells whether there is such a test, and whether the word is the name of one at all. A name that ends in … stands for all that begin so.
func (w tree) hasTest(word string) (there, isTest bool) {
	m := testName.FindStringSubmatch(word)
	if m == nil {
		return false, false
	}
	return slices.ContainsFunc(w.tests, func(s string) bool { return s == m[1] || m[2] != "" && strings.HasPrefix(s, m[1]) }), true
}

// hasFile does the same for files and folders: by its path below the root, by a pattern, or where only a name is given, anywhere.
func (w tree) hasFile(word string) (there, isFile bool) {
	word = strings.TrimSuffix(strings.TrimPrefix(word, "./"), "/...")
	first, _, below := strings.Cut(word, "/")
	inTree := slices.ContainsFunc(w.files, func(f string) bool { return strings.HasPrefix(f, first+"/") })
	switch {
	case strings.HasPrefix(word, "/"): // an address
		return false, false
	case below && inTree:
		found, err := filepath.Glob("../../" + word)
		return err == nil && len(found) > 0, true
	case fileName.MatchString(word) && !below:
		return slices.ContainsFunc(w.files, func(f string) bool { return path.Base(f) == word }), true
	}
	return false, false
}

// hasName does the same for what code calls something: in the package named, or anywhere.
func (w tree) hasName(word string) (there, isName bool) {
	m := goName.FindStringSubmatch(word)
	if m == nil {
		return false, false
	}
	name := regexp.MustCompile(`\b` + m[2] + `\b`)
	known := false
	for folder, text := range w.code {
		if m[1] == "" || path.Base(folder) == m[1] {
			known = true
			there = there || name.MatchString(text)
		}
	}
	return there, known
}

// The contributor guide names tests as proofs, files to edit, commands and names of the code: each of them must be there.
func TestDevelopers_namesWhatIsThere(t *testing.T) {
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	w := readTree(t)
	counts := map[string]int{}
	check := func(what, word string, there, isOne bool) bool {
		if isOne {
			counts[what]++
		}
		if isOne && !there {
			t.Errorf("the guide names the %s %q, which is not there", what, word)
		}
		return isOne
	}
	for _, m := range inTicks.FindAllStringSubmatch(string(guide), -1) {
		words := strings.Fields(m[1])
		if len(words) == 2 && words[0] == "make" {
			check("command", m[1], strings.Contains("\n"+w.make, "\n"+words[1]+":"), true)
			continue
		}
		for _, word := range words {
			there, isTest := w.hasTest(word)
			if check("test", word, there, isTest) {
				continue
			}
			if there, isFile := w.hasFile(word); check("file", word, there, isFile) || len(words) > 1 {
				continue
			}
			there, isName := w.hasName(word)
			check("name", word, there, isName)
		}
	}
	for what, least := range map[string]int{"test": 20, "file": 60, "name": 30, "command": 4} {
		if counts[what] < least {
			t.Errorf("only %d of what looks like a %s", counts[what], what)
		}
	}
}
