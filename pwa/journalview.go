package pwa

import (
	"net/url"

	"torchside/pwa/state"
)

// viewAsks are the queries of the views of the Journal page and of its list: "?view=drills&drill=ID", "?view=trends&of=speed&for=weld/1-2",
// "?view=compare&a=ID&b=ID", and the filter and the search, as "?work=weld&q=gate".
var viewAsks = []string{"view", "a", "b", "of", "for", "drill", "q", "work", "metal", "joint", "position", "class", "tip", "score", "month", "test", "photo", "draft_only", "sample"}

// viewOpen puts the view, or the filter of the list, into a query.
func viewOpen(q url.Values, j state.Journal) {
	setGiven(q, "view", j.View)
	switch j.View {
	case state.ViewDrills:
		setGiven(q, "drill", j.DrillOpen)
	case state.ViewTrends:
		if j.Measure != state.ByScore {
			setGiven(q, "of", string(j.Measure))
		}
		setGiven(q, "for", j.SeriesKey)
	case state.ViewCompare:
		for i, id := range j.Picked {
			q.Set([]string{"a", "b"}[i], id)
		}
	default:
		filterOpen(q, j.Filter)
		setGiven(q, "q", j.Search)
	}
}

// filterTexts are the choices of the filter by their names in an address.
func filterTexts(f *state.Filter) map[string]*string {
	return map[string]*string{"work": &f.Work, "metal": &f.Metal, "joint": &f.Joint, "position": &f.Position, "class": &f.Class, "tip": &f.Tip,
		"drill": &f.Drill, "score": &f.Score, "month": &f.Month, "test": &f.Test}
}

func filterOpen(q url.Values, f state.Filter) {
	for name, text := range filterTexts(&f) {
		setGiven(q, name, *text)
	}
	for name, on := range map[string]bool{"photo": f.Photo, "draft_only": f.Draft, "sample": f.Sample} {
		if on {
			q.Set(name, "yes")
		}
	}
}

// viewLinked reads a view or a filter; nil when there is neither.
func viewLinked(q url.Values) state.Msg {
	m := state.JournalAsked{View: q.Get("view"), A: q.Get("a"), B: q.Get("b"), Measure: state.Measure(q.Get("of")), Series: q.Get("for")}
	if m.View == "" {
		for name, text := range filterTexts(&m.Filter) {
			*text = q.Get(name)
		}
		m.Filter.Photo, m.Filter.Draft, m.Filter.Sample = q.Has("photo"), q.Has("draft_only"), q.Has("sample")
		m.Search = q.Get("q")
	} else {
		m.Drill = q.Get("drill")
	}
	if m == (state.JournalAsked{}) {
		return nil
	}
	return m
}
