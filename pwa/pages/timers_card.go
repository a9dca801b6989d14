package pages

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
	"torchside/pwa/site"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// timerCard is one running timer in full.
type timerCard struct {
	app.Compo

	Timer state.Timer
	Href  string // of what it is for; the page itself for one of the owner's own
	Now   int64
	Torch int // minutes between two questions about the torch
}

// CompoID keeps the handlers of one timer from passing to another.
func (c *timerCard) CompoID() string { return "timer-card-" + c.Timer.ID }

// Render shows the time left in large digits, when it ends by the clock on the wall, and what can be done.
func (c *timerCard) Render() app.UI {
	t := c.Timer
	return widgets.Card(t.Label,
		widgets.CountDown(present.CountDown(t.Left(c.Now)), c.word(), passed(t, c.Now)),
		app.If(t.Every > 0, func() app.UI {
			return app.P().Class("quiet").DataSet("val", "timer.rounds").Text(words.S("%s of the room noted, one asked for every %s.", words.Count(len(t.Rounds), "round"), present.CountDown(t.Every)))
		}),
		app.If(c.Href != timersPath, func() app.UI { return widgets.BigLink("timer-for-"+t.ID, "To its leak test", c.Href, widgets.Plain) }),
		app.If(t.Purpose != state.PurposeLit && !due(t, c.Now), c.ways))
}

// word says how it stands.
func (c *timerCard) word() string {
	t := c.Timer
	if t.State != state.TimerRunning || t.Left(c.Now) <= 0 || t.Before(c.Now) {
		return timerWords(t, c.Now)
	}
	return words.S("left, until %s", endsAt(t, c.Now))
}

// endsAt is the time of day a running timer ends, with the day when it is another one.
func endsAt(t state.Timer, now int64) string {
	end, here := time.UnixMilli(now+t.Left(now)), time.UnixMilli(now)
	if end.YearDay() != here.YearDay() || end.Year() != here.Year() {
		return end.Format("2006-01-02 15:04")
	}
	return end.Format("15:04")
}

// ways pause it, give it more time, or stop it.
func (c *timerCard) ways() app.UI {
	t := c.Timer
	label := "Pause"
	if t.State == state.TimerPaused {
		label = "Go on"
	}
	if t.Before(c.Now) {
		return app.Div().Class("pairs").Body(
			&widgets.BigButton{Act: "timer-again-" + t.ID, Label: "Begin again now", Note: "the clock was set back", OnPress: post(state.TimerRestarted{ID: t.ID})},
			c.stop())
	}
	return app.Div().Class("actions").Body(
		app.Div().Class("pairs").Body(
			&widgets.BigButton{Act: "timer-pause-" + t.ID, Label: label, Arms: true, OnPress: post(state.TimerPauseToggled{ID: t.ID})},
			&widgets.BigButton{Act: "timer-more-" + t.ID, Label: "5 min more", Arms: true, OnPress: post(state.TimerLonger{ID: t.ID, Minutes: 5})}),
		app.If(t.For == "", c.stop))
}

// stop ends one of the owner's own; that of a leak test ends with the test.
func (c *timerCard) stop() app.UI {
	return &widgets.BigButton{Act: "timer-stop-" + c.Timer.ID, Label: "Stop it", Note: "can be undone", Kind: widgets.Danger, OnPress: post(state.TimerEnded{ID: c.Timer.ID})}
}

// timerAsks are the answers to what a timer asks now: that it was heard, that somebody went round, whether the torch burns.
func timerAsks(t state.Timer, now int64) app.UI {
	ended := due(t, now)
	switch {
	case ended && t.Purpose == state.PurposeLit:
		return app.Div().Class("timer-asks").Body(
			&widgets.SmallButton{Act: "torch-still-" + t.ID, Label: "Still lit", OnPress: post(state.TorchLit{})},
			&widgets.SmallButton{Act: "torch-is-out-" + t.ID, Label: "It is out", OnPress: torchOut})
	case ended:
		return &widgets.SmallButton{Act: "timer-heard-" + t.ID, Label: "I heard it", OnPress: post(state.TimerAcknowledged{ID: t.ID})}
	case t.RoundDue(now):
		return &widgets.SmallButton{Act: "timer-round-" + t.ID, Label: "I went round", OnPress: post(state.TimerRound{ID: t.ID})}
	}
	return app.Text("")
}

// torchOut ends the reminder and leads to the fire watch.
func torchOut(ctx app.Context) {
	post(state.TorchOut{})(ctx)
	ctx.Navigate(site.At(timersPath))
}
