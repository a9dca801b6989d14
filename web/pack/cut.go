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
	"pkg/app/crypto.go", // encryption of stored values; see stretches
}

// stretch is a run of text to leave out: from a text on, up to another; each must occur exactly once.
type stretch struct{ file, from, upTo string }

// stretches are the parts that encrypt stored values, under a key that is stored beside them. The
// app keeps no values that way; a call of theirs does not compile in the browser program.
var stretches = []stretch{
	{"pkg/app/context.go", "// DeviceID fetches", "// Page retrieves"}, // the key
	{"pkg/app/context.go", "// Encrypt enciphers", "// Notifications accesses"},
	{"pkg/app/state.go", "// PersistWithEncryption ensures", "// Broadcast signals"},
	{"pkg/app/state.go", "if len(value.EncryptedValue) != 0 {\n\t\treturn ctx.Decrypt", "if len(value.Value) != 0 {\n\t\treturn json"},
	{"pkg/app/state.go", "if encrypt {\n", "{\n\t\tb, err := json.Marshal(s.value)\n\t\tif err != nil {\n\t\t\tLog(errors.New(\"persisting state"},
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
	// What the stretches leave behind, and the random names of windows by the browser's own means.
	{"pkg/app/context.go", "\t\"encoding/json\"\n", ""},
	{"pkg/app/context.go", "\t\"strings\"\n", ""},
	{"pkg/app/context.go", "\t\"github.com/google/uuid\"\n", ""},
	{"pkg/app/state.go", "\t\"github.com/google/uuid\"\n", ""},
	{"pkg/app/state.go", "uuid.NewString()", `Window().Get("crypto").Call("randomUUID").String()`},
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
	for _, s := range stretches {
		if err := s.cut(files); err != nil {
			return nil, fmt.Errorf("go-app has changed: %w", err)
		}
	}
	for _, e := range edits {
		if err := e.make(files); err != nil {
			return nil, fmt.Errorf("go-app has changed: %w", err)
		}
	}
	return files, nil
}

func (e edit) make(files map[string][]byte) error {
	if n := bytes.Count(files[e.file], []byte(e.old)); n != 1 {
		return fmt.Errorf("%s holds %q %d times, not once", e.file, e.old, n)
	}
	files[e.file] = bytes.Replace(files[e.file], []byte(e.old), []byte(e.new), 1)
	return nil
}

func (s stretch) cut(files map[string][]byte) error {
	body := string(files[s.file])
	start, end := strings.Index(body, s.from), strings.Index(body, s.upTo)
	if strings.Count(body, s.from) != 1 || strings.Count(body, s.upTo) != 1 || start > end {
		return fmt.Errorf("%s does not hold %q and then %q, once each", s.file, s.from, s.upTo)
	}
	files[s.file] = []byte(body[:start] + body[end:])
	return nil
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
