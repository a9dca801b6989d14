package main

import (
	"strings"
	"testing"
)

func TestCheck_finds_each_kind_of_broken_rule(t *testing.T) {
	for _, c := range []struct {
		name    string
		imports []string
		want    string // part of the finding; empty: none
	}{
		{"calc/units", []string{"fmt", "strconv"}, ""},
		{"calc/units", []string{"torchside/calc/gas"}, "not in the list"},
		{"calc/gas", []string{"torchside/calc/units"}, ""},
		{"calc/gas", []string{"torchside/calc/flow"}, "not in the list"},
		{"calc/flow", []string{"time"}, "never allowed"},
		{"calc/setup", []string{"torchside/calc/cylinder", "net/http"}, "net/http"},
		{"calc/setup", []string{"torchside/calc/calctest"}, "for tests only"},
		{"storage", []string{"torchside/calc/units"}, "not in the list"},
		{"storage/memory", []string{"torchside/storage"}, ""},
		{"storage/idb", []string{"github.com/maxence-charriere/go-app/v10/pkg/app"}, "not in the list"},
		{"storage/storagetest", []string{"testing", "torchside/storage"}, ""},
		{"pwa/state", []string{"torchside/storage/memory"}, "not in the list"},
		{"pwa/state", []string{"torchside/storage", "torchside/calc/setup"}, ""},
		{"pwa/widgets", []string{"torchside/pwa/state"}, "not in the list"},
		{"pwa/pages", []string{"syscall/js"}, "never allowed"},
		{"pwa", []string{"torchside/storage/idb"}, "not in the list"},
		{"pwa", []string{"torchside/web"}, "not in the list"},
		{"web", []string{"torchside/pwa"}, "not in the list"},
		{"web", []string{"embed", "net/http"}, ""},
		{"cmd/torchside", []string{"torchside/storage/idb"}, "never allowed"},
		{"cmd/torchside", []string{"torchside/pwa", "torchside/web", "os"}, ""},
		{"brandnew", nil, "no import rule names this package"},
	} {
		got := strings.Join(check(pkg{ImportPath: module + "/" + c.name, Name: "x", Doc: "x", Imports: c.imports}), "; ")
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s importing %v: got %q, want %q", c.name, c.imports, got, c.want)
		}
	}
}

func TestCheck_asks_for_a_package_comment(t *testing.T) {
	if got := check(pkg{ImportPath: "torchside/web", Name: "web"}); len(got) != 1 || !strings.Contains(got[0], "no package comment") {
		t.Errorf("got %v", got)
	}
}
