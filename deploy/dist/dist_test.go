package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
)

// The folder in which the sources lie must not show in the program: else nobody could build it again and compare.
func TestCompile_givesTheSameBytesFromAnotherFolder(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	here, there := t.TempDir(), filepath.Join(t.TempDir(), "a longer name", "of a folder")
	copySources(t, root, there)
	arm := target{"linux", "arm", "GOARM=7"} // the one that is most easily built for the wrong level
	var bodies [2][]byte
	for i, source := range []string{root, there} {
		file := filepath.Join(here, "torchside")
		if err := (order{source: source, version: "v1", build: "abc"}).compile(arm, file); err != nil {
			t.Fatal(err)
		}
		if bodies[i], err = os.ReadFile(file); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(bodies[0], bodies[1]) {
		t.Errorf("two builds of %d and %d bytes are not the same", len(bodies[0]), len(bodies[1]))
	}
	if bytes.Contains(bodies[0], []byte(root)) {
		t.Errorf("the program tells that its sources were in %s", root)
	}
	if !bytes.Contains(bodies[0], []byte("v1")) || !bytes.HasPrefix(bodies[0], []byte("\x7fELF\x01")) {
		t.Error("not a 32-bit program with its version inside")
	}
}

// copySources copies the files the Go compiler reads, and those it embeds, as they are now.
func copySources(t *testing.T, from, to string) {
	t.Helper()
	for _, dir := range []string{"calc", "cmd", "pwa", "storage", "web"} {
		if err := os.CopyFS(filepath.Join(to, dir), os.DirFS(filepath.Join(from, dir))); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"go.mod", "go.sum"} {
		body, err := os.ReadFile(filepath.Join(from, name))
		if err == nil {
			err = os.WriteFile(filepath.Join(to, name), body, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

// made builds for this machine and returns what the papers are written from. It changes to the module's root, where dist runs.
func made(t *testing.T) (order, []part, []program) {
	t.Helper()
	t.Chdir("../..")
	o := order{dir: t.TempDir(), version: "v1.2", build: "abc", targets: []target{{runtime.GOOS, runtime.GOARCH, "GOAMD64=v1"}}}
	programs, err := o.programs()
	if err != nil {
		t.Fatal(err)
	}
	parts, err := allParts(o.dir, programs)
	if err != nil {
		t.Fatal(err)
	}
	return o, parts, programs
}

// What the toolchain says is in the program, and only that and what the app has, is on the list; the list has the form of SPDX 2.3.
func TestPapers_nameWhatIsInside(t *testing.T) {
	o, parts, programs := made(t)
	body, err := spdx(o, parts, programs)
	if err != nil {
		t.Fatal(err)
	}
	if again, _ := spdx(o, parts, programs); !bytes.Equal(body, again) {
		t.Error("the list is not the same each time")
	}
	var d document
	if err := json.Unmarshal(body, &d); err != nil {
		t.Fatal(err)
	}
	checkIDs(t, d)
	out, err := exec.Command("go", "version", "-m", filepath.Join(o.dir, programs[0].name)).Output()
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]bool{}
	for line := range strings.Lines(string(out)) {
		if f := strings.Fields(line); len(f) >= 3 && f[0] == "dep" {
			told["pkg:golang/"+f[1]+"@"+f[2]] = true
		}
	}
	listed := map[string]bool{}
	for _, p := range d.Packages {
		for _, r := range p.Refs {
			listed[r.Locator] = true
		}
	}
	for name := range told {
		if !listed[name] {
			t.Errorf("%s is in the program and not on the list", name)
		}
	}
	if len(told) < 5 || !listed["pkg:golang/std@"+strings.TrimPrefix(runtime.Version(), "go")] {
		t.Errorf("only %d modules, or no Go: %v", len(told), listed)
	}
	licences, err := licenceText(parts)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Copyright (c) 2016 Maxence Charriere", "Copyright (c) 2013 Ben Johnson", "Copyright 2009 The Go Authors", "rsc.io/qr"} {
		if !bytes.Contains(licences, []byte(want)) {
			t.Errorf("the licences do not have %q", want)
		}
	}
}

// checkIDs: SPDX 2.3, 7.2 and 11: identifiers are SPDXRef- with letters, digits, points and dashes, each once; relationships lead to one.
func checkIDs(t *testing.T, d document) {
	t.Helper()
	form := regexp.MustCompile(`^SPDXRef-[A-Za-z0-9.-]+$`)
	ids := map[string]bool{d.ID: true}
	note := func(id string) {
		if ids[id] || !form.MatchString(id) {
			t.Errorf("identifier %q is there twice or malformed", id)
		}
		ids[id] = true
	}
	for _, p := range d.Packages {
		note(p.ID)
	}
	for _, f := range d.Files {
		note(f.ID)
	}
	for _, r := range d.Relationships {
		if !ids[r.From] || !ids[r.To] {
			t.Errorf("%s %s %s: no such thing", r.From, r.Type, r.To)
		}
	}
}

func TestLicenceOf_anUnknownOneIsNotGuessed(t *testing.T) {
	for _, text := range []string{"", "All rights reserved.", "Permission is hereby granted, free of charge, to any person obtaining a copy of this software, but"} {
		if id := licenceOf(text); id != "" {
			t.Errorf("%q was taken for %s", text, id)
		}
	}
	if _, err := licenceID(part{path: "example.org/x", dir: t.TempDir()}); err == nil {
		t.Error("a part without a licence went in")
	}
}

func TestChosenTargets(t *testing.T) {
	if list, err := chosenTargets("linux/arm, darwin/arm64"); err != nil || len(list) != 2 || list[0].label() != "linux-armv7" {
		t.Errorf("got %v, %v", list, err)
	}
	if list, err := chosenTargets(""); err != nil || len(list) != 6 {
		t.Errorf("all: got %v, %v", list, err)
	}
	if _, err := chosenTargets("plan9/amd64"); err == nil {
		t.Error("a platform that is not built for was accepted")
	}
}
