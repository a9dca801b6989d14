package main

import (
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// block is one block of commands in a text for people.
type block struct {
	file string
	line int
	mark string // behind "sh": "", "needs-app", or "cannot-run: " and why
	text string
}

// blocks reads the fenced blocks of a text. Those without a language are refused: nobody could tell whether they are commands.
func blocks(t *testing.T, file string) []block {
	t.Helper()
	body, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var list []block
	var open *block
	for i, line := range strings.Split(string(body), "\n") {
		switch {
		case !strings.HasPrefix(line, "```") && open != nil:
			open.text += line + "\n"
		case strings.HasPrefix(line, "```") && open == nil:
			language, mark, _ := strings.Cut(strings.TrimPrefix(line, "```"), " ")
			if language == "" {
				t.Errorf("%s:%d: a block without a language; commands are \"sh\", anything else is \"text\"", file, i+1)
			}
			open = &block{file, i + 1, mark, ""}
			if language != "sh" {
				open.mark = "text"
			}
		case open != nil:
			if open.mark != "text" {
				list = append(list, *open)
			}
			open = nil
		}
	}
	return list
}

// documents are all texts with commands for an owner.
func documents(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../../docs/*.md")
	if err != nil || len(files) < 5 {
		t.Fatalf("the texts are %v, %v", files, err)
	}
	decisions, err := filepath.Glob("../../docs/decisions/*.md")
	if err != nil || len(decisions) < 6 {
		t.Fatalf("the decisions are %v, %v", decisions, err)
	}
	return append(append(files, decisions...), "../../README.md", "../../DEVELOPERS.md", "../../CHANGELOG.md")
}

// Every command a text tells an owner to run is run, each block in an empty folder of its own; what cannot run here says why, and its
// command lines are still understood by this program.
func TestDocs_everyCommandRuns(t *testing.T) {
	ran := 0
	for _, file := range documents(t) {
		for _, b := range blocks(t, file) {
			why, cannot := strings.CutPrefix(b.mark, "cannot-run:")
			switch {
			case cannot && len(strings.TrimSpace(why)) < 10:
				t.Errorf("%s:%d: say why it cannot run", b.file, b.line)
			case cannot:
			case b.mark == "" || b.mark == "needs-app":
				b.runs(t)
				ran++
			default:
				t.Errorf("%s:%d: %q is no mark", b.file, b.line, b.mark)
			}
			b.parses(t)
		}
	}
	if ran < 8 {
		t.Errorf("only %d blocks ran", ran)
	}
}

// runs plays the block with a shell in which "torchside" is this very program with the app inside.
func (b block) runs(t *testing.T) {
	t.Helper()
	dir, tools := t.TempDir(), t.TempDir()
	own, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	built := filepath.Join(tools, "torchside-built")
	if err := os.Symlink(own, built); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"torchside", "bin/torchside"} {
		at := filepath.Join(map[bool]string{true: tools, false: dir}[name == "torchside"], name)
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte("#!/bin/sh\nexec "+built+" \"$@\"\n"), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "sh", "-eu", "-c", b.text)
	cmd.Dir = dir
	cmd.Env = []string{"PATH=" + tools + ":" + os.Getenv("PATH"), "HOME=" + dir, "XDG_DATA_HOME=" + filepath.Join(dir, "share")}
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Errorf("%s:%d: %v\n%s%s", b.file, b.line, err, b.text, out)
	}
}

// ourCommand is a call of the program at the beginning of a line or behind a pipe.
var ourCommand = regexp.MustCompile(`(?m)(?:^|\| *|sudo +)(?:bin/)?torchside +([^#\n]*)`)

// parses holds each call of the program against its commands and, for serve, the flags.
func (b block) parses(t *testing.T) {
	t.Helper()
	known := map[string]bool{}
	for _, c := range commands() {
		known[c.name] = true
	}
	for _, m := range ourCommand.FindAllStringSubmatch(b.text, -1) {
		words := strings.Fields(m[1])
		if len(words) == 0 || !known[words[0]] {
			t.Errorf("%s:%d: there is no command %q", b.file, b.line, m[0])
			continue
		}
		if words[0] != "serve" {
			continue
		}
		if _, err := parseOptions(words[1:], func(string) (string, bool) { return os.TempDir(), false }, io.Discard); err != nil && !strings.Contains(err.Error(), "home folder") {
			t.Errorf("%s:%d: %q: %v", b.file, b.line, m[0], err)
		}
	}
}

// A link between the texts leads to a file that is there.
func TestDocs_linksLeadSomewhere(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)#:]+)\)`)
	for _, file := range documents(t) {
		body, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range link.FindAllStringSubmatch(string(body), -1) {
			if _, err := os.Stat(filepath.Join(filepath.Dir(file), m[1])); err != nil {
				t.Errorf("%s leads to %s, which is not there", file, m[1])
			}
		}
	}
}
