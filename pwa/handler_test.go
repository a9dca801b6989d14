//go:build !js

package pwa

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
)

var registerOnce = sync.OnceFunc(Register)

var static = []string{"/web/boot.js", "/web/boot.css", iconSmall, iconLarge, iconDrawn, iconMaskable}

func build(t *testing.T) map[string]string {
	t.Helper()
	registerOnce()
	files, err := Build(Config{Version: "abc123", WasmLength: 6911384, Static: static, Orders: ordersText(t)})
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for address, body := range files {
		texts[address] = string(body)
	}
	return texts
}

// ordersText is the text of the orders of work that the app ships.
func ordersText(t *testing.T) []byte {
	t.Helper()
	text, err := os.ReadFile("../web/static/orders.json")
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// precached reads the list that the worker stores as a whole: one address that does not answer
// and nothing opens offline.
func precached(t *testing.T, worker string) []string {
	t.Helper()
	m := regexp.MustCompile(`(?m)^const precached = (.*);$`).FindStringSubmatch(worker)
	if m == nil {
		t.Fatal("the worker has no list of addresses")
	}
	var list []string
	if err := json.Unmarshal([]byte(m[1]), &list); err != nil {
		t.Fatal(err)
	}
	return list
}

func TestBuild_worker_stores_every_file_the_app_needs_and_nothing_remote(t *testing.T) {
	files := build(t)
	list := precached(t, files["/app-worker.js"])
	want := append([]string{"/", "/app.js", "/app.css", "/wasm_exec.js", "/web/app.wasm", "/manifest.webmanifest", "/emergency", "/abilities", "/words.js"}, static...)
	for _, address := range want {
		if !slices.Contains(list, address) {
			t.Errorf("%s is not kept for offline use", address)
		}
	}
	for _, address := range list {
		if !slices.Contains(want, address) {
			t.Errorf("%s is kept but nothing serves it", address)
		}
	}
	pages := 0
	for address, text := range files {
		if _, isRoute := routeOf(address); isRoute || !strings.HasPrefix(strings.ToLower(strings.TrimSpace(text)), "<!doctype html") {
			continue // the worker answers for a route with the program's own page
		}
		if pages++; !slices.Contains(list, address) {
			t.Errorf("the page %s beside the program is not kept for offline use", address)
		}
	}
	if pages < 2 {
		t.Errorf("%d pages beside the program", pages)
	}
}

func TestBuild_worker_is_ours_and_has_no_gaps(t *testing.T) {
	worker := build(t)["/app-worker.js"]
	for _, text := range []string{`"torchside-"`, `"abc123"`, `"activate-now"`, "event.waitUntil(storeAll())", `"/api/"`} {
		if !strings.Contains(worker, text) {
			t.Errorf("the worker lacks %s", text)
		}
	}
	if strings.Contains(worker, "{{") {
		t.Error("the worker still has a placeholder")
	}
	// Once in the answer to "activate-now", never of itself.
	if n := strings.Count(worker, "skipWaiting"); n != 1 {
		t.Errorf("skipWaiting occurs %d times, want once", n)
	}
}

func TestBuild_app_script_starts_on_every_browser_and_tells_when_the_program_ends(t *testing.T) {
	script := build(t)["/app.js"]
	for _, text := range []string{"bot|", "crawler", "userAgent)\n  ) {", `urlParams.get("wasm")`, "goappSetupNotifyUpdate(registration);"} {
		if strings.Contains(script, text) {
			t.Errorf("/app.js still holds %q", text)
		}
	}
	for _, text := range []string{
		"go.run(wasm.instance).then(stopped, stopped);",
		"await window.torchsideWordsReady;",
		"window.torchsideWordsReady = language",
		"torchsideUnfold(wasm);",
		"function torchsideUnfold(wasm) {",
		`goappWasmContentLength = "6911384"`,
		`"GOAPP_VERSION":"abc123"`,
		`register(` + "\n        \"/app-worker.js\"",
		`fetchWithProgress("/web/app.wasm"`,
	} {
		if !strings.Contains(script, text) {
			t.Errorf("/app.js lacks %q", text)
		}
	}
}

func TestPatchAppJS_fails_loudly_when_the_text_is_gone_or_doubled(t *testing.T) {
	var all strings.Builder
	for _, p := range appJSPatches {
		all.WriteString(p.old)
	}
	if _, err := patchAppJS([]byte(all.String())); err != nil {
		t.Fatalf("the text as expected: %v", err)
	}
	for _, p := range appJSPatches {
		gone := strings.Replace(all.String(), p.old, "", 1)
		if _, err := patchAppJS([]byte(gone)); err == nil {
			t.Errorf("gone and not noticed: %s", p.why)
		}
		if _, err := patchAppJS([]byte(all.String() + p.old)); err == nil {
			t.Errorf("twice and not noticed: %s", p.why)
		}
	}
}

// The name stands there at once; controls would be dead until the program runs. Only the way to the emergency page, which the browser
// follows by itself, is there.
func TestBuild_pages_show_the_name_and_no_controls(t *testing.T) {
	files := build(t)
	for _, r := range Routes {
		page := files[r.Path]
		if !strings.Contains(page, "Torchside") {
			t.Errorf("%s does not say the name", r.Path)
		}
		for _, control := range []string{"<button", "<input", "<select", "<textarea", "<form", "<a "} {
			if n := strings.Count(page, control); n > 0 && !(control == "<a " && n == 1) {
				t.Errorf("%s has a dead %s", r.Path, control)
			}
		}
	}
}

func TestBuild_pages_have_no_inline_script_or_style(t *testing.T) {
	files := build(t)
	inlineScript := regexp.MustCompile(`<script[^>]*>[^<]`)
	inlineStyle := regexp.MustCompile(`<style|\sstyle="|\son[a-z]+="`)
	for _, r := range Routes {
		if m := inlineScript.FindString(files[r.Path]) + inlineStyle.FindString(files[r.Path]); m != "" {
			t.Errorf("%s: the content security policy would refuse %q", r.Path, m)
		}
	}
}

func TestBuild_names_no_other_host(t *testing.T) {
	remote := regexp.MustCompile(`(https?:)?//[A-Za-z0-9.-]+\.[a-z]{2,}[^\s"']*|https?://[^\s"']*`)
	comment := regexp.MustCompile(`(?m)^\s*//.*$`)
	for address, text := range build(t) {
		for _, m := range remote.FindAllString(comment.ReplaceAllString(text, ""), -1) {
			if m != "http://www.w3.org/2000/svg" { // a namespace, never fetched
				t.Errorf("%s names %s", address, m)
			}
		}
	}
}

func TestBuild_robots_is_our_own(t *testing.T) {
	if got := build(t)["/robots.txt"]; !strings.HasPrefix(got, "User-agent: *\n") {
		t.Errorf("robots.txt is %q", got)
	}
}

func TestManifest_has_local_icons_and_the_shortcuts(t *testing.T) {
	var m webManifest
	if err := json.Unmarshal([]byte(build(t)["/manifest.webmanifest"]), &m); err != nil {
		t.Fatal(err)
	}
	shortcuts := map[string]string{}
	for _, s := range m.Shortcuts {
		shortcuts[s.Name] = s.URL
	}
	if shortcuts["Setup"] != "/" || shortcuts["Leak test"] != "/leak" || len(shortcuts) != 2 {
		t.Errorf("shortcuts are %v", shortcuts)
	}
	purposes := map[string]bool{}
	for _, icon := range m.Icons {
		purposes[icon.Purpose+" "+icon.Sizes] = true
		if !slices.Contains(static, icon.Src) {
			t.Errorf("icon %s is not one of our files", icon.Src)
		}
	}
	for _, want := range []string{" 192x192", " 512x512", "maskable 512x512", " any"} {
		if !purposes[want] {
			t.Errorf("no icon%s", want)
		}
	}
	if m.Name != "Torchside" || m.StartURL != "/" || m.Scope != "/" || m.Display != "standalone" {
		t.Errorf("manifest is %+v", m)
	}
}

func TestWithSecurityHeaders_binds_the_page_to_our_own_files(t *testing.T) {
	w := httptest.NewRecorder()
	WithSecurityHeaders(http.NotFoundHandler()).ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/", nil))
	policy := w.Header().Get("Content-Security-Policy")
	for _, part := range []string{"default-src 'self'", "script-src 'self' 'wasm-unsafe-eval'", "style-src 'self'", "object-src 'none'", "base-uri 'none'", "frame-ancestors 'none'"} {
		if !strings.Contains(policy+";", part+";") {
			t.Errorf("the policy lacks %q", part)
		}
	}
	if strings.Contains(policy, "unsafe-inline") || strings.Contains(policy, "'unsafe-eval'") {
		t.Errorf("the policy allows inline code: %s", policy)
	}
	if w.Header().Get("X-Content-Type-Options") != "nosniff" || w.Header().Get("Referrer-Policy") == "" {
		t.Error("nosniff or the referrer policy is missing")
	}
	for _, name := range []string{"Cross-Origin-Opener-Policy", "Cross-Origin-Resource-Policy"} {
		if got := w.Header().Get(name); got != "same-origin" {
			t.Errorf("%s is %q", name, got)
		}
	}
	if w.Header().Get("Cross-Origin-Embedder-Policy") != "" {
		t.Error("an embedder policy is not needed, and older phones fail under it")
	}
	if w.Header().Get("Strict-Transport-Security") != "" {
		t.Error("strict transport security would lock out a shop whose authority is not trusted yet")
	}
}
