package main

import (
	"path"
	"strings"
)

// rule says what the packages it is for may import. Patterns: "./x" is a package of ours,
// "./x/..." it and all below, "std" the standard library, "test" the testing package and what
// test helpers need; all else is an import path, with "/..." for all below.
type rule struct {
	packages string
	may      []string // everything else is refused
	never    []string // refused even if may allows it
}

// Names of other modules, as the rules write them.
const (
	goApp  = "github.com/maxence-charriere/go-app/..."
	bbolt  = "go.etcd.io/bbolt/..."
	idb    = "github.com/hack-pad/go-indexeddb/..."
	safejs = "github.com/hack-pad/safejs"
)

// impure is what calc must not know: the world outside its arguments.
var impure = []string{"syscall/js", "net/...", "os/...", "log/...", "time", "math/rand/...", "crypto/rand"}

// rules are tried in order; the first whose packages match holds.
var rules = []rule{
	{packages: "calc/words", may: []string{"std"}, never: []string{"net/...", "os/...", "log/...", "time", "math/rand/...", "crypto/rand"}}, // syscall/js: the catalogue is read before all else begins
	{packages: "calc/units", may: []string{"std", "./calc/words"}, never: impure},
	{packages: "calc/gas", may: []string{"std", "./calc/words", "./calc/units"}, never: impure},
	{packages: "calc/flow", may: []string{"std", "./calc/words", "./calc/units", "./calc/gas"}, never: impure},
	{packages: "calc/flame", may: []string{"std", "./calc/words", "./calc/units", "./calc/gas", "./calc/flow"}, never: impure},
	{packages: "calc/cylinder", may: lower, never: impure},
	{packages: "calc/cut", may: lower, never: impure},
	{packages: "calc/leak", may: lower, never: impure},
	{packages: "calc/heat", may: lower, never: impure},
	{packages: "calc/tables", may: []string{"std"}, never: impure},
	{packages: "calc/vent", may: []string{"std", "./calc/words", "./calc/units", "./calc/gas"}, never: impure},
	{packages: "calc/order", may: lower, never: impure},
	{packages: "calc/calendar", may: []string{"std"}, never: impure},
	{packages: "calc/journal", may: []string{"std", "./calc/words", "./calc/units", "./calc/calendar"}, never: impure},
	{packages: "calc/journal/journaltest", may: []string{"std", "./calc/journal"}},
	{packages: "calc/calctest", may: []string{"std", "./calc/..."}},
	{packages: "calc/...", may: []string{"std", "./calc/..."}, never: impure},

	{packages: "storage", may: []string{"std"}},
	{packages: "storage/merge", may: []string{"std", "./storage"}},
	{packages: "storage/postings", may: []string{"std", "./storage"}},
	{packages: "storage/memory", may: []string{"std", "./storage", "./storage/merge"}, never: []string{"syscall/js"}},
	{packages: "storage/idb", may: []string{"std", "./storage", "./storage/merge", "./storage/postings", idb, safejs}},
	{packages: "storage/server", may: []string{"std", "./storage", "./storage/merge", "./storage/wire", "./storage/vault", "./storage/answer", "rsc.io/qr"}, never: []string{"syscall/js"}},
	{packages: "storage/remote", may: []string{"std", "./storage", "./storage/merge", "./storage/wire", "./storage/replicate"}},
	{packages: "storage/wire", may: []string{"std", "./storage"}, never: []string{"syscall/js", "net/..."}},
	{packages: "storage/answer", may: []string{"std", "./storage", "./storage/wire", "./storage/vault"}, never: []string{"syscall/js", "net/..."}},
	{packages: "storage/replicate", may: []string{"std", "./storage", "./storage/merge", "./storage/wire"}, never: []string{"syscall/js", "net/..."}},
	{packages: "storage/vault", may: []string{"std", "./storage"}, never: []string{"syscall/js", "net/..."}},
	{packages: "storage/vault/memvault", may: []string{"std", "./storage", "./storage/vault"}, never: []string{"syscall/js"}},
	{packages: "storage/vault/vaulttest", may: []string{"std", "./storage", "./storage/merge", "./storage/storagetest", "./storage/vault"}},
	{packages: "storage/bolt", may: []string{"std", "./storage", "./storage/merge", "./storage/postings", "./storage/vault", bbolt, "golang.org/x/sys/windows"}, never: []string{"syscall/js"}},
	{packages: "storage/replicate/simtest", may: []string{"std", "./storage", "./storage/..."}, never: []string{"syscall/js", "net/..."}},
	{packages: "storage/storagetest", may: []string{"std", "./storage", "./storage/merge", "./storage/memory"}},
	{packages: "storage/...", may: []string{"std", "./storage", "./storage/merge"}},

	{packages: "pwa/state", may: []string{"std", "./calc/...", "./storage"}, never: outside},
	{packages: "pwa/present", may: []string{"std", "./calc/..."}, never: outside},
	{packages: "pwa/site", may: []string{"std", goApp}, never: outside},
	{packages: "pwa/widgets", may: []string{"std", goApp, "./pwa/site", "./pwa/present", "./calc/units", "./calc/words"}, never: outside},
	{packages: "pwa/action", may: []string{"std", goApp, "./pwa/state", "./storage", "./storage/replicate"}},
	{packages: "pwa/effects", may: []string{"std", goApp, "./pwa/site", "./calc/words", "./pwa/state", "./pwa/action", "./storage", "./storage/replicate"}},
	{packages: "pwa/pages", may: []string{"std", goApp, "./pwa/site", "./pwa/widgets", "./pwa/present", "./pwa/action", "./pwa/state", "./calc/units", "./calc/words"}, never: outside},
	{packages: "pwa/pwatest", may: []string{"std", goApp, "./pwa/..."}},
	{packages: "pwa/journeys/...", may: []string{"std", "./...", "github.com/chromedp/..."}},
	{packages: "pwa", may: []string{"std", goApp, "rsc.io/qr/coding", "./calc/words", "./pwa/...", "./storage", "./storage/replicate"}},

	{packages: "web", may: []string{"std"}},
	{packages: "web/pack", may: []string{"std", "github.com/andybalholm/brotli"}},
	{packages: "web/icons", may: []string{"std"}},
	{packages: "web/tables", may: []string{"std", "./calc/tables", "./calc/units"}},

	{packages: "deploy/dist", may: []string{"std"}},

	{packages: "cmd/wasm", may: []string{"std", goApp, "./pwa/...", "./storage/...", "./calc/..."}, never: []string{"./storage/bolt", "./storage/server", "./web"}},
	{packages: "cmd/torchside", may: []string{"std", bbolt, "golang.org/x/crypto/...", "rsc.io/qr", "./pwa", "./storage/...", "./web", "./calc/..."}, never: []string{"syscall/js", "./storage/idb"}},
}

var (
	// lower are the packages that composing ones stand on.
	lower = []string{"std", "./calc/words", "./calc/units", "./calc/gas", "./calc/flow", "./calc/flame"}
	// outside is what drawing and deciding must leave to effects.
	outside = []string{"syscall/js", "net/http"}
)

// ruleFor finds the rule of a package, named without the module.
func ruleFor(name string) (rule, bool) {
	for _, r := range rules {
		if matches(r.packages, name) {
			return r, true
		}
	}
	return rule{}, false
}

// refuses says why an import is not allowed, or "".
func (r rule) refuses(imported string, testPackage bool) string {
	for _, pattern := range r.never {
		if matches(pattern, imported) {
			return "never allowed there"
		}
	}
	if strings.HasPrefix(imported, "./") && isTestPackage(path.Base(imported)) && !testPackage {
		return "that package is for tests only"
	}
	for _, pattern := range r.may {
		if pattern == "std" && isStandard(imported) || matches(pattern, imported) {
			return ""
		}
	}
	return "not in the list of its rule"
}

// isStandard reports whether an import path belongs to the standard library: its first element
// has no dot, and it is not one of ours.
func isStandard(imported string) bool {
	first, _, _ := strings.Cut(imported, "/")
	return !strings.Contains(first, ".")
}

// matches compares with a pattern that may end in "/...".
func matches(pattern, name string) bool {
	start, all := strings.CutSuffix(pattern, "/...")
	if !all {
		return pattern == name
	}
	return name == start || strings.HasPrefix(name, start+"/")
}
