//go:build !js

package pwa

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
)

// Below a folder nothing may ask the host's root: there is another site.
func TestBuild_belowAFolderEverythingStaysInIt(t *testing.T) {
	registerOnce()
	const base = "/shop/torchside"
	files, err := Build(Config{Version: "abc", WasmLength: 1, Base: base, Vault: "https://vault.example:8443", PolicyInPage: true,
		Static: []string{"/web/torchside.css", "/web/page.js", "/web/orders.json"}, Orders: ordersText(t)})
	if err != nil {
		t.Fatal(err)
	}
	link := regexp.MustCompile(`\b(?:href|src)="(/[^"]*)"`)
	for address, body := range files {
		if strings.Contains(address, ".") {
			continue
		}
		found := link.FindAllSubmatch(body, -1)
		if len(found) < 3 {
			t.Errorf("%s has %d links: is it a page?", address, len(found))
		}
		for _, m := range found {
			if !strings.HasPrefix(string(m[1]), base+"/") || strings.Count(string(m[1]), base) != 1 {
				t.Errorf("%s leads to %s", address, m[1])
			}
		}
		if !bytes.Contains(body, []byte("connect-src &#39;self&#39; https://vault.example:8443;")) || bytes.Contains(body, []byte("frame-ancestors")) {
			t.Errorf("%s does not bind itself to our files and the vault", address)
		}
	}
	for _, address := range precached(t, string(files["/app-worker.js"])) {
		if !strings.HasPrefix(address, base+"/") {
			t.Errorf("the worker keeps %s", address)
		}
	}
	for _, want := range []string{`"start_url": "` + base + `/"`, `"scope": "` + base + `/"`, `"src": "` + base + `/web/icons/`} {
		if !bytes.Contains(files["/manifest.webmanifest"], []byte(want)) {
			t.Errorf("the manifest lacks %s", want)
		}
	}
	for _, want := range []string{base + "/app-worker.js", base + "/web/app.wasm", `"GOAPP_ROOT_PREFIX":"` + base + `/"`, `"TORCHSIDE_VAULT":"https://vault.example:8443"`} {
		if !bytes.Contains(files["/app.js"], []byte(want)) {
			t.Errorf("app.js lacks %s", want)
		}
	}
}
