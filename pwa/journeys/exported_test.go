//go:build browser

package journeys

import (
	"net"
	"net/http"
	"os/exec"
	"path/filepath"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// fileHost is a plain server of files: it adds no header of ours and knows no route.
type fileHost struct {
	server *http.Server
	origin string
	base   string
}

// Origin is the app's address on the host.
func (h fileHost) Origin() string { return h.origin + h.base }

func newFileHost(t *testing.T, dir, base string) fileHost {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	h := fileHost{&http.Server{Handler: http.FileServer(http.Dir(dir))}, "http://" + l.Addr().String(), base}
	go func() { _ = h.server.Serve(l) }()
	t.Cleanup(func() { _ = h.server.Close() })
	return h
}

// The app as files on a host that is not ours, below a folder and at the root: somebody enters a rig, makes a card, is kept in step with
// a device that has the app from the vault's own server, and has everything when the host is gone.
func TestExportedSite(t *testing.T) {
	for name, base := range map[string]string{"below a folder": "/shop/torchside", "at the root": ""} {
		t.Run(name, func(t *testing.T) { exported(t, base) })
	}
}

func exported(t *testing.T, base string) {
	dir := t.TempDir()
	host := newFileHost(t, dir, base)
	server := browsertest.NewServer(t, "--allow-origin", host.origin)
	out, err := exec.Command(browsertest.Binary(t), "export-site", filepath.Join(dir, base), "--base", base, "--vault", server.Origin()).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	profile := browsertest.NewProfile(t, host)
	profile.Expect(server.Origin() + "/api/v1/") // the vault is elsewhere, and nothing else is
	page := profile.Open("/")
	accept(page)
	enterRig(page)
	if page.Path() != base+"/rig" {
		t.Errorf("the rig is at %s", page.Path())
	}
	ask(page, "1/8 in")
	page.Wants("setup-question", "1/8 in")
	before := cardText(page)
	page.LinksWithin(places())
	page.Shot("exported-card")
	joinByThumb(page, server.Code())
	second := sharesRig(t, server)
	defer second.Close()
	page.Cached()
	page.Close()

	_ = host.server.Close()
	profile.Expect("ERR_CONNECTION_REFUSED")
	for _, path := range []string{"/", "/rig", "/rig?x=1", "/bench/tables", "/bench/cuts", "/journal?source=home"} {
		profile.Visit(path, func(p *browsertest.Page) {
			p.Reload()
			if p.Path() != base+path {
				t.Errorf("%s became %s", path, p.Path())
			}
			p.LacksText("No such page")
		})
	}
	profile.Visit("/rig/", func(p *browsertest.Page) { p.WantsText("Old faithful") }) // as the host sent it on the first time
	sameCard(t, profile.Open("/?source=home"), before)
	aside := profile.Blank()
	for _, path := range []string{"/emergency", "/emergency/"} {
		aside.GoRaw(path)
		if got := browsertest.Eval[string](aside, `document.querySelector("h1").textContent`); got != "Emergency" {
			t.Errorf("%s opened as %q", path, got)
		}
	}
}

// sharesRig joins a device that has the app from the vault's server and waits for the rig on it.
func sharesRig(t *testing.T, server *browsertest.Server) *browsertest.Page {
	t.Helper()
	page := browsertest.NewProfile(t, server).Open("/")
	accept(page)
	joinByThumb(page, server.Code())
	goTo(page, "rig")
	page.WantsText("Old faithful")
	return page
}

// A host that the server was not told of gets nothing, whatever its files say.
func TestExportedSite_unknownToTheVault(t *testing.T) {
	dir := t.TempDir()
	host := newFileHost(t, dir, "")
	server := browsertest.NewServer(t, "--allow-origin", "https://pages.example")
	if out, err := exec.Command(browsertest.Binary(t), "export-site", filepath.Join(dir, "."), "--vault", server.Origin()).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	profile := browsertest.NewProfile(t, host)
	for _, words := range []string{server.Origin() + "/api/v1/pair", "ERR_FAILED", "blocked by CORS policy"} {
		profile.Expect(words)
	}
	page := profile.Open("/")
	accept(page)
	goTo(page, "bench")
	page.Tap("to-devices")
	page.Type("join-code", server.Code())
	page.Type("join-name", "Stranger")
	page.Tap("join")
	page.Wants("join-error")
	page.Shot("exported-unknown")
}
