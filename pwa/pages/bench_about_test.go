package pages

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// A report of a wrong number names what runs: About shows the same words as "torchside version".
func TestBench_aboutNamesTheVersion(t *testing.T) {
	t.Setenv("GOAPP_VERSION", "0123abcd")
	for release, want := range map[string]string{"v1.2": "Version v1.2, build 0123abcd", "": "Build 0123abcd"} {
		t.Setenv(ReleaseName, release)
		if html := app.HTMLString((&Bench{}).about()); !strings.Contains(html, want) {
			t.Errorf("with the release %q, About lacks %q: %s", release, want, html)
		}
	}
}
