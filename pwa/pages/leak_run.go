package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// leakTest shows one test: while it runs the clock and the next reading, once there are two readings the verdict.
type leakTest struct {
	app.Compo

	View    state.LeakView
	Now     int64
	Timers  state.Timers
	Spoken  bool
	Options present.Options
}

// CompoID makes another test a new one, so that no typed text passes over.
func (t *leakTest) CompoID() string { return "leak-test-" + t.View.Test.ID }

func (t *leakTest) runs() bool { return t.View.Test.Ended == 0 }

// isDue reports whether it is time to read again.
func (t *leakTest) isDue() bool { return t.View.Timer != nil && t.View.Timer.Left(t.Now) <= 0 }

// Render puts the verdict first once there is one, and the next reading before the clock once it is time for it.
func (t *leakTest) Render() app.UI {
	return widgets.Page("Is it tight?",
		app.P().Class("word").DataSet("val", "leak-section").Body(widgets.HoseName(present.HoseFor(t.View.GasName, t.Options.Region), t.View.Name)),
		t.verdict(),
		app.If(t.runs() && t.isDue(), t.next),
		app.If(t.runs(), t.clock),
		app.If(t.runs() && !t.isDue(), t.next),
		t.finding(),
		t.joints(),
		t.meaning(),
		t.readings(),
		t.ways(),
	)
}

// shown is the verdict ready to show; ok is false while there is none.
func (t *leakTest) shown() (present.LeakVerdict, bool) {
	a := t.View.Answer
	if a == nil || a.Problem != "" {
		return present.LeakVerdict{}, false
	}
	return present.NewLeakVerdict(present.LeakInput{
		Section: t.View.Test.Section, Gas: t.View.Test.Gas, Verdict: a.Verdict, Sized: a.Sized(), Leak: a.Leak,
		Smallest: a.Smallest, Allowed: a.Allowed, Default: a.Default, Certain: a.Certain, Small: a.Small, More: a.More, Elapsed: a.Elapsed,
		Tight: a.Tight, Notes: a.Notes, Finding: a.Finding, Losses: a.Losses, Air: a.Air, AtMost: a.AtMost,
	}, t.Options), true
}

func (t *leakTest) verdict() app.UI {
	v, ok := t.shown()
	return app.Div().Class("stack").Aria("live", "polite").Body(
		app.If(ok, func() app.UI { return widgets.Verdict(v, t.runs()) }),
		app.If(ok && t.runs() && v.Longer > 0, func() app.UI { return t.longer(v.Longer) }),
		app.If(ok && t.runs(), func() app.UI {
			return &widgets.BigButton{Act: "leak-end", Label: "End the test with this verdict", Kind: mainIf(v.Decided()), OnPress: post(state.LeakEnded{ID: t.View.Test.ID})}
		}),
		app.If(t.View.Answer != nil && t.View.Answer.Problem != "", func() app.UI { return stopLine(t.View.Answer.Problem, "leak-problem") }),
	)
}

// mainIf makes a button the main one of the page, or one of the rest.
func mainIf(yes bool) widgets.ButtonKind {
	if yes {
		return widgets.Main
	}
	return widgets.Plain
}

// longer lets an undecided test go on.
func (t *leakTest) longer(minutes int) app.UI {
	timer := t.View.Timer
	return app.If(timer != nil && timer.Left(t.Now) <= 0, func() app.UI {
		return &widgets.BigButton{Act: "leak-longer", Label: words.S("Go on for %s min", itoa(minutes)), Kind: widgets.Main, Arms: true,
			OnPress: post(state.TimerLonger{ID: timer.ID, Minutes: minutes})}
	})
}

// clock shows what is left, and what the device can do when the time is up.
func (t *leakTest) clock() app.UI {
	timer := t.View.Timer
	if timer == nil {
		return app.P().DataSet("val", "timer.word").Text(words.S("Runs since %s, without a timer.", present.Moment(t.View.Test.Start)))
	}
	return widgets.Card("",
		widgets.CountDown(present.CountDown(timer.Left(t.Now)), t.clockWord(*timer), passed(*timer, t.Now)),
		app.P().Class("quiet").DataSet("val", "timer.device").Text(words.Text(deviceWords(t.Timers))),
		&widgets.BigButton{Act: "timer-spoken", Label: spokenLabel(t.Spoken), Arms: true, OnPress: post(state.SpokenToggled{})},
	)
}

func (t *leakTest) clockWord(timer state.Timer) string {
	if timer.Left(t.Now) > 0 && !timer.Before(t.Now) {
		return "left until you read the gauge again"
	}
	return timerWords(timer, t.Now)
}

// passed is how much of a timer has run, in hundredths.
func passed(t state.Timer, now int64) int {
	return int(max(0, min(100, 100-100*t.Left(now)/max(1, t.Duration))))
}

func spokenLabel(on bool) string {
	if on {
		return "Spoken marks: on"
	}
	return "Spoken marks: off"
}

// deviceWords say honestly what will and what will not be heard.
func deviceWords(t state.Timers) string {
	text := map[string]string{
		state.AwakeHeld: "The screen is kept on.", state.AwakeRefused: "This device does not keep the screen on now.", state.AwakeNone: "This browser cannot keep the screen on.",
		state.AwakeOff: "Keeping the screen on is switched off for this phone.",
	}[t.Awake]
	switch t.Sound {
	case state.SoundReady:
		text += words.T(" Sound is ready.")
	case state.SoundOff:
		text += words.T(" Sound is switched off for this phone.")
	case state.SoundBlocked:
		text += words.T(" Sound is blocked until you touch the page.")
	default:
		text += words.T(" Sound is off until you touch a button here.")
	}
	return words.S("%s No browser can ring at a set time on a locked phone: keep this screen open, or set a phone alarm too.", text)
}

// next takes the next reading.
func (t *leakTest) next() app.UI {
	v := t.View
	decided, _ := t.shown()
	body := fields(v.Fields, "leak-reading", t.onTyped, t.onTyped)
	for _, f := range v.Fields {
		if same, ok := v.Same[f.Key]; ok {
			body = append(body, &widgets.SmallButton{Act: "leak-same-" + f.Key, Label: words.S("%s: as before, %s", f.Label, same),
				OnPress: post(state.ReadingTyped{ID: v.Test.ID, Key: f.Key, Text: same})})
		}
	}
	body = append(body,
		app.Div().Aria("live", "assertive").Body(app.If(v.Problem != "", func() app.UI { return stopLine(v.Problem, "leak-reading-problem") })),
		&widgets.BigButton{Act: "leak-note", Label: "Note this reading", Note: "now, with the time", Kind: mainIf(!decided.Decided()), OnPress: post(state.ReadingTaken{ID: v.Test.ID})})
	return widgets.Card("Read again, at any time", body...)
}

func (t *leakTest) onTyped(ctx app.Context, key, text string) {
	action.Post(ctx, state.ReadingTyped{ID: t.View.Test.ID, Key: key, Text: text})
}

// finding says which side to look at.
func (t *leakTest) finding() app.UI {
	v, ok := t.shown()
	return app.If(ok && v.Finding != nil, func() app.UI {
		return widgets.Card("Where?",
			app.P().Class("word").DataSet("val", "leak-finding").Text(words.Text(v.Finding.Text)),
			app.P().Text(words.Text(v.Finding.Next)),
			app.P().Class("step-source").Text(words.S("Source: %s.", v.Finding.Source)))
	})
}

// meaning says what the leak costs and what it does to the room.
func (t *leakTest) meaning() app.UI {
	v, ok := t.shown()
	return app.If(ok && len(v.Meaning)+len(v.Notes) > 0, func() app.UI {
		return widgets.Card("What it means",
			widgets.FactList(v.Meaning),
			widgets.WarningList(v.Notes))
	})
}

// readings lists what was read.
func (t *leakTest) readings() app.UI {
	list := t.View.Readings(t.Options.Units)
	return widgets.Card("Readings",
		app.Ol().Class("readings").DataSet("val", "leak-readings").Body(app.Range(list).Slice(func(i int) app.UI {
			return app.Li().Body(app.Span().Class("reading-at").Text(words.Text(list[i].At)), app.Span().Class("reading-words").Text(words.Text(list[i].Text)))
		})),
		app.If(t.runs() && len(list) > 1, func() app.UI {
			return &widgets.SmallButton{Act: "leak-drop-reading", Label: "Take the last one back", OnPress: post(state.ReadingDropped{ID: t.View.Test.ID})}
		}))
}

// ways leads on.
func (t *leakTest) ways() app.UI {
	id := t.View.Test.ID
	return widgets.Actions(
		app.If(!t.runs(), func() app.UI {
			return &widgets.BigButton{Act: "leak-retest", Label: "Test it again", Note: "linked to this test", Kind: widgets.Main,
				OnPress: post(state.LeakBegun{Section: string(t.View.Test.Section), Line: t.View.Test.Line(), RetestOf: id})}
		}),
		t.links(),
		&widgets.BigButton{Act: "leak-close", Label: "All leak tests", OnPress: post(state.LeakClosed{})},
		&widgets.BigButton{Act: "leak-drop", Label: "Delete this test", Note: "can be undone", Kind: widgets.Danger, OnPress: post(state.LeakDropped{ID: id})},
	)
}

// links lead to the test this one repeats, and to those that repeat it.
func (t *leakTest) links() app.UI {
	var list []app.UI
	if of := t.View.Test.RetestOf; of != "" {
		list = append(list, &widgets.BigButton{Act: "leak-first", Label: "The test before it", OnPress: post(state.LeakOpened{ID: of})})
	}
	for _, id := range t.View.Retests {
		list = append(list, &widgets.BigButton{Act: "leak-again-" + id, Label: "The test after it", OnPress: post(state.LeakOpened{ID: id})})
	}
	return app.Div().Class("actions").Body(list...)
}
