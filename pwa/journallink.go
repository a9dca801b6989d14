package pwa

import (
	"net/url"
	"strconv"

	"torchside/pwa/state"
)

// journalAsks are the queries of the Journal page that open something over its list: "/journal?sheet=ID" shows a sheet, "?edit=ID" opens
// it for changes, "?draft=KEY" goes on with one begun before, "?new" begins one and "?new=DRILL" one of a drill; "&look=0" stands while a photo
// of it is shown large; and those of its views.
var journalAsks = append([]string{"sheet", "edit", "draft", "new", "look"}, viewAsks...)

// journalOpen puts what is open on the Journal page into a query.
func journalOpen(q url.Values, j state.Journal) {
	switch {
	case j.Editor != nil && j.Editor.ID != "":
		q.Set("edit", j.Editor.ID)
	case j.Editor != nil:
		q.Set("draft", j.Editor.Key)
	case j.Opening.ID != "" && j.Opening.Edit:
		q.Set("edit", j.Opening.ID)
	case j.Opening.ID != "":
		q.Set("sheet", j.Opening.ID)
	case j.Shown != nil:
		q.Set("sheet", j.Shown.ID)
	default:
		viewOpen(q, j)
	}
	if j.Look != nil {
		q.Set("look", strconv.Itoa(j.Look.Index))
	}
}

// journalLinked reads what an address asks of the Journal page; nil when it asks for nothing.
func journalLinked(q url.Values) state.Msg {
	switch {
	case q.Has("sheet"):
		return state.SheetOpened{ID: q.Get("sheet")}
	case q.Has("edit"):
		return state.SheetEdited{ID: q.Get("edit")}
	case q.Has("draft"):
		return state.SheetResumed{Key: q.Get("draft")}
	case q.Has("new"):
		return state.SheetBegun{Drill: q.Get("new")}
	}
	return viewLinked(q)
}

// journalLeaving is the message that closes what is open on the Journal page.
func journalLeaving(j state.Journal) state.Msg {
	switch {
	case j.Look != nil:
		return state.PhotoLookClosed{}
	case j.Editor != nil:
		return state.SheetLeft{}
	case j.Opening.ID != "" || j.Shown != nil:
		return state.SheetClosed{}
	}
	return state.JournalBack{}
}
