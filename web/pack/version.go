package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sort"
	"strings"
)

// sourceVersion hashes everything that decides what a browser receives: all files of our packages
// in the browser program (with the server's part of the same packages, which writes pages and
// worker), the hand-written assets, this command, the module files and the toolchain. Tests are
// left out.
func sourceVersion(root string) (string, error) {
	files, err := inputs(root)
	if err != nil {
		return "", err
	}
	return hashFiles(root, runtime.Version(), files)
}

// inputs lists the files, relative to root, sorted and each once.
func inputs(root string) ([]string, error) {
	dirs, err := packageDirs(root)
	if err != nil {
		return nil, err
	}
	files := []string{"go.mod", "go.sum"}
	for _, dir := range append(dirs, "web", "web/pack") {
		more, err := filesIn(root, dir)
		if err != nil {
			return nil, err
		}
		files = append(files, more...)
	}
	static, err := filesBelow(root, "web/static")
	if err != nil {
		return nil, err
	}
	files = append(files, static...)
	sort.Strings(files)
	return files, nil
}

// packageDirs asks the go command which packages of this module the browser program consists of.
func packageDirs(root string) ([]string, error) {
	cmd := exec.Command("go", "list", "-deps", "-json=Dir,Module", "./cmd/wasm")
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("listing the packages of the browser program: %w", err)
	}
	var dirs []string
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			Dir    string
			Module *struct {
				Main bool
				Dir  string
			}
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return dirs, nil
		} else if err != nil {
			return nil, err
		}
		if p.Module == nil || !p.Module.Main {
			continue // the standard library and other modules: fixed by toolchain and go.sum
		}
		rel, err := filepath.Rel(p.Module.Dir, p.Dir)
		if err != nil {
			return nil, err
		}
		dirs = append(dirs, rel)
	}
}

// filesIn lists the files directly in a package folder, without its tests.
func filesIn(root, dir string) ([]string, error) {
	entries, err := os.ReadDir(filepath.Join(root, dir))
	if err != nil {
		return nil, err
	}
	var files []string
	for _, e := range entries {
		if e.Type().IsRegular() && !strings.HasSuffix(e.Name(), "_test.go") {
			files = append(files, filepath.Join(dir, e.Name()))
		}
	}
	return files, nil
}

func filesBelow(root, dir string) ([]string, error) {
	var files []string
	err := filepath.WalkDir(filepath.Join(root, dir), func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		rel, err := filepath.Rel(root, path)
		files = append(files, rel)
		return err
	})
	return files, err
}

// hashFiles gives the first 16 hexadecimal digits (64 bits) of a SHA-256 over names and contents:
// enough to tell the builds of one project apart.
func hashFiles(root, toolchain string, files []string) (string, error) {
	h := sha256.New()
	fmt.Fprintln(h, toolchain)
	for _, name := range files {
		body, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			return "", err
		}
		fmt.Fprintf(h, "%s %d\n", filepath.ToSlash(name), len(body))
		h.Write(body)
	}
	return hex.EncodeToString(h.Sum(nil)[:8]), nil
}
