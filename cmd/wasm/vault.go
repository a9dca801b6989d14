//go:build js

package main

import (
	"context"
	"errors"
	"strings"
	"syscall/js"
	"time"

	"torchside/pwa/effects"
	"torchside/pwa/site"
	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/remote"
	"torchside/storage/replicate"
	"torchside/storage/wire"
)

// vault reaches the server this page came from.
type vault struct {
	engine *replicate.Engine // of the last run; it keeps the beginning of a photo that was cut off
	of     engineOf
	window string // a name for this window, random
}

// engineOf is what an engine was made for.
type engineOf struct {
	store storage.Replica
	token string
}

var _ effects.Vault = (*vault)(nil)

func client(l effects.Link) *remote.Client { return remote.New(site.Vault(), l.Token) }

// Join shows a code.
func (*vault) Join(ctx context.Context, code, name string) (effects.Link, error) {
	r, err := remote.Pair(ctx, site.Vault(), code, name)
	if err != nil {
		return effects.Link{}, said(err)
	}
	return effects.Link{Linked: state.Linked{Shop: r.Shop.Name, ID: r.Device.ID, Name: r.Device.Name}, Token: r.Token}, nil
}

// Sync is one run of the engine; only one is under way at a time.
func (v *vault) Sync(ctx context.Context, l effects.Link, s storage.Replica, photos bool, progress func(state.SyncOutcome)) (state.SyncOutcome, error) {
	if want := (engineOf{s, l.Token}); v.of != want {
		meta, err := s.Meta(ctx)
		if err != nil {
			return state.SyncOutcome{}, err
		}
		if meta.Dev == "" {
			meta.Dev = storage.ID(l.ID) // nothing was written here yet
		}
		v.of, v.engine = want, replicate.New(s, client(l), replicate.Options{
			Dev: meta.Dev, Fields: state.MergesByField, Now: time.Now,
			Progress: func(p replicate.Progress) { progress(outcome(replicate.Outcome{Progress: p})) },
		})
	}
	o, err := v.engine.Run(ctx, photos)
	return outcome(o), said(err)
}

func outcome(o replicate.Outcome) state.SyncOutcome {
	return state.SyncOutcome{
		Counted: o.Counted, Sent: o.Sent, Got: o.Got, Waiting: o.Waiting, Photos: o.Photos, AllPhotos: o.AllPhotos, Left: o.Left, Later: o.Later, Forgot: o.Forgot,
		Refused: o.Refused, Reasons: o.Reasons, Merged: o.Merged, Damaged: o.Damaged, Replaced: o.Replaced, AheadMs: o.Ahead.Milliseconds(),
	}
}

// Invite makes a code for one more device.
func (*vault) Invite(ctx context.Context, l effects.Link) (state.Invite, error) {
	c, err := client(l).MakeCode(ctx)
	return state.Invite{Code: c.Code, Expires: c.Expires, Link: c.Link, QR: c.QR}, said(err)
}

// Devices lists the shop's devices.
func (*vault) Devices(ctx context.Context, l effects.Link) ([]state.Device, string, error) {
	return devices(client(l).Devices(ctx))
}

// Rename gives one another name.
func (*vault) Rename(ctx context.Context, l effects.Link, id, name string) ([]state.Device, string, error) {
	return devices(client(l).RenameDevice(ctx, id, name))
}

// Revoke puts one out.
func (*vault) Revoke(ctx context.Context, l effects.Link, id string) ([]state.Device, string, error) {
	return devices(client(l).RevokeDevice(ctx, id))
}

func devices(list wire.DeviceList, err error) ([]state.Device, string, error) {
	all := make([]state.Device, 0, len(list.Devices))
	for _, d := range list.Devices {
		all = append(all, state.Device(d))
	}
	return all, list.Shop.Name, said(err)
}

// said gives what the server answered in the words of the state.
func said(err error) error {
	var answer *wire.Error
	if errors.As(err, &answer) {
		return &state.VaultError{Code: string(answer.Code), Text: answer.Message, Do: answer.Do}
	}
	return err
}

// Free goes by what the browser tells of the connection, where it tells anything (Network Information API).
func (*vault) Free() (free, known bool) {
	c := js.Global().Get("navigator").Get("connection")
	if !c.Truthy() {
		return false, false
	}
	if c.Get("saveData").Truthy() {
		return false, true
	}
	switch kind := c.Get("type"); {
	case kind.Type() != js.TypeString:
		return false, false
	default:
		return kind.String() == "wifi" || kind.String() == "ethernet", true
	}
}

// DeviceName goes by what the browser calls itself.
func (*vault) DeviceName() string {
	agent := js.Global().Get("navigator").Get("userAgent").String()
	switch {
	case strings.Contains(agent, "iPad"):
		return "Tablet"
	case strings.Contains(agent, "Mobi"):
		return "Phone"
	case strings.Contains(agent, "Android"):
		return "Tablet"
	}
	return "Computer"
}
