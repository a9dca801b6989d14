//go:build browser

package journeys

import (
	"slices"
	"strings"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// seen is a part of the settings card as it lies on the screen.
type seen struct {
	Text string  `json:"text"` // how it begins
	Nth  int     `json:"nth"`  // which one of those that begin so
	Of   int     `json:"of"`   // of a caution: the place in the list of the number it stands before; -1 else
	Top  float64 `json:"top"`
}

const seenOnTheCard = `(() => {
	const text = (e) => (e.querySelector(".tile-label")?.firstChild ?? e).textContent.trim().replace(/\s+/g, " ");
	const all = [...document.querySelectorAll(".settings [data-act^=from-], .settings .warning-text")].filter((e) => e.checkVisibility());
	const times = {};
	return all.map((e) => {
		const nth = times[text(e)] = (times[text(e)] ?? -1) + 1;
		const number = e.matches("[data-act]") ? null : e.closest(".tile-slot")?.querySelector("[data-act^=from-]") ?? null;
		return { text: text(e), nth, of: number ? all.indexOf(number) : -1, top: e.getBoundingClientRect().top + scrollY };
	});
})()`

// A screen reader says the card in the order of the work: cautions of the whole, the tip, the pressures, then flame, gas and eyes; each
// caution before the number it concerns; and nothing before what stands above it (WCAG 2.2, 1.3.2).
func TestCardIsReadOutInTheOrderOfTheWork(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	cautions := 0
	for _, thickness := range []string{"1/8 in", "1/16 in"} {
		ask(page, thickness)
		said := spoken(page)
		parts := browsertest.Eval[[]seen](page, seenOnTheCard)
		places := make([]int, len(parts))
		for n, part := range parts {
			if places[n] = said.at(part.Text, part.Nth); places[n] < 0 {
				t.Errorf("%s: %q is not said", thickness, part.Text)
			}
		}
		for n, part := range parts {
			if part.Of >= 0 {
				cautions++
				if places[part.Of] < places[n] {
					t.Errorf("%s: the caution %q comes after its number %q", thickness, part.Text, parts[part.Of].Text)
				}
			}
			for m, other := range parts {
				if other.Top+1 < part.Top && places[m] > places[n] {
					t.Errorf("%s: %q is said after %q, which stands below it", thickness, other.Text, part.Text)
				}
			}
		}
		last := -1
		for _, name := range []string{"Emergency", "Settings card", "Caution: fresh air", "Fit tip", "Oxygen", "Regulator", "Acetylene", "Flame: ", "Lens shade"} {
			where := said.at(name, 0)
			if where <= last {
				t.Errorf("%s: %q is said at %d, not after what comes before it (%d)", thickness, name, where, last)
			}
			last = where
		}
		if len(parts) < 15 {
			t.Errorf("%s: only %d parts: the card is not looked at", thickness, len(parts))
		}
		said.clean(t)
	}
	if cautions == 0 {
		t.Error("no caution stands before a number: nothing is tested")
	}
}

// reading is what a screen reader says, in its order.
type reading []browsertest.Spoken

// spoken reads the page, without the name of the document.
func spoken(page *browsertest.Page) reading {
	return slices.DeleteFunc(page.ReadOut(), func(s browsertest.Spoken) bool { return s.Role == "RootWebArea" })
}

// at is where the nth of what begins so is said; -1 when it is not. A control says its parts once more: only texts and headings count.
func (r reading) at(text string, nth int) int {
	for n, s := range r {
		if s.Role != "button" && strings.HasPrefix(plain(s.Name), text) {
			if nth == 0 {
				return n
			}
			nth--
		}
	}
	return -1
}

// clean fails the test for signs that mean something to the eye alone.
func (r reading) clean(t *testing.T) {
	t.Helper()
	for _, s := range r {
		if strings.ContainsAny(s.Name, "▾▸◆●✓✗") {
			t.Errorf("%s %q says a sign", s.Role, s.Name)
		}
	}
}

func plain(text string) string { return strings.Join(strings.Fields(text), " ") }
