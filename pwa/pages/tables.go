package pages

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// tablesFirst is how many entries of a search are shown at once.
const tablesFirst = 25

// Tables is the page of bench tables: one search over all of them, the list, and one table.
type Tables struct {
	app.Compo

	Tables state.Tables
	Prefs  state.Prefs

	made tablesMade
	of   tablesOf
}

// tablesOf is what the shown texts were made of: they are made anew when it changes, not with every drawing.
type tablesOf struct {
	known, more bool
	text, open  string
	units       units.System
}

// tablesMade are the texts as shown.
type tablesMade struct {
	links   []present.TableLink
	heads   []present.TableHead
	entries []present.TableEntry
	missing bool // the open table does not exist
}

var _ app.Mounter = (*Tables)(nil)

// OnMount asks for the book.
func (p *Tables) OnMount(ctx app.Context) { action.Post(ctx, state.TablesAsked{}) }

// Render shows the search first.
func (p *Tables) Render() app.UI {
	p.make()
	return widgets.Page("What do the tables say?",
		p.back(),
		&widgets.TextField{ID: "tables-find", Act: "tables-find", Label: "Search all tables", Help: "As cherry red, 16 ga, fire watch, BAg-7.", Value: p.Tables.Text, OnInput: p.onType},
		app.Div().Class("tables-body").Body(p.body()...),
	)
}

func (p *Tables) back() app.UI {
	if p.Tables.Open != "" {
		return app.Nav().Class("back").Aria("label", words.Text("Back")).Body(&widgets.BigButton{Act: "tables-all", Label: "‹ All tables", OnPress: post(state.TablesClosed{})})
	}
	return widgets.BackLink("to-bench", "Bench", "/bench")
}

func (p *Tables) body() []app.UI {
	t := p.Tables
	switch {
	case t.Error != "":
		return []app.UI{soon("The tables could not be read.", words.S("%s. What you typed stays; opening this page again tries again.", t.Error))}
	case !t.Known:
		return []app.UI{app.P().Role("status").Text(words.Text("Opening the tables …"))}
	case t.Open != "":
		return p.table()
	case t.Text != "":
		return p.found()
	}
	return []app.UI{app.Div().Class("actions").Body(app.Range(p.made.links).Slice(func(i int) app.UI {
		l := p.made.links[i]
		return &tableButton{ID: l.ID, Title: l.Title, Count: l.Count}
	}))}
}

func (p *Tables) table() []app.UI {
	if p.made.missing {
		return []app.UI{soon("There is no such table.", "“All tables” above leads to those there are.")}
	}
	head := p.made.heads[0]
	return []app.UI{
		app.H2().Class("card-title").DataSet("val", "table-title").Text(words.Text(head.Title)),
		widgets.TableCaution(head),
		app.If(head.About != "", func() app.UI { return app.P().Class("quiet").Text(words.Text(head.About)) }),
		widgets.TableEntries(p.made.entries),
	}
}

func (p *Tables) found() []app.UI {
	n := len(p.Tables.Found)
	if n == 0 {
		return []app.UI{app.P().Role("status").DataSet("val", "tables-count").Text(words.S("No table holds “%s”. Every word must be found: try fewer, or another name for it.", p.Tables.Text))}
	}
	count := words.S("%s entries", strconv.Itoa(n))
	if n == 1 {
		count = "1 entry"
	}
	return []app.UI{
		app.H2().Class("card-title").DataSet("val", "tables-count").Aria("live", "polite").Text(words.S("%s found", count)),
		app.Div().Class("warnings").Body(app.Range(p.made.heads).Slice(func(i int) app.UI { return widgets.TableCaution(p.made.heads[i]) })),
		widgets.TableEntries(p.made.entries),
		app.If(len(p.made.entries) < n, func() app.UI {
			return &widgets.BigButton{Act: "tables-more", Label: words.S("Show all %s", strconv.Itoa(n)), OnPress: post(state.TablesMore{})}
		}),
	}
}

// make writes the texts when what they are made of has changed.
func (p *Tables) make() {
	t := p.Tables
	now := tablesOf{t.Known, t.More, t.Text, t.Open, p.Prefs.Units}
	if now == p.of && p.made.links != nil || !t.Known {
		return
	}
	p.of, p.made = now, tablesMade{links: present.TableLinks(t.Book)}
	o := present.Options{Units: p.Prefs.Units}
	if t.Open != "" {
		head, entries, ok := present.NewTable(t.Book, t.Open, o)
		p.made.heads, p.made.entries, p.made.missing = []present.TableHead{head}, entries, !ok
		return
	}
	hits := t.Found
	if !t.More && len(hits) > tablesFirst {
		hits = hits[:tablesFirst]
	}
	p.made.heads, p.made.entries = present.FoundHeads(t.Book, hits, o), present.FoundEntries(t.Book, hits, o)
}

func (p *Tables) onType(ctx app.Context, text string) {
	action.Post(ctx, state.TablesTyped{Text: text})
}

// tableButton opens one table.
type tableButton struct {
	app.Compo

	ID, Title, Count string
}

// CompoID keeps the handler of one table from passing to another.
func (b *tableButton) CompoID() string { return "table-" + b.ID }

// Render shows the title and how many entries there are.
func (b *tableButton) Render() app.UI {
	return app.Button().Type("button").Class("big", "big-plain", "table-button").DataSet("act", "table-"+b.ID).OnClick(b.onClick).Body(
		app.Span().Class("big-label").Text(words.Text(b.Title)), app.Span().Class("chip-note").Text(words.Text(b.Count)))
}

func (b *tableButton) onClick(ctx app.Context, _ app.Event) {
	action.Post(ctx, state.TableOpened{ID: b.ID})
}
