package pages

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
)

// cutsPage is the page of a cut list after messages.
func cutsPage(a *asked) string {
	return app.HTMLString((&CutList{Cuts: a.app.CutList, Prefs: a.app.Prefs, Missing: len(a.app.Rig.Missing) > 0}).Render())
}

func TestCutList_cautions_stand_before_the_answer(t *testing.T) {
	a := ask(t, state.SampleAdded{}, state.CutListShown{})
	wants(t, cutsPage(a), `data-val="cuts.empty"`, `data-act="cuts-1-plate"`, `data-act="cuts-add"`)
	lacks(t, cutsPage(a), "cuts.lasts", "cuts-1-remove")
	a.post(state.CutRowTyped{ID: "1", Key: "plate", Text: "10 mm"}, state.CutRowTyped{ID: "1", Key: "cut", Text: "2 m"})
	page := cutsPage(a)
	wants(t, page, `data-val="cuts.lasts"`, `data-val="cuts.row1.oxygen"`, "Mild steel, from an edge, bare.")
	for _, code := range []string{"oil_on_oxygen", "acetylene_pressure", "sparks"} {
		if at := strings.Index(page, `data-warning="`+code+`"`); at < 0 || at > strings.Index(page, `data-val="cuts.lasts"`) {
			t.Errorf("the caution %s does not stand before the answer", code)
		}
	}
}

func TestCutList_names_the_row_that_cannot_be_cut(t *testing.T) {
	a := ask(t, state.SampleAdded{}, state.CutListShown{}, state.CutRowTyped{ID: "1", Key: "plate", Text: "250 mm"}, state.CutRowTyped{ID: "1", Key: "cut", Text: "2 m"})
	wants(t, cutsPage(a), "data-refusal", "Row 1 cannot be cut so", "Ways out")
	lacks(t, cutsPage(a), "cuts.lasts")
	wants(t, cutsPage(ask(t, state.CutListShown{})), `data-val="cuts.missing"`)
}

func TestCutList_posts_which_row_is_meant(t *testing.T) {
	ctx, got := listening(t)
	a := ask(t, state.SampleAdded{}, state.CutListShown{}, state.CutRowAdded{})
	if a.post(state.CutRowRemoved{ID: "1"}); len(a.app.CutList.Rows) != 1 || a.app.CutList.Rows[0].ID != "2" {
		t.Fatalf("%+v", a.app.CutList.Rows)
	}
	wants(t, cutsPage(a), `data-act="cuts-2-plate"`, `data-act="cuts-back"`)
	(&CutList{}).OnMount(ctx)
	if m := got(); len(m) != 1 || m[0] != (state.CutListShown{}) {
		t.Errorf("posted %v", m)
	}
}
