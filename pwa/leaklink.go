package pwa

import (
	"net/url"

	"torchside/pwa/state"
)

// leakAsks are the queries of the Leak test page: "/leak?test=ID" shows a test, "?section=CODE&line=oxygen" prepares one ("&retest=ID" of one
// before it), and "&stage=readings" reads the gauges for it. So the way back goes through the stages, and from a test to the list.
var leakAsks = []string{"test", "section", "line", "retest", "stage"}

// leakOpen puts what is open on the Leak test page into a query.
func leakOpen(q url.Values, l state.Leak) {
	switch {
	case l.Stage != state.LeakHome:
		q.Set("section", string(l.Section))
		q.Set("line", l.Line())
		setGiven(q, "retest", l.RetestOf)
		if l.Stage == state.LeakReadings {
			q.Set("stage", l.Stage)
		}
	case l.Shown != nil:
		q.Set("test", l.Shown.Test.ID)
	}
}

// leakLinked reads what an address asks of the Leak test page; nil when it asks for nothing.
func leakLinked(q url.Values) state.Msg {
	switch {
	case q.Has("test"):
		return state.LeakOpened{ID: q.Get("test")}
	case q.Has("section"):
		return state.LeakBegun{Section: q.Get("section"), Line: q.Get("line"), RetestOf: q.Get("retest"), Stage: q.Get("stage")}
	}
	return nil
}

// leakLeaving is the message that goes one stage back.
func leakLeaving(l state.Leak) state.Msg {
	if l.Stage != state.LeakHome {
		return state.LeakBack{}
	}
	return state.LeakClosed{}
}
