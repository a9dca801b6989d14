//go:build !js

package pwa

import (
	"html"
	"strings"
	"testing"

	"torchside/pwa/state"
)

// The emergency page reads without any script (those it has set light or dark, and the language), begins with the way out, and holds every order that is for an emergency, word for word.
func TestEmergencyPage_is_whole_without_a_script(t *testing.T) {
	page := html.UnescapeString(build(t)[emergencyPath])
	for what, script := range map[string]string{"light or dark": "/web/theme.js", "language": wordsPath} {
		tag := `<script src="` + script + `" async></script>` // nothing waits for it
		if !strings.Contains(page, tag) {
			t.Errorf("the page does not follow the owner's %s", what)
		}
		page = strings.Replace(page, tag, "", 1)
	}
	for _, word := range []string{"<script", "onclick", "javascript:", "style="} {
		if strings.Contains(page, word) {
			t.Errorf("the page holds %q", word)
		}
	}
	book, err := state.ReadBook(ordersText(t))
	if err != nil {
		t.Fatal(err)
	}
	last := -1
	for _, words := range append(append([]string{}, book.GetOut.Steps...), book.GetOut.Never, "tel:112", "tel:911", `data-order="squeals"`) {
		n := strings.Index(page, words)
		if n <= last {
			t.Errorf("%q stands at %d, after what must follow it (%d)", words, n, last)
		}
		last = n
	}
	for _, o := range book.Orders {
		if !o.Emergency {
			continue
		}
		for _, s := range o.Steps {
			if !strings.Contains(page, s.Do) || !strings.Contains(page, s.Source) {
				t.Errorf("%s: the page lacks step %s or its source", o.ID, s.ID)
			}
		}
	}
	if !strings.Contains(page, `href="/"`) {
		t.Error("no way back to the app")
	}
}

// A text that has a gap stops the server before anybody can miss a step.
func TestBuild_refuses_a_text_of_orders_with_a_gap(t *testing.T) {
	registerOnce()
	if _, err := Build(Config{Version: "abc123", WasmLength: 1, Static: static, Orders: []byte(`{"orders": []}`)}); err == nil {
		t.Error("an empty text of orders was taken")
	}
}

// The page is one tap away from the page a visitor gets before the program runs, and is no route of the program.
func TestBuild_leads_to_the_emergency_page_before_the_program_runs(t *testing.T) {
	files := build(t)
	for _, r := range Routes {
		if !strings.Contains(files[r.Path], `href="/emergency"`) {
			t.Errorf("%s has no way to the emergency page", r.Path)
		}
		if r.Path == emergencyPath {
			t.Error("the program would answer instead of the page")
		}
	}
}
