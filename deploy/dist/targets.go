package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// target is one kind of machine.
type target struct {
	os, arch string
	env      string // the processor's level, fixed so that the environment of who builds does not decide it
}

// targets are the machines of small shops: a PC or server, a Raspberry Pi (64 and 32 bit), a NAS, a Mac.
var targets = []target{
	{"linux", "amd64", "GOAMD64=v1"},
	{"linux", "arm64", "GOARM64=v8.0"},
	{"linux", "arm", "GOARM=7"},
	{"darwin", "amd64", "GOAMD64=v1"},
	{"darwin", "arm64", "GOARM64=v8.0"},
	{"windows", "amd64", "GOAMD64=v1"},
}

// label is the target as file names write it: 32-bit ARM with its version, which not every such machine has.
func (t target) label() string {
	if t.arch == "arm" {
		return t.os + "-armv7"
	}
	return t.os + "-" + t.arch
}

// chosenTargets reads a comma list; empty means all.
func chosenTargets(list string) ([]target, error) {
	if list == "" {
		return targets, nil
	}
	var chosen []target
	var known []string
	for _, t := range targets {
		known = append(known, t.os+"/"+t.arch)
	}
	for name := range strings.SplitSeq(list, ",") {
		at := slices.Index(known, strings.TrimSpace(name))
		if at < 0 {
			return nil, fmt.Errorf("%q is not one of %s", name, strings.Join(known, ", "))
		}
		chosen = append(chosen, targets[at])
	}
	return chosen, nil
}

// program is one built program.
type program struct {
	target target
	name   string // its file in the folder
}

// programs builds all of them.
func (o order) programs() ([]program, error) {
	var built []program
	for _, t := range o.targets {
		p := program{t, "torchside-" + o.version + "-" + t.label()}
		if t.os == "windows" {
			p.name += ".exe"
		}
		if err := o.compile(t, filepath.Join(o.dir, p.name)); err != nil {
			return nil, fmt.Errorf("building for %s: %w", t.label(), err)
		}
		fmt.Println("built", p.name)
		built = append(built, p)
	}
	return built, nil
}

// compile builds the program for one target. Nothing of this machine goes in: no C library, no paths, no flags of the environment.
func (o order) compile(t target, file string) error {
	cmd := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-o", file,
		"-ldflags", "-s -w -buildid= -X torchside/pwa.Version="+o.build+" -X main.release="+o.version, "./cmd/torchside")
	cmd.Dir = o.source
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0", "GOFLAGS=", "GOEXPERIMENT=", "GOOS="+t.os, "GOARCH="+t.arch, t.env)
	cmd.Stdout, cmd.Stderr = os.Stderr, os.Stderr
	return cmd.Run()
}

// gitVersion is the name git has for the sources, or the given one where there is no git.
func gitVersion(otherwise string) string {
	out, err := exec.Command("git", "describe", "--tags", "--always", "--dirty").Output()
	if name := strings.TrimSpace(string(out)); err == nil && name != "" {
		return strings.ReplaceAll(name, "/", "-")
	}
	return otherwise
}
