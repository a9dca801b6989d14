package state

import (
	"strings"

	"torchside/calc/words"
)

// Messages of joining a shop and of its devices.
type (
	// JoinLinked brings the code an address came with, and what kind of device this is, to begin its name with.
	JoinLinked struct{ Code string }
	// DeviceNamed is a word for this kind of device, as "Phone", until the owner types a name.
	DeviceNamed struct{ Name string }
	// JoinTyped is a text typed into "code" or "name".
	JoinTyped struct{ Field, Text string }
	// JoinRequested joins with what is typed.
	JoinRequested struct{}
	// Joined answers it.
	Joined struct {
		Linked Linked
		Err    error
	}
	// LeaveRequested leaves the shop: the second time, after Devices.Confirm holds this device.
	LeaveRequested struct{}
	// Left answers it; Err is why the server could not be told.
	Left struct{ Err error }
	// InviteRequested asks for a code for one more device, InvitePutAway hides it.
	InviteRequested struct{}
	InvitePutAway   struct{}
	// Invited answers it.
	Invited struct {
		Invite Invite
		Err    error
	}
	// DevicesAsked asks for the list.
	DevicesAsked struct{}
	// DevicesRead brings it, also after a change of it.
	DevicesRead struct {
		List []Device
		Shop string
		Err  error
	}
	// RenameBegun opens the name of a device, RenameTyped is its text, RenameSaved sends it; an empty id closes it.
	RenameBegun struct{ ID string }
	RenameTyped struct{ Text string }
	RenameSaved struct{}
	// RevokeAsked asks whether a device is really to be put out; an empty id takes that back. Revoked does it.
	RevokeAsked struct{ ID string }
	Revoked     struct{ ID string }
)

func (JoinLinked) msg()      {}
func (DeviceNamed) msg()     {}
func (JoinTyped) msg()       {}
func (JoinRequested) msg()   {}
func (Joined) msg()          {}
func (LeaveRequested) msg()  {}
func (Left) msg()            {}
func (InviteRequested) msg() {}
func (InvitePutAway) msg()   {}
func (Invited) msg()         {}
func (DevicesAsked) msg()    {}
func (DevicesRead) msg()     {}
func (RenameBegun) msg()     {}
func (RenameTyped) msg()     {}
func (RenameSaved) msg()     {}
func (RevokeAsked) msg()     {}
func (Revoked) msg()         {}

type (
	// JoinShop shows a code to the server; answered with Joined.
	JoinShop struct{ Code, Name string }
	// LeaveShop tells the server, if it can be reached, and forgets the place; answered with Left.
	LeaveShop struct{ ID string }
	// MakeInvite is answered with Invited.
	MakeInvite struct{}
	// AskDevices reads the list, RenameDevice and RevokeDevice change it; all are answered with DevicesRead.
	AskDevices   struct{}
	RenameDevice struct{ ID, Name string }
	RevokeDevice struct{ ID string }
)

func (JoinShop) effect()     {}
func (LeaveShop) effect()    {}
func (MakeInvite) effect()   {}
func (AskDevices) effect()   {}
func (RenameDevice) effect() {}
func (RevokeDevice) effect() {}

// codeDigits is how long a code is.
const codeDigits = 8

// maxDeviceName is the longest name of a device, in letters.
const maxDeviceName = 60

func reduceJoin(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case JoinLinked:
		a.Sync.Join.Code, a.Sync.Join.Scanned, a.Sync.Join.Error = m.Code, true, ""
		return a, nil, true
	case DeviceNamed:
		if a.Sync.Join.Name == "" {
			a.Sync.Join.Name = m.Name
		}
		return a, nil, true
	case JoinTyped:
		return a.joinTyped(m), nil, true
	case JoinRequested:
		return did(a.joinRequested())
	case Joined:
		return did(a.joined(m))
	case LeaveRequested:
		return did(a.leaveRequested())
	case Left:
		return a.left(m), nil, true
	}
	return reduceDevices(a, m)
}

func (a App) joinTyped(m JoinTyped) App {
	j := &a.Sync.Join
	j.Error = ""
	switch m.Field {
	case "code":
		j.Code, j.Scanned = m.Text, false
	case "name":
		j.Name = m.Text
	}
	return a
}

// joinRequested checks what is typed before the server is asked: every wrong code counts there.
func (a App) joinRequested() (App, []Effect) {
	j := &a.Sync.Join
	if j.Busy || a.Sync.Linked.Paired() {
		return a, nil
	}
	code, name := digits(j.Code), strings.TrimSpace(j.Name)
	switch {
	case len(code) != codeDigits:
		j.Error = words.S("Code: “%s” was read; needed: eight digits, as the server or another device shows them.", shorten(j.Code))
	case name == "":
		j.Error = "Name of this device: nothing was read; needed: a word to know it by, as “Phone, left pocket”."
	case len([]rune(name)) > maxDeviceName:
		j.Error = words.S("Name of this device: “%s” is too long; allowed: up to 60 letters, so that it fits a list.", shorten(name))
	default:
		j.Busy, j.Error = true, ""
		return a, []Effect{JoinShop{Code: code, Name: name}}
	}
	return a, nil
}

// digits drops the blanks and hyphens of a typed code; "" when anything else stands in it.
func digits(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r >= '0' && r <= '9':
			b.WriteRune(r)
		case r != ' ' && r != '-' && r != '\u00a0':
			return ""
		}
	}
	return b.String()
}

func (a App) joined(m Joined) (App, []Effect) {
	a.Sync.Join.Busy = false
	if m.Err != nil {
		a.Sync.Join.Error = vaultReason(m.Err)
		return a, nil
	}
	a.Sync = Sync{Linked: m.Linked, Known: true, Waiting: a.Sync.Waiting, Report: words.S("This device has joined “%s”.", m.Linked.Shop)}
	a, effects := a.withoutNotice(NoticeOut).syncNow(false)
	a.Sync.Devices.Busy = true
	return a, append(effects, AskDevices{}, ShowTop{})
}

// leaveRequested asks first; the second time it leaves.
func (a App) leaveRequested() (App, []Effect) {
	id := a.Sync.Linked.ID
	if id == "" {
		return a, nil
	}
	if a.Sync.Devices.Confirm != id {
		a.Sync.Devices.Confirm = id
		return a, nil
	}
	a.Sync.Devices.Busy = true
	return a, []Effect{LeaveShop{ID: id}}
}

func (a App) left(m Left) App {
	text := words.S("This device has left “%s”. Everything stays on it.", a.Sync.Linked.Shop)
	if m.Err != nil && !isOut(m.Err) {
		text += words.T(" The server could not be told: put this device out from another one, under Devices and sync.")
	}
	name := a.Sync.Linked.Name
	a.Sync = Sync{Known: true, Waiting: a.Sync.Waiting, Report: text, Join: JoinForm{Name: name}}
	return a.withoutNotice(NoticeOut)
}

func reduceDevices(a App, m Msg) (App, []Effect, bool) {
	d := &a.Sync.Devices
	switch m := m.(type) {
	case DevicesAsked:
		return did(a.devicesWanted(AskDevices{}))
	case DevicesRead:
		return a.devicesRead(m), nil, true
	case RenameBegun:
		d.Rename, d.Text, d.Error, d.Confirm = m.ID, a.deviceName(m.ID), "", ""
		return a, nil, true
	case RenameTyped:
		d.Text = m.Text
		return a, nil, true
	case RenameSaved:
		return did(a.renamed())
	case RevokeAsked:
		d.Confirm, d.Error = m.ID, ""
		return a, nil, true
	case Revoked:
		d.Confirm = ""
		return did(a.devicesWanted(RevokeDevice(m)))
	case InviteRequested:
		return did(a.devicesWanted(MakeInvite{}))
	case InvitePutAway:
		a.Sync.Invite = nil
		return a, nil, true
	case Invited:
		return a.invited(m), nil, true
	}
	return a, nil, false
}

// devicesWanted asks the server for something to do with devices, if there is one.
func (a App) devicesWanted(e Effect) (App, []Effect) {
	if !a.Sync.Linked.Paired() || a.Sync.Out {
		return a, nil
	}
	a.Sync.Devices.Busy, a.Sync.Devices.Error = true, ""
	return a, []Effect{e}
}

func (a App) devicesRead(m DevicesRead) App {
	d := &a.Sync.Devices
	d.Busy = false
	if m.Err != nil {
		d.Error = vaultReason(m.Err)
		return a
	}
	d.List, d.Error, d.Rename = m.List, "", ""
	if a.Sync.Linked.Paired() && m.Shop != "" {
		a.Sync.Linked.Shop = m.Shop
	}
	for _, one := range m.List {
		if one.This {
			a.Sync.Linked.Name = one.Name
		}
	}
	return a
}

func (a App) deviceName(id string) string {
	for _, one := range a.Sync.Devices.List {
		if one.ID == id {
			return one.Name
		}
	}
	return ""
}

func (a App) renamed() (App, []Effect) {
	d := &a.Sync.Devices
	name := strings.TrimSpace(d.Text)
	if name == "" || len([]rune(name)) > maxDeviceName {
		d.Error = words.S("Name: “%s” was read; needed: 1 to 60 letters, so that it fits a list.", shorten(d.Text))
		return a, nil
	}
	return a.devicesWanted(RenameDevice{ID: d.Rename, Name: name})
}

func (a App) invited(m Invited) App {
	a.Sync.Devices.Busy = false
	if m.Err != nil {
		a.Sync.Devices.Error = vaultReason(m.Err)
		return a
	}
	a.Sync.Invite = &m.Invite
	return a
}
