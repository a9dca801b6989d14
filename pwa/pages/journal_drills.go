package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/site"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// journalDrills is the practice path with how far each drill has come, the owner's own drills, and a drill that is open.
type journalDrills struct {
	app.Compo

	Journal state.Journal
	Options present.Options
}

// Render shows the path, or what is open.
func (d *journalDrills) Render() app.UI {
	j := d.Journal
	if j.Drill != nil {
		return d.form(j.Drill)
	}
	if row, ok := d.open(); ok {
		return d.drill(row)
	}
	return widgets.Page("What do I practise next?",
		backToList(),
		app.P().Class("quiet").Text(words.S("Each drill adds one thing to the one before. %s", present.PathSource)),
		app.Div().Class("drills").Body(app.Range(j.Drills).Slice(func(i int) app.UI { return d.row(i) })),
		&widgets.BigButton{Act: "drill-add", Label: "Add a drill of my own", OnPress: post(state.DrillAdded{})},
	)
}

func (d *journalDrills) open() (state.DrillRow, bool) {
	for _, r := range d.Journal.Drills {
		if r.ID == d.Journal.DrillOpen {
			return r, true
		}
	}
	return state.DrillRow{}, false
}

// row is a drill of the list; its group stands above the first one of it.
func (d *journalDrills) row(i int) app.UI {
	r := d.Journal.Drills[i]
	group := ""
	if i == 0 || drillGroup(d.Journal.Drills[i-1]) != drillGroup(r) {
		group = drillGroup(r)
	}
	return &widgets.DrillRow{ID: r.ID, Act: "drill-" + r.ID, Group: group, Name: r.Drill.Name, Progress: present.NewDrillMark(r.Progress),
		Next: r.ID == d.Journal.NextUp, OnPress: post(state.DrillShown{ID: r.ID})}
}

func drillGroup(r state.DrillRow) string {
	if r.Own {
		return "My own"
	}
	return r.Drill.Group
}

// drill is one drill to read: the aim, what to look for, when to move on, and the ways to do it.
func (d *journalDrills) drill(r state.DrillRow) app.UI {
	return widgets.Page(r.Drill.Name,
		&widgets.BigButton{Act: "drill-back", Label: "Back to the drills", OnPress: post(state.DrillHidden{})},
		widgets.Card("", widgets.DrillProgress(present.NewDrillMark(r.Progress)),
			widgets.Facts(drillFacts(present.DrillFacts(r.Drill, r.Progress, d.Options))...)),
		widgets.Actions(
			&widgets.BigButton{Act: "drill-begin", Label: "Begin a sheet for it", Kind: widgets.Main, OnPress: post(state.SheetBegun{Drill: r.ID})},
			&widgets.BigButton{Act: "drill-setup", Label: "Set up for it", OnPress: setUp(r.ID)},
			&widgets.BigButton{Act: "drill-sheets", Label: "Its sheets", OnPress: post(state.JournalAsked{Filter: state.Filter{Drill: r.ID}})},
			app.If(r.Own, func() app.UI {
				return &widgets.BigButton{Act: "drill-edit", Label: "Change it", OnPress: post(state.DrillOpened{ID: r.ID})}
			}),
			app.If(r.Own, func() app.UI {
				return &widgets.BigButton{Act: "drill-delete", Label: "Delete it; its sheets stay", Kind: widgets.Danger, OnPress: post(state.DrillDeleted{ID: r.ID})}
			})),
		app.If(!r.Own, func() app.UI { return app.P().Class("quiet").Text(words.Text(present.PathSource)) }),
	)
}

// setUp fills Setup in with what a drill asks for, and goes there. It is no address: a reload of Setup must not ask for it again.
func setUp(id string) func(app.Context) {
	return func(ctx app.Context) {
		action.Post(ctx, state.DrillSetUp{ID: id})
		ctx.Navigate(site.At("/"))
	}
}

func drillFacts(list []present.Fact) []app.UI {
	var lines []app.UI
	for _, f := range list {
		lines = append(lines, widgets.Fact(f.Name, f.Value, f.Val))
	}
	return lines
}

// form is an own drill being written.
func (d *journalDrills) form(f *state.DrillForm) app.UI {
	title := "Which drill do you add?"
	if f.ID != "" {
		title = "What changes in this drill?"
	}
	body := []app.UI{&widgets.BigButton{Act: "drill-leave", Label: "Leave without saving", Disabled: f.Busy, OnPress: post(state.DrillLeft{})},
		app.Div().Class("form").Body(fields(f.Fields, "drill-field", d.onTyped, d.onChosen)...),
		app.Div().Aria("live", "polite").Body(app.If(f.Problem != "", func() app.UI {
			return app.P().Class("word").DataSet("val", "drill-problem").Body(widgets.MarkShape(widgets.MarkStop), app.Span().Text(words.Text(f.Problem)))
		})),
		&widgets.BigButton{Act: "drill-save", Label: "Save the drill", Kind: widgets.Main, Disabled: f.Busy, OnPress: post(state.DrillSaved{})}}
	return widgets.Page(title, body...)
}

func (d *journalDrills) onTyped(ctx app.Context, key, text string) {
	action.Post(ctx, state.DrillTyped{Key: key, Text: text})
}

func (d *journalDrills) onChosen(ctx app.Context, key, value string) {
	action.Post(ctx, state.DrillChosen{Key: key, Value: value})
}
