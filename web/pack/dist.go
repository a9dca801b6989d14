package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// makeDist leaves dir holding app.wasm.br, app.wasm.gz, version and sizes of the current sources.
// The version is written last: a build that was interrupted is not taken for a finished one.
func makeDist(dir string) error {
	version, err := sourceVersion(".")
	if err != nil {
		return err
	}
	if isCurrent(dir, version) {
		return nil
	}
	_ = os.Remove(filepath.Join(dir, "version")) // absent in a fresh clone
	wasm, err := buildSmall("./cmd/wasm", "-s -w -X torchside/pwa.Version="+version)
	if err != nil {
		return err
	}
	packed, err := compress(wasm)
	if err != nil {
		return err
	}
	return writeAll(dir, []output{
		{"app.wasm.br", packed.brotli},
		{"app.wasm.gz", packed.gzip},
		{"sizes", []byte(packed.sizes() + "\n")},
		{"version", []byte(version + "\n")},
	})
}

type output struct {
	name string
	body []byte
}

func writeAll(dir string, outputs []output) error {
	for _, o := range outputs {
		if err := os.WriteFile(filepath.Join(dir, o.name), o.body, 0o644); err != nil {
			return err
		}
	}
	return nil
}

func isCurrent(dir, version string) bool {
	have, err := os.ReadFile(filepath.Join(dir, "version"))
	if err != nil || strings.TrimSpace(string(have)) != version {
		return false
	}
	for _, name := range []string{"app.wasm.br", "app.wasm.gz", "sizes"} {
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			return false
		}
	}
	return true
}

// cutDir is where the copy of go-app without its server is made.
const cutDir = ".cache/pack/browser"

// buildSmall compiles a program for the browser with everything that makes it smaller.
func buildSmall(pkg, linkFlags string) ([]byte, error) {
	modFile, err := cutModFile(cutDir)
	if err != nil {
		return nil, err
	}
	changed, err := overlay(cutDir)
	if err != nil {
		return nil, err
	}
	flags := []string{"-modfile=" + modFile, "-overlay=" + changed, "-ldflags=" + linkFlags, "-gcflags=all=-l"}
	for _, p := range inlined {
		flags = append(flags, "-gcflags="+p+"=")
	}
	wasm, err := buildWasm(pkg, flags...)
	if err != nil {
		return nil, err
	}
	thinned, err := thin(wasm)
	if err != nil {
		return nil, err
	}
	return fold(thinned)
}

// inlined are the packages whose small functions the compiler copies to where they are called: those
// that solve, and those that everything else stands on. Elsewhere the copies are a sixteenth of
// all bytes sent and no faster to the eye (make bench prints the times).
var inlined = []string{
	"torchside/calc/flame", "torchside/calc/gas", "torchside/calc/flow", "torchside/calc/heat", "torchside/calc/cylinder",
	"runtime/...", "internal/...", "math/...", "syscall/js",
}

// buildWasm compiles a package for the browser, without paths and without symbols if flags say
// so (they are half a megabyte that no browser needs), and returns the wasm.
func buildWasm(pkg string, flags ...string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "pack")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "app.wasm")
	args := append([]string{"build", "-trimpath", "-buildvcs=false", "-o", out}, flags...)
	cmd := exec.Command("go", append(args, pkg)...)
	// The newer of the two collectors of garbage is for many cores, and the longer by 9 kB.
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOEXPERIMENT=nogreenteagc")
	cmd.Stdout, cmd.Stderr = os.Stderr, os.Stderr
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("building %s for the browser: %w", pkg, err)
	}
	return os.ReadFile(out)
}
