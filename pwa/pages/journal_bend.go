package pages

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// tests are the bend and break tests: those noted, and a way to note one.
func (e *sheetEditor) tests() app.UI {
	list := e.Form.Tests
	note := "none noted"
	if len(list) > 0 {
		note = words.S("%s noted", strconv.Itoa(len(list)))
	}
	return app.Details().Class("fold").Body(
		foldHead("sheet-fold-tests", "Bend or break test", note),
		app.Div().Class("form", "fold-body").Body(
			app.Range(present.TestLimits()).Slice(func(i int) app.UI { return widgets.LimitLine(present.TestLimits()[i]) }),
			app.Range(list).Slice(func(i int) app.UI {
				return &testRow{Form: e.Form.Key, Index: i, Name: present.TestLine(list[i]), Seen: list[i].Seen}
			}),
			&testAdder{Keys: e.Form.TestKeys, Fuller: len(list) > 0}))
}

// testRow is one test that was noted.
type testRow struct {
	app.Compo

	Form  string // key of the sheet
	Index int
	Name  string
	Seen  string
}

// CompoID ties the typed text to the test: one more or one less makes other rows.
func (r *testRow) CompoID() string { return r.Form + "-test-" + strconv.Itoa(r.Index) + r.Name }

// Render shows the result, what was seen, and the way to take it away.
func (r *testRow) Render() app.UI {
	act := "sheet-test-" + strconv.Itoa(r.Index)
	return app.Div().Class("version").Body(
		app.P().Class("word").DataSet("val", act).Text(words.Text(r.Name)),
		&widgets.TextField{ID: act + "-seen", Act: act + "-seen", Label: "What was seen?", Value: r.Seen, OnInput: r.onSeen},
		&widgets.SmallButton{Act: act + "-drop", Label: "Take this test away", OnPress: post(state.SheetTestDropped{Index: r.Index})})
}

func (r *testRow) onSeen(ctx app.Context, text string) {
	action.Post(ctx, state.SheetTestSeen{Index: r.Index, Text: text})
}

// testAdder notes a test with two taps: which one, and how it came out.
type testAdder struct {
	app.Compo

	Keys   []state.Option
	Fuller bool // there are tests already

	chosen string
}

// Render asks which test and how it came out.
func (t *testAdder) Render() app.UI {
	return app.Div().Class("stack").Body(
		&widgets.ChoiceGroup{ID: "sheet-test", Act: "sheet-test", Label: "Which test?", Choices: options(t.Keys), Selected: t.chosen, OnChoose: t.onTest},
		app.If(t.chosen != "", func() app.UI {
			return app.Div().Class("pairs").Body(
				&widgets.BigButton{Act: "sheet-test-passed", Label: "Passed", OnPress: t.onPassed},
				&widgets.BigButton{Act: "sheet-test-failed", Label: "Failed", OnPress: t.onFailed})
		}))
}

func (t *testAdder) onTest(_ app.Context, value string) { t.chosen = value }

func (t *testAdder) onPassed(ctx app.Context) { t.add(ctx, true) }

func (t *testAdder) onFailed(ctx app.Context) { t.add(ctx, false) }

func (t *testAdder) add(ctx app.Context, pass bool) {
	action.Post(ctx, state.TestNoted(t.chosen, pass))
	t.chosen = ""
}
