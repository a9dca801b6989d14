package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
)

func TestHashFiles_changes_with_every_input_and_with_nothing_else(t *testing.T) {
	root := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(root, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	hash := func(toolchain string, files ...string) string {
		t.Helper()
		h, err := hashFiles(root, toolchain, files)
		if err != nil {
			t.Fatal(err)
		}
		return h
	}
	write("a", "one")
	write("b", "two")
	first := hash("go1", "a", "b")
	if again := hash("go1", "a", "b"); again != first || len(first) != 16 {
		t.Errorf("the same inputs gave %s and %s", first, again)
	}
	seen := []string{first, hash("go2", "a", "b"), hash("go1", "a"), hash("go1", "b", "a")}
	write("a", "onet")
	write("b", "wo")
	seen = append(seen, hash("go1", "a", "b")) // the same bytes, cut elsewhere
	slices.Sort(seen)
	if len(slices.Compact(seen)) != 5 {
		t.Errorf("different inputs gave the same hash: %v", seen)
	}
	if _, err := hashFiles(root, "go1", []string{"none"}); err == nil {
		t.Error("a missing file went unnoticed")
	}
}

func TestInputs_hold_what_a_browser_receives_and_no_tests(t *testing.T) {
	files, err := inputs("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"go.mod", "go.sum", "cmd/wasm/main.go", "pwa/shell.go", "pwa/worker.js", "pwa/handler.go",
		"web/web.go", "web/static/boot.js", "web/static/icons/icon.svg",
	} {
		if !slices.Contains(files, filepath.FromSlash(want)) {
			t.Errorf("%s is not among the inputs", want)
		}
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") || strings.HasPrefix(name, filepath.FromSlash("web/dist/")) || strings.HasPrefix(name, "cmd/torchside") {
			t.Errorf("%s changes the version but not what a browser receives", name)
		}
	}
}

func TestCompress_round_trips_and_keeps_the_result(t *testing.T) {
	t.Chdir(t.TempDir())
	body := bytes.Repeat([]byte("the same again and "), 5000)
	p, err := compress(body)
	if err != nil {
		t.Fatal(err)
	}
	z, err := gzip.NewReader(bytes.NewReader(p.gzip))
	if err != nil {
		t.Fatal(err)
	}
	for name, r := range map[string]io.Reader{"brotli": brotli.NewReader(bytes.NewReader(p.brotli)), "gzip": z} {
		if got, err := io.ReadAll(r); err != nil || !bytes.Equal(got, body) {
			t.Errorf("%s: %v, %d bytes back of %d", name, err, len(got), len(body))
		}
	}
	kept, err := filepath.Glob(cacheDir + "/*")
	if err != nil || len(kept) != 2 {
		t.Fatalf("kept %v, %v", kept, err)
	}
	if err := os.WriteFile(kept[0], []byte("from the cache"), 0o644); err != nil {
		t.Fatal(err)
	}
	if again, err := compress(body); err != nil || string(again.brotli) != "from the cache" {
		t.Errorf("compressed again instead of taking the kept result: %v", err)
	}
}

func TestIsCurrent_only_for_a_whole_build_of_this_version(t *testing.T) {
	dir := t.TempDir()
	all := []output{{"app.wasm.br", nil}, {"app.wasm.gz", nil}, {"sizes", nil}, {"version", []byte("v1\n")}}
	for i := range all {
		if isCurrent(dir, "v1") {
			t.Errorf("current with only %d of %d files", i, len(all))
		}
		if err := writeAll(dir, all[i:i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if !isCurrent(dir, "v1") || isCurrent(dir, "v2") {
		t.Error("a whole build of v1 must be current for v1 alone")
	}
}

func TestRun_unknown_words_are_refused(t *testing.T) {
	for _, args := range [][]string{nil, {"squash"}, {"size"}, {"dist", "x"}} {
		if err := run(args); err == nil || !strings.Contains(err.Error(), "usage") {
			t.Errorf("%v: %v", args, err)
		}
	}
}

func goAppSource(t *testing.T) string {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", goAppModule).Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(string(out))
}

// The point of the copy: none of its files brings the server's packages along.
func TestCutFiles_leave_no_server_in_the_browser(t *testing.T) {
	files, err := cutFiles(goAppSource(t))
	if err != nil {
		t.Fatal(err)
	}
	for name, body := range files {
		for _, server := range []string{`"net/http"`, `"regexp"`, `"crypto/`, `"github.com/google/uuid"`} {
			if bytes.Contains(body, []byte(server)) {
				t.Errorf("%s imports %s", name, server)
			}
		}
	}
	if len(files) < 30 || files["go.mod"] == nil || files["pkg/app/engine.go"] == nil || files["pkg/errors/errors.go"] == nil {
		t.Errorf("only %d files were copied", len(files))
	}
}

func TestCutFiles_a_changed_go_app_stops_the_build(t *testing.T) {
	for _, name := range []string{"pkg/app/route.go", "pkg/app/resource.go", "pkg/app/state.go", "pkg/app/http.go"} {
		source := t.TempDir()
		if err := os.CopyFS(source, os.DirFS(goAppSource(t))); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(source, name)
		if err := os.Chmod(path, 0o644); err != nil {
			t.Fatal(err)
		}
		var err error
		if name == "pkg/app/http.go" {
			err = os.Remove(path)
		} else {
			err = os.WriteFile(path, []byte("package app\n"), 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, err := cutFiles(source); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s changed: %v", name, err)
		}
	}
}
