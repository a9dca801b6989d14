package pages

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Upkeep is the page of what is due on the rig: the list, or one task of one part.
type Upkeep struct {
	app.Compo

	Upkeep  state.Upkeep
	Options present.Options
}

var _ app.Mounter = (*Upkeep)(nil)

// upkeepPath is the page of upkeep.
const upkeepPath = "/bench/upkeep"

// OnMount works out what is due anew: it may be another day.
func (u *Upkeep) OnMount(ctx app.Context) { action.Post(ctx, state.UpkeepShown{}) }

// upkeepGroups are the headings of the list, each with the state it holds and the shape beside it.
var upkeepGroups = []struct {
	state, title, word string
	mark               widgets.Mark
}{
	{"overdue", "Due now", "Due", widgets.MarkStop}, {"soon", "Due within a month", "Soon", widgets.MarkCaution},
	{"unknown", "No date known yet", "No date", widgets.MarkCheck}, {"fine", "In order", "In order", widgets.MarkDone},
}

// Render shows the list, the most pressing first.
func (u *Upkeep) Render() app.UI {
	if u.Upkeep.Open != nil {
		return &upkeepTask{Form: u.Upkeep.Open, Options: u.Options}
	}
	body := []app.UI{app.P().Class("quiet").Text(words.Text("A date in order says nothing of a cut hose: look before every use. The maker's literature and your gas supplier come first."))}
	for _, g := range upkeepGroups {
		var rows []app.UI
		for _, item := range u.Upkeep.Items {
			if string(item.State) == g.state {
				rows = append(rows, &upkeepRow{Item: item, Word: g.word, Mark: g.mark})
			}
		}
		if len(rows) > 0 {
			body = append(body, app.Section().Class("rig-group").DataSet("val", "upkeep-"+g.state).Body(append([]app.UI{app.H2().Class("rig-title").Text(words.Text(g.title))}, rows...)...))
		}
	}
	return widgets.Page("What is due?", body...)
}

// upkeepRow is one task in the list.
type upkeepRow struct {
	app.Compo

	Item state.UpkeepItem
	Word string
	Mark widgets.Mark
}

// CompoID ties the row to its task.
func (r *upkeepRow) CompoID() string { return "upkeep-" + r.Item.Key }

// Render shows what, of which part, and when.
func (r *upkeepRow) Render() app.UI {
	i := r.Item
	return app.Div().Class("rig-part").Body(app.Button().Type("button").Class("rig-head").DataSet("act", "upkeep-open-"+hookOf(i.Key)).OnClick(r.onOpen).Body(
		app.Span().Class("rig-name").Dir("auto").Text(words.Own(i.Name, i.Sample)),
		app.Span().Class("rig-tags").Body(
			app.Span().Class("rig-tag", "level-"+string(r.Mark)).Body(widgets.MarkShape(r.Mark), app.Span().Text(words.Text(r.Word))),
			app.If(i.Sample, func() app.UI {
				return app.Span().Class("rig-tag", "level-check").Body(widgets.MarkShape(widgets.MarkCheck), app.Span().Text(words.Text("SAMPLE")))
			})),
		app.Span().Text(words.Text(i.Task.Title)),
		app.Span().Class("rig-facts").Text(words.Text(upkeepWhen(i)))))
}

// hookOf makes a key fit for a data-act.
func hookOf(key string) string { return strings.ReplaceAll(key, "/", "-") }

func (r *upkeepRow) onOpen(ctx app.Context, _ app.Event) {
	action.Post(ctx, state.UpkeepOpened{Key: r.Item.Key})
}

// upkeepWhen says when it is due, and what that is counted from.
func upkeepWhen(i state.UpkeepItem) string {
	var list []string
	if i.Due != "" {
		list = append(list, words.S("Due %s", i.Due))
	}
	switch {
	case i.Last != "":
		list = append(list, words.S("last done %s", i.Last))
	case i.From != "":
		list = append(list, words.S("counted from %s", i.From))
	}
	if i.Months > 0 {
		every := words.S("every %s", state.MonthsWord(i.Months))
		if i.Own {
			every += words.T(", your own interval")
		}
		list = append(list, every)
	}
	return words.Join(list, " · ")
}

// upkeepCard is the short list on the Rig page.
func upkeepCard(u state.Upkeep) app.UI {
	var names []string
	for _, i := range u.Items {
		if string(i.State) == "overdue" {
			names = append(names, words.S("%s: %s", i.Name, i.Task.Title))
		}
	}
	return app.If(len(names) > 0, func() app.UI {
		more := ""
		if len(names) > 3 {
			more = words.S("and %s more", itoa(len(names)-3))
			names = names[:3]
		}
		return widgets.Card("Due now", app.Ul().Class("steps").DataSet("val", "rig-due").Body(app.Range(names).Slice(func(i int) app.UI { return app.Li().Dir("auto").Text(words.Text(names[i])) })),
			app.If(more != "", func() app.UI { return app.P().Text(words.Text(more)) }),
			widgets.BigLink("rig-to-upkeep", "All that is due", upkeepPath, widgets.Plain))
	})
}
