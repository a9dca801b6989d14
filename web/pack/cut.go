package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// The browser program is compiled from go-app's own sources less its server half. go-app keeps
// both halves in one package, and through net/http the server brings TLS and certificates along:
// about a fifth of all bytes sent, for code that no browser runs. The copy is made from the very
// version in go.mod; if its text is not as expected the build fails. A plain "go build ./cmd/wasm"
// still works and gives the same program, only larger.

const goAppModule = "github.com/maxence-charriere/go-app/v10"

// edit is one replacement in a file; the text must occur exactly once.
type edit struct{ file, old, new string }

// leftOut are files of the server alone.
var leftOut = []string{
	"pkg/app/http.go",   // the handler
	"pkg/app/static.go", // writes a site to files
	"pkg/app/wasm.go",   // the browser's stand-ins for parts of those two
}

var edits = []edit{
	// The resolver for a server's folder; a browser has none.
	{"pkg/app/resource.go", "\t\"net/http\"\n", ""},
	{"pkg/app/resource.go", "\t\tHandler:   http.FileServer(http.Dir(directory)),\n", ""},
	{"pkg/app/resource.go", "\thttp.Handler\n", ""},
	// Routes by pattern, the only use of regular expressions: ours is "any address" alone.
	{"pkg/app/route.go", "\t\"regexp\"\n", ""},
	{"pkg/app/route.go", "*regexp.Regexp", "anyAddress"},
	{"pkg/app/route.go", "regexp.MustCompile(pattern)", "onlyAnyAddress(pattern)"},
	{"pkg/app/route.go", "type regexpRoute struct {\n", anyAddress + "type regexpRoute struct {\n"},
	// How long the engine gathers changes before it draws: 8 ms of waiting at every key press. What
	// one event sets off is gathered in 2 as well; the browser holds back more pictures than it shows.
	{"pkg/app/app.go", "engine.Start(120)", "engine.Start(500)"},
}

// anyAddress takes the place of a regular expression. Another pattern is a mistake that must show
// in the first run, not a route that is silently wrong.
const anyAddress = `type anyAddress struct{}

func (anyAddress) MatchString(path string) bool { return len(path) > 0 && path[0] == '/' }

func onlyAnyAddress(pattern string) anyAddress {
	if pattern != "^/.*$" {
		panic("the browser program is built without regular expressions (web/pack/cut.go); no route can have the pattern " + pattern)
	}
	return anyAddress{}
}

`

// cutModFile prepares the copy in dir and gives the go.mod to build with: ours, with go-app
// replaced by the copy. dir is relative to the module's root.
func cutModFile(dir string) (string, error) {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", goAppModule).Output()
	if err != nil {
		return "", fmt.Errorf("finding go-app: %w", err)
	}
	source := strings.TrimSpace(string(out))
	if source == "" { // known, but not downloaded yet
		return "", errors.New("go-app is not downloaded: run go mod download")
	}
	files, err := cutFiles(source)
	if err != nil {
		return "", err
	}
	if err := writeCopy(filepath.Join(dir, "go-app"), files); err != nil {
		return "", err
	}
	return writeModFile(dir)
}

// cutFiles reads go-app's sources and takes the server out.
func cutFiles(source string) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, name := range []string{"go.mod", "pkg/app", "pkg/errors"} {
		if err := readSources(source, name, files); err != nil {
			return nil, err
		}
	}
	for _, name := range leftOut {
		if _, ok := files[name]; !ok {
			return nil, fmt.Errorf("go-app has changed: it has no %s", name)
		}
		delete(files, name)
	}
	for _, e := range edits {
		if n := bytes.Count(files[e.file], []byte(e.old)); n != 1 {
			return nil, fmt.Errorf("go-app has changed: %s holds %q %d times, not once", e.file, e.old, n)
		}
		files[e.file] = bytes.Replace(files[e.file], []byte(e.old), []byte(e.new), 1)
	}
	return files, nil
}

// readSources adds a file, or the Go files directly in a folder, without tests.
func readSources(root, name string, files map[string][]byte) error {
	return filepath.WalkDir(filepath.Join(root, name), func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		if d.IsDir() {
			if rel != name {
				return fs.SkipDir
			}
			return nil
		}
		if rel != name && (filepath.Ext(rel) != ".go" || strings.HasSuffix(rel, "_test.go")) {
			return nil
		}
		files[rel], err = os.ReadFile(path)
		return err
	})
}

// writeCopy makes dir hold exactly these files.
func writeCopy(dir string, files map[string][]byte) error {
	if err := os.RemoveAll(dir); err != nil {
		return err
	}
	for name, body := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, body, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// writeModFile writes our go.mod and go.sum into dir, go-app replaced by the copy there.
func writeModFile(dir string) (string, error) {
	mod, err := os.ReadFile("go.mod")
	if err != nil {
		return "", err
	}
	sum, err := os.ReadFile("go.sum")
	if err != nil {
		return "", err
	}
	mod = fmt.Appendf(mod, "\nreplace %s => ./%s\n", goAppModule, filepath.ToSlash(filepath.Join(dir, "go-app")))
	path := filepath.Join(dir, "go.mod")
	return path, errors.Join(os.WriteFile(path, mod, 0o644), os.WriteFile(filepath.Join(dir, "go.sum"), sum, 0o644))
}
