package main

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"torchside/pwa"
)

// Every address the app asks for is a file that a plain server of files answers, below the folder that was asked for.
func TestExportSite_isWholeOnAServerOfFiles(t *testing.T) {
	host := t.TempDir()
	base := "/shop/torchside"
	args := []string{"export-site", filepath.Join(host, base), "--base", base + "/", "--vault", "https://vault.example"}
	if code := runIn(t, args...); code != exitOK {
		t.Fatalf("exit code %d", code)
	}
	files := httptest.NewServer(http.FileServer(http.Dir(host)))
	defer files.Close()
	worker, err := os.ReadFile(filepath.Join(host, base, "app-worker.js"))
	if err != nil {
		t.Fatal(err)
	}
	addresses := regexp.MustCompile(`"(/shop/[^"]*)"`).FindAllStringSubmatch(string(worker), -1)
	if len(addresses) < 20 {
		t.Fatalf("the worker keeps only %d files", len(addresses))
	}
	var all []string
	for _, m := range addresses {
		all = append(all, m[1])
	}
	for _, r := range pwa.Routes {
		all = append(all, base+r.Path)
	}
	for _, address := range all {
		answer, err := http.Get(files.URL + address)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		if answer.StatusCode != http.StatusOK {
			t.Errorf("%s: %s", address, answer.Status)
		}
	}
	if wasm, err := os.ReadFile(filepath.Join(host, base, "web/app.wasm")); err != nil || string(wasm) != wasmText {
		t.Errorf("the program is %q, %v", wasm, err)
	}
}

func runIn(t *testing.T, args ...string) int {
	t.Helper()
	var said, complaint strings.Builder
	p := program{env: func(string) (string, bool) { return "", false }, stdout: &said, stderr: &complaint, files: builtFiles()}
	code := p.run(t.Context(), args)
	t.Logf("%s%s", said.String(), complaint.String())
	return code
}

func TestExportSite_leavesFoldersInUseAlone(t *testing.T) {
	dir := t.TempDir()
	kept := filepath.Join(dir, "index.html")
	if err := os.WriteFile(kept, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if code := runIn(t, "export-site", dir); code != exitFailed {
		t.Errorf("exit code %d", code)
	}
	if body, _ := os.ReadFile(kept); string(body) != "mine" {
		t.Errorf("the file that was there is now %q", body)
	}
}

func TestExportSite_refusesWhatCannotWork(t *testing.T) {
	for _, args := range [][]string{
		{"export-site"}, {"export-site", "a", "b"}, {"export-site", "a", "--base", "shop"}, {"export-site", "a", "--base", "/../x"},
		{"export-site", "a", "--base", `/"><script>`}, {"export-site", "a", "--vault", "http://vault.example"},
		{"export-site", "a", "--vault", "https://vault.example/path"}, {"export-site", "a", "--vault", "*"},
		{"serve", "--allow-origin", "*"}, {"serve", "--allow-origin", "https://a.example,null"}, {"serve", "--allow-origin", "https://a.example/"},
	} {
		if code := runIn(t, args...); code != exitUsage {
			t.Errorf("%q: exit code %d", args, code)
		}
	}
}
