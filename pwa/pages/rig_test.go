package pages

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/units"
	"torchside/pwa/pwatest"
	"torchside/pwa/state"
	"torchside/storage"
)

// stored is a message that brings these bodies as stored parts.
func stored(kind string, bodies ...string) state.Loaded {
	var m state.Loaded
	for i, body := range bodies {
		id := storage.ID(kind + string(rune('0'+i)))
		op := storage.Op{ID: id, Rec: id, Kind: kind, Schema: 1, Body: []byte(body)}
		m.Records = append(m.Records, storage.NewRecord([]storage.Op{op}))
	}
	return m
}

// after reduces messages from an empty app.
func after(list ...state.Msg) state.App {
	a := state.New()
	for _, m := range list {
		a, _ = state.Reduce(a, m)
	}
	return a
}

func TestRig_lists_parts_with_words_beside_every_colour(t *testing.T) {
	a := after(stored("hose",
		`{"choices":{"line":"oxygen"},"values":{"length":{"si":5,"typed":"5","unit":"m"}},"in_use":true}`,
		`{"name":"Old","choices":{"line":"fuel"},"retired":true}`,
		`{"name":"Made up","choices":{"line":"fuel"},"sample":true}`))
	html := pwatest.HTML(t, &Rig{Rig: a.Rig, Region: "iso"})
	pwatest.Wants(t, html, "Oxygen hose", "In use", "hose-blue", "oxygen, blue hose", "Length 5 m", "SAMPLE", "Retired (1)", "red hose",
		`data-act="rig-part-hose0"`, `data-act="rig-use-hose2"`)
	pwatest.Wants(t, pwatest.HTML(t, &Rig{Rig: a.Rig, Region: "us"}), "oxygen, green hose")
}

func TestRig_escapes_what_was_typed(t *testing.T) {
	a := after(stored("torch", `{"name":"<b>&","note":"<script>"}`))
	html := pwatest.HTML(t, &Rig{Rig: a.Rig})
	pwatest.Lacks(t, html, "<b>", "<script>")
	pwatest.Wants(t, html, "&lt;b&gt;&amp;")
}

// Every kind's form has a control for each of its fields, under the name tests go by, with its label.
func TestForm_has_a_control_for_every_field(t *testing.T) {
	for _, k := range []state.Kind{state.KindCylinder, state.KindRegulator, state.KindHose, state.KindArrestor, state.KindTorch, state.KindTip, state.KindChartRow} {
		a := after(state.Loaded{}, state.PartAdded{Kind: k, Line: "fuel"})
		html := pwatest.HTML(t, &Rig{Rig: a.Rig})
		pwatest.Wants(t, html, `data-act="rig-save"`, `data-act="rig-cancel"`)
		for _, f := range a.Rig.Form.Fields {
			pwatest.Wants(t, html, `data-act="rig-`+f.Key, f.Label)
		}
	}
}

func TestForm_shows_what_is_wrong_beside_the_field_and_at_the_end(t *testing.T) {
	a := after(state.Loaded{}, state.PartAdded{Kind: state.KindHose, Line: "fuel"}, state.FormTyped{Key: "length", Text: "0"}, state.FormSaved{})
	html := pwatest.HTML(t, &Rig{Rig: a.Rig})
	pwatest.Wants(t, html, "0.1 to 100 m", "field-bad", `value="0"`, "Nothing is saved yet")
}

func TestForm_of_a_saved_part_offers_what_else_can_be_done(t *testing.T) {
	a := after(stored("torch", `{"choices":{"mixing":"injector"}}`), state.PartOpened{ID: "torch0"})
	html := pwatest.HTML(t, &Rig{Rig: a.Rig})
	pwatest.Wants(t, html, `data-act="rig-copy"`, `data-act="rig-retire"`, `data-act="rig-delete"`, `data-act="rig-use"`)
	a = after(stored("torch", `{"retired":true}`), state.PartOpened{ID: "torch0"})
	html = pwatest.HTML(t, &Rig{Rig: a.Rig})
	pwatest.Wants(t, html, `data-act="rig-unretire"`)
	pwatest.Lacks(t, html, `data-act="rig-use"`, `data-act="rig-retire"`)
}

// Rows and forms act on their own part, also after something was inserted in front of them.
func TestRows_post_their_own_part(t *testing.T) {
	for name, tt := range map[string]struct {
		press func(app.Context)
		want  state.Msg
	}{
		"part":  {func(ctx app.Context) { (&partRow{Part: state.PartView{ID: "p"}}).onOpen(ctx, app.Event{}) }, state.PartOpened{ID: "p"}},
		"row":   {func(ctx app.Context) { (&chartRow{Row: state.RowView{ID: "r"}}).onOpen(ctx, app.Event{}) }, state.PartOpened{ID: "r"}},
		"typed": {func(ctx app.Context) { (&rigForm{}).onTyped(ctx, "length", "5") }, state.FormTyped{Key: "length", Text: "5"}},
		"units": {func(ctx app.Context) { (&Rig{}).onUnits(ctx, "metric") }, state.UnitsChosen{}},
		"unit":  {func(ctx app.Context) { (&Bench{}).onUnit(ctx, "pressure", "psi") }, state.UnitChosen{Quantity: 1, Symbol: "psi"}},
		"theme": {func(ctx app.Context) { (&Bench{}).onTheme(ctx, "light") }, state.ThemeChosen{Theme: "light"}},
	} {
		got := pwatest.Messages(t, tt.press)
		if len(got) != 1 || got[0] != tt.want {
			t.Errorf("%s posts %#v, want %#v", name, got, tt.want)
		}
	}
	if (&partRow{Part: state.PartView{ID: "a"}}).CompoID() == (&partRow{Part: state.PartView{ID: "b"}}).CompoID() {
		t.Error("two rows count as one: a row that moves would act for another")
	}
}

func TestBench_tells_how_the_data_is_kept(t *testing.T) {
	a := after(state.Loaded{}, state.HealthRead{Health: state.StoreHealth{Known: true, Records: 12, Bytes: 2e6, Quota: 1e9}})
	html := pwatest.HTML(t, &Bench{Prefs: a.Prefs, Bench: a.Bench})
	pwatest.Wants(t, html, ">12<", "No promise", "2.0 MB of 1.0 GB", `data-act="export"`, `data-act="import"`, `data-act="about-safety"`, `data-act="units-us"`)
	a.Bench.Health.Persistent = true
	pwatest.Wants(t, pwatest.HTML(t, &Bench{Prefs: a.Prefs, Bench: a.Bench}), "Promised")
}

// written returns the token of the write among effects.
func written(t *testing.T, effects []state.Effect) int {
	t.Helper()
	for _, e := range effects {
		if w, ok := e.(state.Write); ok {
			return w.Token
		}
	}
	t.Fatal("nothing is written")
	return 0
}

func TestNotices_offer_the_export_and_another_try(t *testing.T) {
	a, asked := state.Reduce(after(state.Loaded{}), state.NoticeAccepted{})
	a, _ = state.Reduce(a, state.WriteFailed{Token: written(t, asked), Err: storage.ErrFull})
	html := pwatest.HTML(t, &Notices{Notices: a.Notices})
	pwatest.Wants(t, html, "is full", "Export what I have", `data-act="retry-save"`, "Stop.")
	pwatest.Wants(t, pwatest.HTML(t, &Status{Saved: a.Saved}), "Not saved")
}

// Save has no neighbour that loses what was typed: the ways out stand above the first field.
func TestForm_has_its_ways_out_above_the_fields(t *testing.T) {
	a := after(state.Loaded{}, state.PartAdded{Kind: state.KindTorch})
	html := pwatest.HTML(t, &Rig{Rig: a.Rig})
	first := strings.Index(html, `data-act="rig-mixing`)
	for _, act := range []string{"rig-leave", "rig-cancel"} {
		if at := strings.Index(html, `data-act="`+act+`"`); at < 0 || at > first {
			t.Errorf("%s stands at %d, the first field at %d", act, at, first)
		}
	}
}

func TestRig_offers_what_is_unfinished_and_the_other_parts(t *testing.T) {
	a := after(state.Loaded{}, state.PartAdded{Kind: state.KindTip}, state.FormTyped{Key: "name", Text: "7"}, state.FormLeft{})
	html := pwatest.HTML(t, &Rig{Rig: a.Rig})
	pwatest.Wants(t, html, "Unfinished: Tip 7", `data-act="rig-resume-tip"`, `data-act="rig-discard-tip"`, `data-act="rig-add-torch"`)
	a, _ = state.Reduce(a, state.Discarded(a.Rig.Unfinished[0]))
	pwatest.Lacks(t, pwatest.HTML(t, &Rig{Rig: a.Rig}), "Unfinished")
	pwatest.Wants(t, pwatest.HTML(t, &Status{Undo: a.Undo}), "Put away: Tip 7", "Take it back")
}

// The question comes at once, with the gas named beside every colour, wherever the units can be chosen and where colours are read.
func TestRegion_is_asked_for_on_rig_bench_and_setup(t *testing.T) {
	a := after(state.Loaded{}, state.UnitsChosen{System: units.US()})
	ask := []string{`data-val="ask-region"`, `data-act="ask-region-us"`, `data-act="ask-region-iso"`, "Oxygen green, fuel gas red", "Oxygen blue, acetylene red"}
	pwatest.Wants(t, pwatest.HTML(t, &Rig{Rig: a.Rig, US: true, AskRegion: a.Prefs.AskRegion}), ask...)
	pwatest.Wants(t, pwatest.HTML(t, &Bench{Prefs: a.Prefs, Bench: a.Bench}), ask...)
	pwatest.Wants(t, pwatest.HTML(t, &Setup{App: a}), ask...)
	a, _ = state.Reduce(a, state.RegionChosen{Region: state.RegionUS})
	pwatest.Lacks(t, pwatest.HTML(t, &Rig{Rig: a.Rig, US: true, AskRegion: a.Prefs.AskRegion}), "ask-region")
}

// A hose that Setup stops is a stop on Rig too, by word and shape.
func TestRig_says_stop_for_what_setup_stops(t *testing.T) {
	a := after(stored("x"))
	a.Rig.Stops = []string{"The hose does not suit."}
	html := pwatest.HTML(t, &Rig{Rig: a.Rig})
	pwatest.Wants(t, html, "Stop. ", "level-stop", `data-val="rig-stop"`)
	pwatest.Lacks(t, html, "Caution")
}
