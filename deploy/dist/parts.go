package main

import (
	"bytes"
	"debug/buildinfo"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// part is one thing by others that is inside a program or the app: a module, or Go itself.
type part struct {
	path, version string
	sum           string // "h1:…" of go.sum; empty for Go
	dir           string // where its sources and its licence lie on this machine
}

// goPart is the name of the standard library and runtime among the parts.
const goPart = "std"

// allParts are the parts of the programs, as they themselves tell, and of the app they carry.
func allParts(dir string, programs []program) ([]part, error) {
	found := map[string]part{}
	for _, p := range programs {
		info, err := buildinfo.ReadFile(filepath.Join(dir, p.name))
		if err != nil {
			return nil, err
		}
		for _, m := range info.Deps {
			if m.Replace != nil {
				return nil, fmt.Errorf("%s carries a replaced %s: what is inside cannot be told", p.name, m.Path)
			}
			found[m.Path] = part{path: m.Path, version: m.Version, sum: m.Sum}
		}
	}
	inApp, err := modulesOfApp()
	if err != nil {
		return nil, err
	}
	for _, m := range inApp {
		if have, ok := found[m.Path]; ok && have.version != m.Version {
			return nil, fmt.Errorf("the app and the programs have different versions of %s", m.Path)
		}
		found[m.Path] = part{path: m.Path, version: m.Version, sum: m.Sum}
	}
	return located(found)
}

// located finds the folder of each part and sorts them; Go comes first.
func located(found map[string]part) ([]part, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, err
	}
	list := []part{{path: goPart, version: strings.TrimPrefix(runtime.Version(), "go"), dir: strings.TrimSpace(string(root))}}
	for _, p := range found {
		m, err := download(p.path + "@" + p.version)
		if err != nil {
			return nil, err
		}
		p.dir, p.sum = m.Dir, m.Sum
		list = append(list, p)
	}
	slices.SortFunc(list[1:], func(a, b part) int { return strings.Compare(a.path, b.path) })
	return list, nil
}

// module is what the go command tells of a module.
type module struct {
	Path, Version, Sum, Dir string
	Main                    bool
}

// download makes sure that a module is on this machine, where building it has put it already.
func download(name string) (module, error) {
	out, err := exec.Command("go", "mod", "download", "-json", name).Output()
	if err != nil {
		return module{}, fmt.Errorf("finding %s: %w", name, err)
	}
	var m module
	err = json.Unmarshal(out, &m)
	return m, err
}

// modulesOfApp asks which modules the browser program consists of: a wasm cannot tell itself.
func modulesOfApp() ([]module, error) {
	cmd := exec.Command("go", "list", "-deps", "-json=Module", "./cmd/wasm")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("listing the modules of the app: %w", err)
	}
	var list []module
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct{ Module *module }
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return list, nil
		} else if err != nil {
			return nil, err
		}
		if p.Module != nil && !p.Module.Main {
			list = append(list, *p.Module)
		}
	}
}
