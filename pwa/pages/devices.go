package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Devices is the page of what this device shares with others: joining a shop, how far both sides are in step, the shop's devices.
type Devices struct {
	app.Compo

	Sync   state.Sync
	Splits state.Splits
}

var _ app.Mounter = (*Devices)(nil)

// OnMount reads the list of devices: it changes elsewhere.
func (d *Devices) OnMount(ctx app.Context) { action.Post(ctx, state.DevicesAsked{}) }

// Render shows the way in, or what there is inside. What a run finds in two versions comes below its button, which must not slip
// from under a finger.
func (d *Devices) Render() app.UI {
	if !d.Sync.Linked.Paired() {
		return widgets.Page("Do you use more than one device?", d.report(), splits(d.Splits), d.join(), whereCodes())
	}
	return widgets.Page("Is everything on the server?", d.report(), d.status(), splits(d.Splits), d.photos(), d.invite(), d.list(), d.leave())
}

func (d *Devices) report() app.UI {
	return app.Div().Aria("live", "polite").Body(app.If(d.Sync.Report != "", func() app.UI {
		return app.P().Class("soon").DataSet("val", "sync-report").Body(widgets.MarkShape(widgets.MarkDone), app.Text(" "), app.Span().Text(words.Text(d.Sync.Report)))
	}))
}

// join asks for a code and a name; a code that came with the address is filled in.
func (d *Devices) join() app.UI {
	j := d.Sync.Join
	label := "Join the shop"
	if j.Busy {
		label = "Joining …"
	}
	return widgets.Card("Join a shop",
		app.P().Text(words.Text("What is on this device goes into the shop, and what is in the shop comes here. Nothing is lost on either side, and everything keeps working without the network.")),
		app.If(j.Scanned, func() app.UI {
			return app.P().Class("quiet").DataSet("val", "join-scanned").Text(words.Text("The code came with the address you opened."))
		}),
		app.Div().Class("join-code").Body(&widgets.TextField{ID: "join-code", Act: "join-code", Type: "tel", Label: "Code", Help: "Eight digits.", Value: j.Code, OnInput: d.onJoin("code")}),
		&widgets.TextField{ID: "join-name", Act: "join-name", Label: "Name of this device", Help: "To know it by in the list.", Value: j.Name, OnInput: d.onJoin("name")},
		problem(j.Error, "join-error"),
		&widgets.BigButton{Act: "join", Label: label, Kind: widgets.Main, Disabled: j.Busy, OnPress: post(state.JoinRequested{})},
	)
}

func (d *Devices) onJoin(field string) func(app.Context, string) {
	return func(ctx app.Context, text string) { action.Post(ctx, state.JoinTyped{Field: field, Text: text}) }
}

// whereCodes tells where a code comes from.
func whereCodes() app.UI {
	ways := []string{
		"From a device that is in the shop: Bench, Devices and sync, “Let another device in”. Scan its picture with the camera of this one, or type the digits.",
		"The first one from the server: it shows a code when it starts, and “torchside pair” on its machine makes another.",
		"A code lets one device in, once, within ten minutes.",
	}
	return widgets.Card("Where the code comes from", app.Ul().Class("steps").Body(
		app.Range(ways).Slice(func(i int) app.UI { return app.Li().Text(words.Text(ways[i])) })))
}

// problem shows what went wrong, in words and with a shape.
func problem(text, val string) app.UI {
	return app.Div().Class("field-error").Aria("live", "assertive").Body(app.If(text != "", func() app.UI {
		return app.P().DataSet("val", val).Body(widgets.MarkShape(widgets.MarkStop), app.Text(" "), app.Span().Text(words.Text(text)))
	}))
}

// status says how both sides stand.
func (d *Devices) status() app.UI {
	s := d.Sync
	f := present.SyncFacts{Waiting: s.Waiting, Photos: s.Progress.Photos, AllPhotos: s.Progress.AllPhotos, Left: s.Progress.Left, Synced: s.Linked.Synced}
	line := f.SyncLine()
	if s.Out {
		line = "this device was put out: nothing is exchanged"
	}
	facts := []app.UI{
		widgets.OwnFact("Shop", s.Linked.Shop, "sync-shop"), widgets.OwnFact("This device", s.Linked.Name, "sync-device"),
		widgets.Fact("Entries", line, "sync-line"), widgets.Fact("Last in step", present.DayAndTime(s.Linked.Synced), "sync-last"),
	}
	if line := f.PhotoLine(); line != "" {
		facts = append(facts, widgets.Fact("Photos", line, "sync-photos"))
	}
	label := "Bring in step now"
	if s.Running {
		label = "Working …"
	}
	return widgets.Card("How it stands",
		widgets.Facts(facts...), d.trouble(),
		&widgets.BigButton{Act: "sync-now", Label: label, Kind: widgets.Main, Disabled: s.Running, OnPress: post(state.SyncAsked{})})
}

// trouble says why the last run failed, and what it could not settle.
func (d *Devices) trouble() app.UI {
	s := d.Sync
	return app.Div().Aria("live", "polite").Body(
		app.If(s.Reason != "", func() app.UI { return app.Div().DataSet("val", "sync-reason").Body(caution(s.Reason)) }),
		app.If(s.Refused > 0, func() app.UI {
			return app.Div().DataSet("val", "sync-refused").Body(
				caution(words.S("The server did not take %s of the changes. They stay on this device and are in every export.", itoa(s.Refused))),
				app.Ul().Class("quiet").Body(app.Range(s.Reasons).Slice(func(i int) app.UI { return app.Li().Text(words.S("Its reason: %s", s.Reasons[i])) })))
		}),
		app.If(s.Progress.Later > 0, func() app.UI {
			return app.P().Class("quiet").DataSet("val", "sync-later").Text(words.S("%s photo files could not be exchanged yet; they are tried again with the next run.", itoa(s.Progress.Later)))
		}),
		app.If(s.Progress.Damaged > 0, func() app.UI {
			return caution(words.S("%s photo files are damaged, here or on the server, and were not exchanged.", itoa(s.Progress.Damaged)))
		}),
		app.If(s.Progress.Replaced, func() app.UI {
			return app.P().Class("quiet").Text(words.Text("The server was set up anew or put back to an older state: this device has offered it everything again."))
		}))
}

// photos asks when photos go over the network.
func (d *Devices) photos() app.UI {
	s := d.Sync
	choice := s.Linked.Photos
	if choice == state.PhotosAlways {
		choice = "always"
	}
	return widgets.Card("Photos over the network",
		&widgets.ChoiceGroup{ID: "sync-photos", Act: "sync-photos", Label: "When are photos exchanged?", Selected: choice, OnChoose: onPhotosWhen, Choices: []widgets.Choice{
			{Value: "always", Label: "Always"}, {Value: state.PhotosFree, Label: "Wi-Fi only"}}},
		app.If(s.Linked.Photos == state.PhotosFree && s.Progress.CostUnknown, func() app.UI {
			return app.P().DataSet("val", "sync-cost").Text(words.Text("This browser does not tell what the connection costs. Photos wait until you send them by hand."))
		}),
		app.If(s.Progress.Left > 0, func() app.UI {
			return &widgets.BigButton{Act: "sync-photos-now", Label: "Exchange photos now", OnPress: post(state.SyncAsked{Photos: true})}
		}))
}

func onPhotosWhen(ctx app.Context, value string) {
	if value != state.PhotosFree {
		value = state.PhotosAlways
	}
	action.Post(ctx, state.PhotosWhen{When: value})
}
