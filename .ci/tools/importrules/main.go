// Command importrules checks who imports whom, on direct imports, for the server and the browser
// build alike:
//
//	importrules DIR    DIR is the root of the module
//
// The rules are the table in rules.go. Each broken rule is one line; the exit code is then 1.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
)

const module = "torchside"

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: importrules DIR")
		os.Exit(2)
	}
	broken, err := checkModule(os.Args[1])
	if err != nil {
		fmt.Fprintln(os.Stderr, "importrules:", err)
		os.Exit(1)
	}
	for _, line := range broken {
		fmt.Println(line)
	}
	if len(broken) > 0 {
		os.Exit(1)
	}
}

// pkg is what the go command tells of one package.
type pkg struct {
	ImportPath string
	Name       string
	Doc        string
	Imports    []string
}

// checkModule lists the packages for both targets and gives all broken rules, each once.
func checkModule(dir string) ([]string, error) {
	var broken []string
	for _, target := range [][]string{nil, {"GOOS=js", "GOARCH=wasm"}} {
		packages, err := listPackages(dir, target)
		if err != nil {
			return nil, err
		}
		for _, p := range packages {
			broken = append(broken, check(p)...)
		}
	}
	slices.Sort(broken)
	return slices.Compact(broken), nil
}

func listPackages(dir string, env []string) ([]pkg, error) {
	cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Name,Doc,Imports", "./...")
	cmd.Dir, cmd.Stderr = dir, os.Stderr
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	var all []pkg
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p pkg
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
}

// check gives the rules that one package breaks.
func check(p pkg) []string {
	if p.Name == "" {
		return nil // nothing in it for this target
	}
	name := strings.TrimPrefix(strings.TrimPrefix(p.ImportPath, module), "/")
	var broken []string
	if p.Doc == "" {
		broken = append(broken, name+": no package comment")
	}
	r, ok := ruleFor(name)
	if !ok {
		return append(broken, name+": no import rule names this package; add one to rules.go")
	}
	for _, imported := range p.Imports {
		if why := r.refuses(local(imported), isTestPackage(name)); why != "" {
			broken = append(broken, fmt.Sprintf("%s must not import %s: %s", name, imported, why))
		}
	}
	return broken
}

// local takes the module's name off an import path of ours and marks it with "./".
func local(path string) string {
	if rest, ok := strings.CutPrefix(path, module+"/"); ok {
		return "./" + rest
	}
	return path
}

// isTestPackage reports whether a package exists for tests only.
func isTestPackage(name string) bool { return strings.HasSuffix(name, "test") }
