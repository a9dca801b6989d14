package main

import (
	"io/fs"
	"regexp"
	"testing"

	"torchside/web"
)

// colours reads the custom properties of the first block that follows the opening.
func colours(t *testing.T, css, opening string) map[string]string {
	t.Helper()
	block := regexp.MustCompile(opening + `[^{]*\{([^}]*)\}`).FindStringSubmatch(css)
	if block == nil {
		t.Fatalf("no block %s", opening)
	}
	found := make(map[string]string)
	for _, p := range regexp.MustCompile(`(--[a-z-]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(block[1], -1) {
		found[p[1]] = p[2]
	}
	return found
}

// The certificate page follows the phone, in the colours whose contrast is tested in the app.
func TestAuthorityPage_has_the_colours_of_the_app_in_both_themes(t *testing.T) {
	app, err := fs.ReadFile(web.Embedded(), "static/torchside.css")
	if err != nil {
		t.Fatal(err)
	}
	for theme, c := range map[string]struct{ page, app string }{
		"dark":  {`:root`, `\[data-theme="dark"\]`},
		"light": {`prefers-color-scheme: light\) \{\s*:root`, `\[data-theme="light"\]`},
	} {
		got, want := colours(t, authorityCSS, c.page), colours(t, string(app), c.app)
		for page, own := range map[string]string{"--ground": "--ground", "--text": "--text", "--accent": "--straw", "--on-accent": "--on-accent"} {
			if got[page] == "" || got[page] != want[own] {
				t.Errorf("%s: %s is %q, the app's %s is %q", theme, page, got[page], own, want[own])
			}
		}
	}
}
