package pwa

import (
	"net/url"
	"strconv"

	"torchside/pwa/state"
)

// upkeepAsks are the queries of the Upkeep page: "/bench/upkeep?task=KEY" opens a task, "&look=0" shows a photo of it large, "&of=ID" that of an
// entry of its history.
var upkeepAsks = []string{"task", "look", "of"}

// upkeepOpen puts what is open on the page into a query.
func upkeepOpen(q url.Values, u state.Upkeep) {
	f := u.Open
	if f == nil {
		return
	}
	q.Set("task", f.Item.Key)
	if f.Look != nil {
		q.Set("look", strconv.Itoa(f.Look.Index))
		setGiven(q, "of", f.LookOf)
	}
}

// upkeepLinked reads what an address asks of the page; nil when it asks for nothing. A photo that is no number is none.
func upkeepLinked(q url.Values) state.Msg {
	switch n, err := strconv.Atoi(q.Get("look")); {
	case !q.Has("task"):
		return nil
	case err == nil:
		return state.UpkeepLooked{Task: q.Get("task"), Of: q.Get("of"), Index: n}
	}
	return state.UpkeepOpened{Key: q.Get("task")}
}

// upkeepLeaving is the message that closes the photo, then the task.
func upkeepLeaving(u state.Upkeep) state.Msg {
	if u.Open != nil && u.Open.Look != nil {
		return state.PhotoLookClosed{}
	}
	return state.UpkeepClosed{}
}
