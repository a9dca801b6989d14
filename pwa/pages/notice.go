package pages

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/site"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Notices shows the standing notices above every page.
type Notices struct {
	app.Compo

	Notices []state.Notice
}

// Render shows one line each; a store that refused something also offers to try again.
func (n *Notices) Render() app.UI {
	return app.Div().Class("standing").Aria("live", "polite").Body(
		app.Range(n.Notices).Slice(func(i int) app.UI { return notice(n.Notices[i]) }),
		app.If(n.canRetry(), func() app.UI {
			return &widgets.BigButton{Act: "retry-save", Label: "Try to save again", OnPress: post(state.RetryRequested{})}
		}))
}

func (n *Notices) canRetry() bool {
	for _, one := range n.Notices {
		if one.Retry {
			return true
		}
	}
	return false
}

func notice(n state.Notice) app.UI {
	w := &widgets.Notice{Code: n.Code, Text: n.Text}
	switch n.Level {
	case state.LevelStop:
		w.Mark, w.Word = widgets.MarkStop, "Stop."
	case state.LevelCaution:
		w.Mark, w.Word = widgets.MarkCaution, "Caution."
	default:
		w.Mark, w.Word = widgets.MarkNote, "Note."
	}
	switch n.Action {
	case state.ActionExport:
		w.Action, w.OnAction = "Export what I have", post(state.ExportRequested{})
	case state.ActionRestart:
		w.Action, w.OnAction = "Restart", post(state.RestartRequested{})
	case state.ActionTrustClock:
		w.Action, w.OnAction = "Go by the clock", post(state.WallClockTrusted{})
	case state.ActionPutAway:
		w.Action, w.OnAction = "I have read it", post(state.NoticePutAway{Code: n.Code})
	}
	return w
}

// post makes the handler that sends one message.
func post(m state.Msg) func(app.Context) {
	return func(ctx app.Context) { action.Post(ctx, m) }
}

// Status is the bar over the bottom bar: what was saved, and what can be taken back.
type Status struct {
	app.Compo

	Saved   state.SaveState
	Undo    *state.Undo
	Sync    string // one of the Sync constants of state
	Waiting int    // changes to be sent
}

// Render shows the word of the newest change, and the way back while there is one.
func (s *Status) Render() app.UI {
	bar := app.Section().Class("status-bar").Aria("label", words.Text("What was saved"))
	if s.Undo != nil {
		bar = bar.Class("status-up") // the way back must not wait at the end of a long page
	}
	return bar.Body(
		app.If(s.Undo != nil, func() app.UI {
			return app.Div().Class("undo").Body(
				app.Span().Class("undo-text").Text(words.Text(s.Undo.Text)),
				&widgets.SmallButton{ID: "undo", Act: "undo", Label: s.way(), OnPress: post(state.UndoRequested{})},
				&widgets.SmallButton{ID: "undo-dismiss", Act: "undo-dismiss", Label: "OK", OnPress: post(state.UndoDismissed{})},
			)
		}),
		app.P().Class("saved").Aria("live", "polite").DataSet("val", "saved").DataSet("count", strconv.Itoa(s.Saved.Count)).Body(s.word()),
		s.syncWord(),
	)
}

// way is the label of the way back.
func (s *Status) way() string {
	if s.Undo.Way != "" {
		return s.Undo.Way
	}
	return "Undo"
}

func (s *Status) word() app.UI {
	switch s.Saved.State {
	case state.SaveBusy:
		return app.Span().Text(words.Text("Saving …"))
	case state.SaveDone:
		return app.Span().Class("saved-word").Body(widgets.MarkShape(widgets.MarkDone), app.Span().Text(words.Text(" Saved on this device")))
	case state.SaveFailed:
		return app.Span().Class("saved-word").Body(widgets.MarkShape(widgets.MarkStop), app.Span().Text(words.S(" Not saved: %s", s.Saved.Reason)))
	}
	return app.Span()
}

// syncWord says in one quiet line how device and server stand.
func (s *Status) syncWord() app.UI {
	mark, text := widgets.MarkNote, ""
	switch s.Sync {
	case state.SyncBusy:
		text = "Sending to the server …"
	case state.SyncServer:
		mark, text = widgets.MarkDone, "On the server"
	case state.SyncWaiting:
		text = "Waiting for the server"
		if s.Waiting > 0 {
			text = words.S("%s waiting for the server", itoa(s.Waiting))
		}
	case state.SyncNeeds:
		mark, text = widgets.MarkCaution, "Needs you: Devices and sync"
	}
	return app.If(text != "", func() app.UI {
		return app.P().Class("saved").DataSet("val", "sync").DataSet("state", s.Sync).Body(
			app.A().Class("sync-word").DataSet("act", "to-sync").Href(site.At("/devices")).Body(widgets.MarkShape(mark), app.Text(" "), app.Span().Text(words.Text(text))))
	})
}

// Safety is the notice that is accepted before the first start.
type Safety struct {
	app.Compo

	Guide bool // the first steps follow
}

// Render shows the notice and the one way on.
func (s *Safety) Render() app.UI {
	return widgets.Page("What must you know before you start?",
		safetyText(),
		&widgets.BigButton{Act: "notice-accept", Label: "I have read this", Kind: widgets.Main, OnPress: post(state.NoticeAccepted{Guide: s.Guide})},
		app.P().Class("quiet").Text(words.Text("You find it again under Bench, About.")),
	)
}

func safetyText() app.UI {
	return widgets.Card("", app.Div().Class("stack").DataSet("val", "safety-notice").Body(
		app.Range(state.SafetyNotice).Slice(func(i int) app.UI { return app.P().Text(words.Text(state.SafetyNotice[i])) })))
}

// caution is one thing to mind before what stands below it.
func caution(text string) app.UI {
	return app.Div().Class("notice", "level-caution").DataSet("val", "caution").Body(app.P().Class("notice-text").Body(
		widgets.MarkShape(widgets.MarkCaution), app.Text(" "), app.Strong().Class("word").Text(words.Text("Caution. ")), app.Span().Text(words.Text(text))))
}
