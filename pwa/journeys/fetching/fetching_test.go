//go:build browser && !js

package fetching

import (
	"crypto/rand"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"torchside/pwa/journeys/chrome"
	"torchside/storage/server"
	"torchside/storage/vault/memvault"
	"torchside/storage/wire"
)

const page = `<!doctype html><title>waiting</title><script src="/wasm_exec.js"></script><script src="/start.js"></script>`

const startJS = `const go = new Go();
WebAssembly.instantiateStreaming(fetch("/peer.wasm"), go.importObject).then((r) => go.run(r.instance));`

// build compiles the page's program and finds the toolchain's loader for it.
func build(t *testing.T) (wasm, loader string) {
	t.Helper()
	wasm = filepath.Join(t.TempDir(), "peer.wasm")
	cmd := exec.Command("go", "build", "-o", wasm, "./testdata/peer")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	return wasm, filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")
}

// site is the page beside the protocol, and what may stand between a page and a server.
func site(t *testing.T, api http.Handler) http.Handler {
	t.Helper()
	wasm, loader := build(t)
	mux := http.NewServeMux()
	mux.Handle("/api/", api)
	mux.HandleFunc("/{$}", func(w http.ResponseWriter, _ *http.Request) { _, _ = io.WriteString(w, page) })
	mux.HandleFunc("/start.js", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/javascript")
		_, _ = io.WriteString(w, startJS)
	})
	mux.HandleFunc("/peer.wasm", func(w http.ResponseWriter, r *http.Request) { http.ServeFile(w, r, wasm) })
	mux.HandleFunc("/wasm_exec.js", func(w http.ResponseWriter, r *http.Request) { http.ServeFile(w, r, loader) })
	mux.HandleFunc("/silent/", func(_ http.ResponseWriter, r *http.Request) { <-r.Context().Done() })
	mux.HandleFunc("/portal/", func(w http.ResponseWriter, _ *http.Request) {
		_, _ = io.WriteString(w, "<p>Please log in to this network.")
	})
	mux.HandleFunc("/redirect/", func(w http.ResponseWriter, r *http.Request) {
		http.Redirect(w, r, wire.Prefix+wire.PathDevices, http.StatusTemporaryRedirect)
	})
	mux.HandleFunc("/broken/", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Content-Length", "1000")
		_, _ = io.WriteString(w, "{")
	})
	return mux
}

// The client in a browser does all that the one outside does, against a real server.
func TestRemote_through_the_browsers_fetch(t *testing.T) {
	path, err := chrome.Find()
	if err != nil {
		t.Fatal(err)
	}
	disk, err := memvault.NewDisk(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	v := disk.Open()
	srv := httptest.NewServer(site(t, server.New(server.Config{Vault: v, Log: slog.New(slog.DiscardHandler)})))
	defer srv.Close()
	shop, err := v.CreateShop(t.Context(), "Shop", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	code, _, err := server.IssueCode(t.Context(), v, shop.ID, "", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	ctx, end := chromedp.NewExecAllocator(t.Context(), append(chrome.Options(path, t.TempDir()), chromedp.Flag("disable-dev-shm-usage", true))...)
	defer end()
	ctx, end = chromedp.NewContext(ctx)
	defer end()
	if err := chromedp.Do(ctx, chromedp.Navigate(server.JoinLink(srv.URL, code))); err != nil {
		t.Fatal(err)
	}
	title, err := chromedp.Run(ctx, chromedp.Poll[string](`document.title !== "waiting" && document.title`, chromedp.WithPollingTimeout(2*time.Minute)))
	if err != nil || title != "all well" {
		t.Errorf("%s, %v", title, err)
	}
}
