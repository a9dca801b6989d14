package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"torchside/storage/server"
	"torchside/storage/vault"
)

// firstShop is what the shop made at the first start is called.
const firstShop = "My shop"

// ownerRequest is something only the owner may ask, at the machine itself. The running server
// answers it for the command line, as only one program can hold the vault.
type ownerRequest struct {
	Do     string `json:"do"`               // one of the names in owner.do
	Shop   string `json:"shop,omitempty"`   // name or id; "" for the only one
	Name   string `json:"name,omitempty"`   // a new name, or the file of a backup
	Device string `json:"device,omitempty"` // name or id
	Days   int    `json:"days,omitempty"`   // that history is kept; 0 for ever
}

// ownerReply is the answer; of the fields only those are set that were asked for.
type ownerReply struct {
	Shop    vault.Shop         `json:"shop"`
	Devices []vault.Device     `json:"devices,omitempty"`
	Audit   []vault.AuditEntry `json:"audit,omitempty"`
	Code    string             `json:"code,omitempty"`
	Ends    time.Time          `json:"ends"`
	Origin  string             `json:"origin,omitempty"` // where a phone finds the app, if a server runs
	Stats   []vault.ShopStats  `json:"stats,omitempty"`
	Trimmed vault.Trimmed      `json:"trimmed"`
}

// auditShown is how many entries of the audit log are shown.
const auditShown = 200

// owner answers for the owner from an open vault.
type owner struct {
	vault  vault.Vault
	origin string // "" when no server runs
	now    func() time.Time
}

// do answers one request.
func (o owner) do(ctx context.Context, q ownerRequest) (ownerReply, error) {
	switch q.Do {
	case "shops":
		stats, err := o.vault.Stats(ctx)
		return ownerReply{Stats: stats.Shops}, err
	case "add shop":
		return o.addShop(ctx, q.Name)
	case "backup":
		return ownerReply{}, backupOf(ctx, o.vault, q.Name, o.now())
	}
	shop, err := o.shop(ctx, q.Shop)
	if err != nil {
		return ownerReply{}, err
	}
	r := ownerReply{Shop: shop}
	switch q.Do {
	case "rename shop":
		r.Shop.Name = q.Name
		err = o.noted(ctx, o.vault.RenameShop(ctx, shop.ID, q.Name), shop.ID, "shop renamed", q.Name)
	case "pair":
		r.Origin = o.origin
		r.Code, r.Ends, err = server.IssueCode(ctx, o.vault, shop.ID, "", o.now())
	case "devices":
		r.Devices, err = o.vault.Devices(ctx, shop.ID)
	case "rename device", "revoke device":
		err = o.changeDevice(ctx, shop, q)
	case "history", "keep history", "trim history":
		err = o.doHistory(ctx, q, &r)
	case "audit":
		r.Audit, err = o.auditLog(ctx, shop.ID)
	default:
		err = fmt.Errorf("%q is nothing an owner can ask", q.Do)
	}
	return r, err
}

func (o owner) addShop(ctx context.Context, name string) (ownerReply, error) {
	shop, err := o.vault.CreateShop(ctx, name, o.now())
	if err != nil {
		return ownerReply{}, err
	}
	return ownerReply{Shop: shop}, o.noted(ctx, nil, shop.ID, "shop made", name)
}

func (o owner) changeDevice(ctx context.Context, shop vault.Shop, q ownerRequest) error {
	d, err := o.device(ctx, shop, q.Device)
	if err != nil {
		return err
	}
	if q.Do == "revoke device" {
		return o.noted(ctx, o.vault.RevokeDevice(ctx, shop.ID, d.ID, o.now()), shop.ID, "device revoked", string(d.ID))
	}
	return o.noted(ctx, o.vault.RenameDevice(ctx, shop.ID, d.ID, q.Name), shop.ID, "device renamed", string(d.ID)+" to "+q.Name)
}

// noted writes a change into the audit log if it was made. The error says what was done and what not.
func (o owner) noted(ctx context.Context, change error, shop vault.ShopID, event, detail string) error {
	if change != nil {
		return change
	}
	if err := o.vault.Audit(ctx, vault.AuditEntry{At: o.now(), Shop: shop, Event: event, Detail: detail}.Cut()); err != nil {
		return fmt.Errorf("done (%s), but it could not be written into the audit log: %w", event, err)
	}
	return nil
}

// auditLog gives the newest entries of a shop and of what belongs to none, as wrong codes: nobody
// knows which shop they were meant for.
func (o owner) auditLog(ctx context.Context, shop vault.ShopID) ([]vault.AuditEntry, error) {
	own, err := o.vault.AuditLog(ctx, shop, auditShown)
	if err != nil {
		return nil, err
	}
	none, err := o.vault.AuditLog(ctx, "", auditShown)
	if err != nil {
		return nil, err
	}
	all := append(own, none...)
	slices.SortStableFunc(all, func(a, b vault.AuditEntry) int { return b.At.Compare(a.At) })
	return all[:min(auditShown, len(all))], nil
}

// shop finds a shop by name or id.
func (o owner) shop(ctx context.Context, wanted string) (vault.Shop, error) {
	shops, err := o.vault.Shops(ctx)
	if err != nil {
		return vault.Shop{}, err
	}
	var names []string
	for _, s := range shops {
		if wanted == s.Name || wanted == string(s.ID) || wanted == "" && len(shops) == 1 {
			return s, nil
		}
		names = append(names, fmt.Sprintf("%q", s.Name))
	}
	switch {
	case len(shops) == 0:
		return vault.Shop{}, errors.New(`there is no shop yet: start the server once, or make one with "torchside shop add NAME"`)
	case wanted == "":
		return vault.Shop{}, fmt.Errorf("there are %d shops, say which with --shop: %s", len(shops), strings.Join(names, ", "))
	}
	return vault.Shop{}, fmt.Errorf("there is no shop %q, only %s", wanted, strings.Join(names, ", "))
}

// device finds a device of a shop by id, or by name if only one that is let in has it.
func (o owner) device(ctx context.Context, shop vault.Shop, wanted string) (vault.Device, error) {
	all, err := o.vault.Devices(ctx, shop.ID)
	if err != nil {
		return vault.Device{}, err
	}
	var found []vault.Device
	for _, d := range all {
		if string(d.ID) == wanted {
			return d, nil
		}
		if d.Name == wanted && d.Revoked.IsZero() {
			found = append(found, d)
		}
	}
	switch len(found) {
	case 0:
		return vault.Device{}, fmt.Errorf("shop %q has no device %q: \"torchside devices\" lists them", shop.Name, wanted)
	case 1:
		return found[0], nil
	}
	return vault.Device{}, fmt.Errorf("shop %q has %d devices named %q: say which by its id, which \"torchside devices\" lists", shop.Name, len(found), wanted)
}
