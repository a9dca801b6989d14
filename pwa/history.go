package pwa

import (
	"net/url"
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/site"
	"torchside/pwa/state"
)

// What lies over a page (a form of Rig, the sheet of Setup, a leak test) has an address of its own: the page's, with a query. So the
// way back of browser and phone closes it and stays on the page, the way forward opens it again, and a reload keeps it.

// overMark is the state of a history entry that was made for what lies over a page: the entry below it is the bare page, or what lies less
// deep.
const overMark = "over"

// overlay is the query of what lies over a page now, "" when nothing does.
func overlay(path string, a state.App) string {
	q := url.Values{}
	f := a.Rig.Form
	switch {
	case path == "/" && a.Setup.OpenProvenance != "":
		q.Set("from", a.Setup.OpenProvenance)
	case path == "/journal":
		journalOpen(q, a.Journal)
	case path == "/leak":
		leakOpen(q, a.Leak)
	case path == ordersPath:
		orderOpen(q, a.Orders)
	case path == tablesPath:
		tablesOpen(q, a.Tables)
	case path == upkeepPath:
		upkeepOpen(q, a.Upkeep)
	case path == "/rig" && f != nil && f.ID != "":
		q.Set("edit", f.ID)
	case path == "/rig" && f != nil:
		setGiven(q, "add", string(f.Kind))
		setGiven(q, "line", f.Line)
		setGiven(q, "tip", f.TipID)
		setGiven(q, "draft", f.DraftKey())
	}
	return q.Encode()
}

func setGiven(q url.Values, name, value string) {
	if value != "" {
		q.Set(name, value)
	}
}

// asked is the part of an address that opens something over its page; whatever else stands in the query is nothing of ours.
func asked(u *url.URL) string {
	known := map[string][]string{"/": {"from"}, "/rig": {"edit", "add", "line", "tip", "draft"}, "/journal": journalAsks, "/leak": leakAsks, ordersPath: orderAsks, tablesPath: tablesAsks, upkeepPath: upkeepAsks}[u.Path]
	q := url.Values{}
	for _, name := range known {
		setGiven(q, name, u.Query().Get(name))
	}
	if u.Path == "/journal" && u.Query().Has("new") {
		q.Set("new", u.Query().Get("new"))
	}
	return q.Encode()
}

// leaving is the message that closes what lies over a page.
func leaving(path string, a state.App) state.Msg {
	switch path {
	case "/":
		return state.ProvenanceClosed{}
	case "/journal":
		return journalLeaving(a.Journal)
	case "/leak":
		return leakLeaving(a.Leak)
	case ordersPath:
		return state.OrderClosed{}
	case tablesPath:
		return state.TablesClosed{}
	case upkeepPath:
		return upkeepLeaving(a.Upkeep)
	}
	return state.FormLeft{}
}

// arrive follows an address the person has gone to. What is open on a page they come back to stays open.
func (s *Shell) arrive(ctx app.Context, u *url.URL, moved bool) {
	want, have, link := asked(u), overlay(s.path, s.app), linked(u)
	s.shown = want
	again := s.arrived && over()
	s.arrived = true
	switch {
	case s.stepping: // our own step back, from what is closed already
		s.stepping = false
	case want != "" && want == have:
	case again && s.app.Ready && isOver(u, s.app): // the way forward, to what is saved or put away
		s.stepBack()
	case depth(want) < depth(have) && !moved:
		s.take(ctx, leaving(s.path, s.app))
	case link != nil:
		s.link = link
		s.followLink(ctx)
	}
	s.sync(ctx)
}

// depth is how many entries what an overlay names lies above its bare page.
func depth(query string) int {
	switch q, err := url.ParseQuery(query); {
	case err != nil || query == "":
		return 0
	case q.Get("stage") == state.LeakReadings, q.Has("look"):
		return 2
	}
	return 1
}

// isOver reports whether an address once opened something that cannot be gone on with: the form of a new part that is saved or put away,
// a leak test that has begun, a photo of a sheet.
func isOver(u *url.URL, a state.App) bool {
	q := u.Query()
	switch {
	case u.Path == "/rig" && q.Has("add"):
		return !slices.ContainsFunc(a.Rig.Unfinished, func(f state.Unfinished) bool { return f.Key == q.Get("draft") })
	case u.Path == "/leak" && q.Get("stage") == state.LeakReadings:
		return !a.Planned(q.Get("section"), q.Get("line"))
	case u.Path == "/journal":
		return q.Has("look")
	}
	return false
}

// over reports whether the browser stands at an entry made for what lies over a page.
func over() bool {
	if app.IsServer {
		return false
	}
	mark := app.Window().Get("history").Get("state")
	return mark.Type() == app.TypeString && mark.String() == overMark
}

// stepBack goes one entry back; arriving there closes nothing.
func (s *Shell) stepBack() {
	s.stepping = true
	app.Window().Get("history").Call("back")
}

// sync makes the address follow what was opened or closed by a tap.
func (s *Shell) sync(ctx app.Context) {
	if app.IsServer || !s.app.Ready || s.link != nil || s.stepping {
		return
	}
	have, was := overlay(s.path, s.app), s.shown
	if have == was {
		return
	}
	s.shown = have
	to := site.At((&url.URL{Path: s.path, RawQuery: have}).String())
	history := app.Window().Get("history")
	switch {
	case depth(have) < depth(was) && over():
		s.stepBack()
	case depth(have) > depth(was):
		ctx.Navigate(to)
		history.Call("replaceState", overMark, "", to)
	default:
		history.Call("replaceState", history.Get("state"), "", to)
	}
}
