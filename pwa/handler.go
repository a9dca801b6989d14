//go:build !js

package pwa

import (
	"bytes"
	_ "embed" // worker.js
	"fmt"
	"net/http"
	"net/url"
	"path"
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/pages"
	"torchside/pwa/site"
)

// The ground of every screen and of the icons: warm near-black.
const groundColor = "#17120f"

//go:embed worker.js
var workerTemplate string

// wordsScript reads the words of the language; it stands before go-app's script, and alone in the pages beside the program.
//
//go:embed words.js
var wordsScript []byte

// Config says what the app's pages are built around.
type Config struct {
	// Version is the build's version; a browser that holds another one offers the new one.
	Version string
	// Release is the name people have for the version, shown under About; may be empty.
	Release string
	// Base is the folder the app lies in on its host, as "/shop/torchside"; "" at the root, as on the shop's own server.
	Base string
	// Vault is the origin of the server with the vault, where that is not the page's own; see site.Vault.
	Vault string
	// WasmLength is the uncompressed size of the wasm in bytes (for the progress label).
	WasmLength int
	// PolicyInPage has pages carry their security policy themselves, for hosts that send no header of ours.
	PolicyInPage bool
	// Static are the addresses of all hand-written files; each is kept for offline use.
	Static []string
	// Orders is the text of the orders of work; see calc/order.
	Orders []byte
}

// Build renders every page and go-app's own files once and returns them by address. They are the
// same for every visitor, so nothing has to be rendered, and no visitor's request runs our
// components. It fails if go-app's files are not as expected: better no start than a dead page.
func Build(c Config) (map[string][]byte, error) {
	handler := newHandler(c)
	files := map[string][]byte{"/robots.txt": []byte(robots)}
	for _, address := range []string{"/app.js", "/app-worker.js", "/app.css", "/wasm_exec.js"} {
		body, err := render(handler, address)
		if err != nil {
			return nil, err
		}
		files[address] = body
	}
	for _, r := range Routes {
		body, err := render(handler, r.Path)
		if err != nil {
			return nil, err
		}
		files[r.Path] = c.placed(withoutSocialTags(body))
	}
	script, err := patchAppJS(files["/app.js"])
	if err != nil {
		return nil, err
	}
	files[wordsPath] = wordsScript
	files["/app.js"] = append(slices.Clone(wordsScript), script...)
	emergency, err := emergencyPage(c.Orders)
	if err != nil {
		return nil, err
	}
	files[emergencyPath], files[abilitiesPath] = c.placed(emergency), c.placed(abilitiesPage)
	files["/manifest.webmanifest"], err = manifest(folder(c.Base))
	return files, err
}

// robots is answered by ourselves: go-app would fetch it from whatever the Host header names.
const robots = "User-agent: *\nDisallow: /api/\n"

// newHandler sets every field whose default is remote, random or wrong.
func newHandler(c Config) *app.Handler {
	h := &app.Handler{
		Name:                  appName,
		ShortName:             appName,
		Title:                 appName,
		Description:           appDescription,
		BackgroundColor:       groundColor,
		ThemeColor:            groundColor,
		LoadingLabel:          appName + " {progress} %",
		Version:               c.Version,
		Env:                   map[string]string{pages.ReleaseName: c.Release, site.VaultName: c.Vault},
		WasmContentLength:     strconv.Itoa(c.WasmLength),
		Resources:             folder(c.Base),
		ServiceWorkerTemplate: workerTemplate,
		Icon: app.Icon{
			Default: iconSmall, Large: iconLarge, SVG: iconDrawn, Maskable: iconMaskable,
		},
	}
	for _, address := range c.Static {
		switch path.Ext(address) {
		case ".css":
			h.Styles = append(h.Styles, address)
		case ".js":
			h.Scripts = append(h.Scripts, address+" defer")
		default:
			h.CacheableResources = append(h.CacheableResources, address)
		}
	}
	h.CacheableResources = append(h.CacheableResources, emergencyPath, abilitiesPath, wordsPath)
	return h
}

// folder is where on its host the app lies, without a slash at its end.
type folder string

// Resolve gives the address on the host; go-app also asks for links that lead there already.
func (f folder) Resolve(address string) string {
	if f != "" && strings.HasPrefix(address, string(f)+"/") {
		return address
	}
	return string(f) + address
}

// render asks the handler for one address and keeps the answer.
func render(h http.Handler, address string) ([]byte, error) {
	r := &http.Request{Method: http.MethodGet, URL: &url.URL{Path: address}, Header: http.Header{}}
	w := &memoryResponse{header: http.Header{}, status: http.StatusOK}
	h.ServeHTTP(w, r)
	if w.status != http.StatusOK {
		return nil, fmt.Errorf("building %s: go-app answered %d", address, w.status)
	}
	return w.body.Bytes(), nil
}

// memoryResponse is an http.ResponseWriter that keeps the response.
type memoryResponse struct {
	header http.Header
	status int
	body   bytes.Buffer
}

// Header returns the header to be filled in.
func (m *memoryResponse) Header() http.Header { return m.header }

// WriteHeader keeps the status.
func (m *memoryResponse) WriteHeader(status int) { m.status = status }

// Write keeps the body.
func (m *memoryResponse) Write(p []byte) (int, error) { return m.body.Write(p) }
