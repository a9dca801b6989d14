package server

import (
	"context"
	"net/http"
	"strings"
	"time"

	"rsc.io/qr"

	"torchside/storage/vault"
	"torchside/storage/wire"
)

// makeCode gives a device of the shop a code for one more.
func (s *Server) makeCode(w http.ResponseWriter, r *http.Request, who caller, _ []string) error {
	if err := s.pace(s.codesFor, string(who.device.Shop)); err != nil {
		return err
	}
	code, ends, err := IssueCode(r.Context(), s.vault, who.device.Shop, who.device.ID, s.now())
	if err != nil {
		return err
	}
	link := JoinLink(origin(r), code)
	rows, err := qrRows(link)
	if err != nil {
		return err
	}
	return writeJSON(w, r, http.StatusOK, wire.CodeReply{Code: code, Expires: ends.UnixMilli(), Link: link, QR: rows})
}

// JoinLink opens the app at an origin ("https://host:port") with a code.
func JoinLink(origin, code string) string { return origin + "/#" + wire.JoinFragment + code }

// origin is where the browser has the app from: what it says itself, if that is this host, as a
// proxy may stand between that speaks TLS for us.
func origin(r *http.Request) string {
	for _, scheme := range []string{"https://", "http://"} {
		if said := r.Header.Get("Origin"); said == scheme+r.Host {
			return said
		}
	}
	if r.TLS != nil {
		return "https://" + r.Host
	}
	return "http://" + r.Host
}

// qrRows draws a QR code as rows of 1 (dark) and 0.
func qrRows(text string) ([]string, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil, err
	}
	rows := make([]string, code.Size)
	for y := range rows {
		row := make([]byte, code.Size)
		for x := range row {
			row[x] = '0'
			if code.Black(x, y) {
				row[x] = '1'
			}
		}
		rows[y] = string(row)
	}
	return rows, nil
}

// listDevices gives all devices of the shop.
func (s *Server) listDevices(w http.ResponseWriter, r *http.Request, who caller, _ []string) error {
	shop, err := s.shop(r.Context(), who.device.Shop)
	if err != nil {
		return err
	}
	all, err := s.vault.Devices(r.Context(), who.device.Shop)
	if err != nil {
		return err
	}
	list := wire.DeviceList{Shop: shop, Devices: make([]wire.Device, 0, len(all))}
	for _, d := range all {
		list.Devices = append(list.Devices, deviceOut(d, who.device.ID))
	}
	return writeJSON(w, r, http.StatusOK, list)
}

// renameDevice gives a device of the shop another name.
func (s *Server) renameDevice(w http.ResponseWriter, r *http.Request, who caller, params []string) error {
	var q wire.DeviceName
	if err := readJSON(w, r, maxSmall, &q); err != nil {
		return err
	}
	id, name := vault.DeviceID(params[0]), strings.TrimSpace(q.Name)
	if err := s.vault.RenameDevice(r.Context(), who.device.Shop, id, name); err != nil {
		return err
	}
	s.audit(r, who, "device renamed", params[0]+" to "+name)
	return s.listAfter(w, r, who, "The device has the new name")
}

// revokeDevice puts a device out of the shop, also the one that asks.
func (s *Server) revokeDevice(w http.ResponseWriter, r *http.Request, who caller, params []string) error {
	if err := s.vault.RevokeDevice(r.Context(), who.device.Shop, vault.DeviceID(params[0]), s.now()); err != nil {
		return err
	}
	s.metrics.add("device", "revoked", 1)
	s.audit(r, who, "device revoked", params[0])
	return s.listAfter(w, r, who, "The device was put out of the shop")
}

// listAfter answers a change that was made with the list. If that cannot be read, the change is
// told all the same.
func (s *Server) listAfter(w http.ResponseWriter, r *http.Request, who caller, done string) error {
	err := s.listDevices(w, r, who, nil)
	if err == nil {
		return nil
	}
	return refuse(problemOf(err).body.Code, done+", but the list of devices could not be read.", "Open the list again.").because(err)
}

// shop names a shop.
func (s *Server) shop(ctx context.Context, id vault.ShopID) (wire.Shop, error) {
	all, err := s.vault.Shops(ctx)
	if err != nil {
		return wire.Shop{}, err
	}
	for _, shop := range all {
		if shop.ID == id {
			return wire.Shop{ID: string(id), Name: shop.Name}, nil
		}
	}
	return wire.Shop{}, vault.ErrNoShop
}

func deviceOut(d vault.Device, this vault.DeviceID) wire.Device {
	return wire.Device{
		ID: string(d.ID), Name: d.Name, Added: milli(d.Added), Seen: milli(d.Seen), Revoked: milli(d.Revoked), This: d.ID == this,
	}
}

// milli is a time as the protocol writes it; nought for none.
func milli(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMilli()
}
