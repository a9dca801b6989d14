package pwa

import (
	"net/url"

	"torchside/pwa/state"
)

// linked reads what an address asks of its page: "/rig?edit=ID" opens a part, "/rig?add=hose&line=fuel" a new one, "/?from=KEY" where a number of the card comes from,
// "/leak?test=ID" a leak test, "/leak?section=oxygen_delivery" a new one. It is nil when it asks for nothing.
func linked(u *url.URL) state.Msg {
	q := u.Query()
	switch {
	case u.Path == "/leak":
		return leakLinked(q)
	case u.Path == ordersPath:
		return orderLinked(q)
	case u.Path == "/journal":
		return journalLinked(q)
	case u.Path == upkeepPath:
		return upkeepLinked(q)
	case u.Path == tablesPath:
		return tablesLinked(q)
	case u.Path == "/" && q.Has("from"):
		return state.ProvenanceOpened{Key: q.Get("from")}
	case u.Path != "/rig":
		return nil
	case q.Has("edit"):
		return state.PartOpened{ID: q.Get("edit")}
	case q.Has("add"):
		return state.PartAdded{Kind: state.Kind(q.Get("add")), Line: q.Get("line"), TipID: q.Get("tip"), Draft: q.Get("draft")}
	}
	return nil
}
