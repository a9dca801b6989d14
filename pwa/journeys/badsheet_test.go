//go:build browser

package journeys

import (
	"strings"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// What cannot be on a sheet is refused with what was read and what is allowed, and stays as it was typed: nothing at all, a note that is
// too long. What can is taken as it is: a note of 10 000 characters in any script, and a day in the future, which is pointed out.
func TestBadInputOnASheet(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "journal")
	page.Tap("sheet-new")
	page.Wants("sheet-done")
	page.Tap("sheet-done")
	page.Wants("sheet-problem", "Nothing is saved yet")
	page.Tap("sheet-work-weld")

	note := strings.Repeat("🔥 שלום عليكم hinge ", 600)
	runes := []rune(note)[:10_000]
	page.Paste("sheet-note", string(runes)+"x")
	page.Tap("sheet-done")
	page.Wants("sheet-problem", "Nothing is saved yet")
	page.WantsText("10001 characters")
	page.Reload()
	if got := page.Text("sheet-note"); got != string(runes)+"x" {
		t.Errorf("of a note of 10 001 characters there are %d after a reload", len([]rune(got)))
	}
	page.Paste("sheet-note", string(runes))
	page.Tap("sheet-fold-when")
	page.Choose("sheet-at", "2126-05-17T14:30")
	page.Wants("sheet-flag", "The date is 2126-05-17 14:30")
	saving(page, func() { page.Tap("sheet-done") })
	page.Wants("sheet-title")
	page.Wants("sheet-flag", "The date is 2126-05-17 14:30")
	fitsEverywhere(page, "sheet-edit")
	page.Tap("sheet-edit")
	page.Wants("sheet-note")
	if got := browsertest.Eval[string](page, `document.querySelector('[data-act="sheet-note"]').value`); got != string(runes) {
		t.Errorf("of a note of 10 000 characters there are %d", len([]rune(got)))
	}
}
