package widgets

import (
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
)

// A part that is not there takes the same place among the children as one that is.
func TestWarningList_holds_its_place_when_empty(t *testing.T) {
	if got, want := app.HTMLString(WarningList(nil)), `<div class="slot"></div>`; got != want {
		t.Errorf("empty: %s", got)
	}
	one := app.HTMLString(WarningList([]present.Warning{{Level: "caution", Word: "Caution", Text: "text"}}))
	if want := `<div class="slot">`; len(one) < len(want) || one[:len(want)] != want {
		t.Errorf("with one: %s", one)
	}
}
