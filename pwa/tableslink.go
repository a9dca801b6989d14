package pwa

import (
	"net/url"

	"torchside/pwa/state"
)

// tablesPath is the page of bench tables.
const tablesPath = benchPath + "/tables"

// tablesAsks are the queries of that page: "?table=ID" shows a table, "?find=TEXT" what a search finds.
var tablesAsks = []string{"table", "find"}

// tablesOpen puts what is open on the page into a query.
func tablesOpen(q url.Values, t state.Tables) {
	setGiven(q, "table", t.Open)
	setGiven(q, "find", t.Text)
}

// tablesLinked reads what an address asks of the page; nil when it asks for nothing.
func tablesLinked(q url.Values) state.Msg {
	switch {
	case q.Get("table") != "":
		return state.TableOpened{ID: q.Get("table")}
	case q.Get("find") != "":
		return state.TablesTyped{Text: q.Get("find")}
	}
	return nil
}
