package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// invite makes a code for one more device and shows it.
func (d *Devices) invite() app.UI {
	i := d.Sync.Invite
	if i == nil {
		return widgets.Card("Another device",
			&widgets.BigButton{Act: "invite", Label: "Let another device in", Disabled: d.Sync.Devices.Busy || d.Sync.Out, OnPress: post(state.InviteRequested{})},
			problem(d.Sync.Devices.Error, "devices-error"))
	}
	return widgets.Card("Another device",
		app.P().Text(words.S("Scan this with the camera of the other device, or open %s there and type the code.", i.Link[:atHash(i.Link)])),
		widgets.QR(present.QR(i.QR, words.S("Opens the app with the code %s", present.SpacedCode(i.Code)))),
		app.P().Class("invite-code").DataSet("val", "invite-code").Text(words.Text(present.SpacedCode(i.Code))),
		app.P().Class("quiet").DataSet("val", "invite-until").Text(words.S("For one device, once, until %s.", present.TimeOfDay(i.Expires))),
		&widgets.BigButton{Act: "invite-away", Label: "Put the code away", OnPress: post(state.InvitePutAway{})})
}

// atHash is where the secret part of a link begins.
func atHash(link string) int {
	for i, r := range link {
		if r == '#' {
			return i
		}
	}
	return len(link)
}

// list shows the shop's devices.
func (d *Devices) list() app.UI {
	list := d.Sync.Devices
	return widgets.Card("Devices of the shop",
		app.If(len(list.List) == 0, func() app.UI {
			return app.P().Class("quiet").Text(words.Text("The list comes from the server; it was not read yet."))
		}),
		app.Range(list.List).Slice(func(i int) app.UI { return &deviceRow{Device: list.List[i], Devices: list} }),
		problem(list.Error, "devices-list-error"),
		&widgets.BigButton{Act: "devices-read", Label: "Read the list again", Disabled: list.Busy || d.Sync.Out, OnPress: post(state.DevicesAsked{})})
}

// leave takes this device out of the shop; what is on it stays.
func (d *Devices) leave() app.UI {
	asked := d.Sync.Devices.Confirm == d.Sync.Linked.ID
	return widgets.Card("Leave the shop",
		app.P().Text(words.Text("Everything stays on this device. What you enter afterwards is here alone.")),
		app.If(d.Sync.Waiting > 0, func() app.UI {
			return caution(words.S("%s. The others do not get it if you leave now.", present.SyncFacts{Waiting: d.Sync.Waiting}.SyncLine()))
		}),
		app.If(!asked, func() app.UI {
			return &widgets.BigButton{Act: "leave", Label: "Leave the shop", OnPress: post(state.LeaveRequested{})}
		}),
		app.If(asked, func() app.UI {
			return widgets.Actions(
				&widgets.BigButton{Act: "leave-yes", Label: words.S("Yes, leave “%s”", d.Sync.Linked.Shop), Kind: widgets.Danger, Disabled: d.Sync.Devices.Busy, OnPress: post(state.LeaveRequested{})},
				&widgets.BigButton{Act: "leave-no", Label: "Stay", OnPress: post(state.RevokeAsked{})})
		}))
}

// deviceRow is one device of the shop.
type deviceRow struct {
	app.Compo

	Device  state.Device
	Devices state.Devices // what is being done to one of them
}

// CompoID is the device's.
func (r *deviceRow) CompoID() string { return "device-" + r.Device.ID }

// Render shows name and times, and what can be done.
func (r *deviceRow) Render() app.UI {
	d := r.Device
	return app.Div().Class("device").DataSet("val", "device-"+d.ID).Body(
		app.P().Class("device-name").Dir("auto").Text(d.Name),
		app.P().Class("quiet").Text(words.Text(memberWords(d))),
		app.If(d.Revoked == 0, func() app.UI { return r.ways() }))
}

func memberWords(d state.Device) string {
	text := words.S("In the shop since %s, last seen %s.", present.DayAndTime(d.Added), present.DayAndTime(d.Seen))
	if d.Revoked != 0 {
		text = words.S("Put out %s.", present.DayAndTime(d.Revoked))
	}
	if d.This {
		text = words.S("This device. %s", text)
	}
	return text
}

func (r *deviceRow) ways() app.UI {
	d := r.Device
	switch {
	case r.Devices.Rename == d.ID:
		return widgets.Actions(
			&widgets.TextField{ID: "device-name", Act: "device-name", Label: "New name", Value: r.Devices.Text, OnInput: onDeviceName},
			&widgets.BigButton{Act: "device-rename-save", Label: "Save the name", Disabled: r.Devices.Busy, OnPress: post(state.RenameSaved{})},
			&widgets.BigButton{Act: "device-rename-leave", Label: "Keep the old one", OnPress: post(state.RenameBegun{})})
	case r.Devices.Confirm == d.ID && !d.This:
		return widgets.Actions(
			app.P().Text(words.Text("It gets nothing new and can send nothing. What is on it stays on it. A lost phone: put it out.")),
			&widgets.BigButton{Act: "device-revoke-yes", Label: words.S("Yes, put “%s” out", d.Name), Kind: widgets.Danger, Disabled: r.Devices.Busy, OnPress: post(state.Revoked{ID: d.ID})},
			&widgets.BigButton{Act: "device-revoke-no", Label: "Leave it in", OnPress: post(state.RevokeAsked{})})
	}
	return app.Div().Class("pairs").Body(
		&widgets.BigButton{Act: "device-rename-" + d.ID, Label: "Rename", OnPress: post(state.RenameBegun{ID: d.ID})},
		app.If(!d.This, func() app.UI {
			return &widgets.BigButton{Act: "device-revoke-" + d.ID, Label: "Put out", OnPress: post(state.RevokeAsked{ID: d.ID})}
		}))
}

func onDeviceName(ctx app.Context, text string) { action.Post(ctx, state.RenameTyped{Text: text}) }
